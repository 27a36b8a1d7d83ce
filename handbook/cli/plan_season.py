"""A season in a terminal of 80 columns: what each day plays, how each passage climbs, what gave way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby
from textwrap import wrap

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text as Line

from handbook.domain.day_kinds import DayKind
from handbook.domain.reached import in_beat_of
from handbook.domain.season import Law, MusicKind
from handbook.domain.timing import format_duration
from handbook.plan.logs import ReachedBeside, minutes_over
from handbook.plan.model import (
    BlockRow,
    EnsemblePlan,
    PassageRow,
    PieceRow,
    RehearsalRow,
    SeasonRow,
)
from handbook.plan.season_words import gave_way, unplayed

_WIDTH = 80
_COLUMNS = (
    ("Passage", 20),
    ("Days", 4),
    ("Alone", 5),
    ("Join", 4),
    ("Run", 3),
    ("Climb in class", 22),
    ("At goal", 9),
)  # widths in letters; with a blank of two between them they make 79
_KINDS = {DayKind.DRESS: "dress rehearsal", DayKind.SECTIONAL: "sectionals"}
_NUMBERS = {"Days", "Alone", "Join", "Run"}


def day_lines(row: RehearsalRow, reached: Sequence[ReachedBeside], language: str) -> str:
    """Tell a day's music in the order it comes, a line for each sort, between its kind and its habit.

    Then what is logged of it; tempos that were `reached` stand beside those that were planned.
    """
    kind = row.day_plan.kind
    lines = [] if kind is DayKind.ORDINARY else [_KINDS.get(kind, kind.value)]
    for what, day in (
        ("moved from", row.rehearsal.instead_of),
        ("makes up for", row.rehearsal.make_up_for),
    ):
        if day:
            lines.append(f"{what} {day:%a %b} {day.day}")
    for section in row.day_plan.sections:
        passages = ", ".join(wish.key[1] for wish in section.passages)
        lines.append(f"{section.id}: {passages}" if passages else section.id)
    for sort, blocks in groupby(_music(row), key=_sort):
        said = dict.fromkeys(_said(block, language) for block in blocks)
        lines.append(f"{sort} {', '.join(said)}".lstrip())
    if row.habit:
        lines.append(f"habit {row.habit.id}")
    for one in row.missing:
        who = ", ".join(one.players) or "players"
        also = f" who are in {one.because.id} too" if one.because else ""
        lines.append(f"away at {one.event.item.id}: {who}{also}")
    return "\n".join((*lines, *_logged(row, reached, language)))


def _logged(row: RehearsalRow, reached: Sequence[ReachedBeside], language: str) -> Iterator[str]:
    """Tell what a rehearsal really reached: `reached chase 66 (planned 72)`."""
    tempos = [_beside(one) for one in reached if one.reached]
    if tempos:
        yield f"reached {', '.join(tempos)}"
    if lost := [one.passage.id for one in reached if one.reached is None]:
        yield f"not played {', '.join(lost)}"
    if over := minutes_over(row):
        yield f"{over} {'minute' if over == 1 else 'minutes'} over"
    for log in row.logs:
        if log.item.note:
            first, *more = log.item.note.read(language).splitlines()
            yield from (f"note: {first}", *(f"      {line}".rstrip() for line in more))


def _beside(one: ReachedBeside) -> str:
    """Name a passage with what was reached, and what was planned where that differs."""
    goal = one.passage.goal
    reached, planned = (
        tempo and in_beat_of(goal, tempo).bpm_text for tempo in (one.reached, one.planned)
    )
    if reached == planned:
        return f"{one.passage.id} {reached}"
    return f"{one.passage.id} {reached} ({f'planned {planned}' if planned else 'not planned'})"


def _music(row: RehearsalRow) -> Iterator[BlockRow]:
    return (block for block in row.blocks if block.stretch or (block.passage and block.rung))


def _sort(block: BlockRow) -> str:
    return block.stretch.kind.value if block.stretch else ""


def _said(block: BlockRow, language: str) -> str:
    """Name a passage with its tempo, a run by its piece, a join by its two ends."""
    if block.passage and block.rung:
        return f"{block.passage.id} {block.rung.tempo.bpm_text}"
    if block.stretch is None:
        return ""
    if block.stretch.kind is MusicKind.RUN:
        return block.stretch.piece.title.read(language)
    ids = [passage.id for passage in block.stretch.passages]
    return " + ".join(dict.fromkeys((*ids[:1], *ids[-1:])))


def gave_way_lines(ensemble: EnsemblePlan) -> list[RenderableType]:
    """Tell each law that gave way in a sentence of its own; nothing if the hours suffice."""
    found = gave_way(ensemble)
    if not found:
        return []
    lines: list[RenderableType] = [
        Line("The hours do not suffice for all of it. What gave way:", style="bold")
    ]
    for one in found:
        text = f"- {one.sentence}"
        told = wrap(text, _WIDTH, subsequent_indent="  ", break_on_hyphens=False)
        lines += map(Line, told)
    return [*lines, ""]


def season_parts(ensemble: EnsemblePlan, language: str) -> list[RenderableType]:
    """Draw each passage's climb piece by piece under one head, then what the season keeps; nothing where there is no passage."""
    pieces = [piece for piece in ensemble.pieces if piece.passages]
    if ensemble.season is None or not pieces:
        return []
    parts: list[RenderableType] = ["", _table(show_header=True)]
    for piece in pieces:
        table = _table(show_header=False)
        for passage in piece.passages:
            table.add_row(*map(Line, _row(ensemble, passage)))
        parts += [
            Line(piece.item.title.read(language), style="bold"),
            *_order(piece),
            *_turns(piece),
            table,
            *(
                line
                for passage in piece.passages
                for line in _on_the_way(ensemble, passage, language)
            ),
        ]
    return [*parts, "", *map(Line, _kept(ensemble, ensemble.season))]


def _order(piece: PieceRow) -> list[Line]:
    """Give the order in which a piece is played, where that is stated."""
    if not piece.item.order:
        return []
    told = f"Order: {', '.join(map(str, piece.item.order))}; {format_duration(piece.seconds, about=piece.about)}"
    return [Line(line) for line in wrap(told, _WIDTH, break_on_hyphens=False)]


def _turns(piece: PieceRow) -> list[Line]:
    """Give who plays what in percussion, where that is stated."""
    said = sorted(piece.item.percussion.items())
    if not said:
        return []
    told = "; ".join(f"{number} {', '.join(names) or 'rests'}" for number, names in said)
    return [Line(line) for line in wrap(f"Percussion: {told}", _WIDTH, break_on_hyphens=False)]


def _on_the_way(ensemble: EnsemblePlan, passage: PassageRow, language: str) -> list[Line]:
    """Give the tempos that a passage is at by a date, where they are stated."""
    names = {span.item.id: span.item.name.read(language) for span in ensemble.stages}
    goals = []
    for goal in passage.goals:
        by = (
            f"{goal.by:%b} {goal.by.day}"
            if isinstance(goal.by, date)
            else f"the end of {names.get(goal.by, goal.by)}"
        )
        goals.append(f"{goal.tempo.bpm_text} by {by}")
    return [Line(f"{passage.item.id}: {', '.join(goals)}", style="dim")] if goals else []


def _table(*, show_header: bool) -> Table:
    table = Table(
        box=None, expand=False, pad_edge=False, padding=(0, 2, 0, 0), show_header=show_header
    )
    for name, width in _COLUMNS:
        table.add_column(
            name, width=width, overflow="fold", justify="right" if name in _NUMBERS else "left"
        )
    return table


def _row(ensemble: EnsemblePlan, passage: PassageRow) -> tuple[str, ...]:
    tempos = [text for text, _ in groupby(visit.rung.tempo.bpm_text for visit in passage.visits)]
    counts = [sum(kind in visit.kinds for visit in passage.visits) for kind in MusicKind]
    return (
        passage.item.id,
        str(len(passage.visits)),
        *(str(count) if count else "-" for count in counts),
        " ".join(tempos) or "not played",
        _at_goal(ensemble, passage),
    )


def _at_goal(ensemble: EnsemblePlan, passage: PassageRow) -> str:
    count = len(passage.at_goal)
    if not count:
        return "no"
    first = ensemble.rehearsals[passage.at_goal[0].place].rehearsal.day
    return f"{count}, {first:%b} {first.day}"


def _kept(ensemble: EnsemblePlan, season: SeasonRow) -> Iterator[str]:
    yield "At goal: in how many rehearsals, and the day of the first."
    away = {row.passage.id for row in season.unmet if row.law is Law.RETURN and row.passage}
    but = f", but for {len(away)} of them: see above" if away else ""
    yield f"Every passage comes back within {season.window} rehearsals{but}."
    missing = len(unplayed(ensemble))
    yield (
        f"Measures are left out of a stage in {missing} places: see above."
        if missing
        else "Every measure of every piece is played in each stage."
    )
    alone, joins, runs = (season.minutes.get(kind, 0) for kind in MusicKind)
    yield f"Minutes of music: {alone} passages alone, {joins} joins, {runs} runs."
