"""What the content would say after a single change, for the mends of a season that lacks hours."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import TypeVar

from handbook.domain.day_kinds import DayKind
from handbook.domain.ladders import first_tempo, visits_needed
from handbook.domain.season import Law, Mix, SeasonNeed
from handbook.domain.season_mends import Change, Mend, MendKind, season_mends
from handbook.domain.stages import StageSplitError
from handbook.domain.values.tempo import Tempo
from handbook.plan.model import MendRow, PassageRow, PieceRow, StageSpan
from handbook.plan.season import SeasonPlan
from handbook.plan.season_need import Past, passage_pace, season_music, season_need, stage_mix
from handbook.plan.stages import stage_spans
from handbook.plan.steering import NO_WISH, DayPlan, PassageKey
from handbook.records import dataclass
from handbook.schema.base import Item
from handbook.schema.cycle import Cycle, MusicMix
from handbook.schema.music import Passage

ItemT = TypeVar("ItemT", bound=Item)
ValueT = TypeVar("ValueT")

_LEAST_GOAL = Fraction(3, 4)  # of a goal; a lower one is another piece: our own choice
_MOST_GOALS = 4  # passages; lower goals for more of them are no small change: our own choice


@dataclass(frozen=True, slots=True)
class SeasonContent:
    """What a season is planned from; `spare` are the minutes that each rehearsal could give to music.

    The other values are those of `season_plan`.
    """

    cycle: Cycle
    spans: Sequence[StageSpan]
    pieces: Sequence[PieceRow]
    days: Sequence[DayPlan]
    minutes: Sequence[int]
    dates: Sequence[date]
    spare: Sequence[int]
    gap: Fraction = Fraction(0)
    past: Past | None = None

    @property
    def held(self) -> int:
        """How many rehearsals have been."""
        return len(self.past.blocks) if self.past else 0

    def need(self) -> SeasonNeed:
        """Give what the season needs."""
        need, _ = season_need(
            self.cycle,
            self.spans,
            season_music(self.pieces),
            self.days,
            self.minutes,
            self.dates,
            gap=self.gap,
            past=self.past,
        )
        return need


def mends_of(content: SeasonContent, plan: SeasonPlan) -> tuple[MendRow, ...]:
    """Find what would restore the laws that gave way; nothing where none did.

    Each change is made to the content itself, so that all that follows from it (stages,
    visits, dates of goals, returns) is reckoned anew. What is past stays as it was.
    """
    changes = _Changes(content, plan)
    found = season_mends(plan.need, plan.season, changes.need)
    return tuple(changes.row(mend) for mend in found)


class _Changes:
    """Makes each kind of change to the content of one season."""

    def __init__(self, content: SeasonContent, plan: SeasonPlan) -> None:
        self.content, self.plan = content, plan
        self.lacking: dict[PassageKey, tuple[int, int]] = {}
        for unmet in plan.season.unmet:
            if unmet.passage is not None and unmet.law in {Law.GOAL, Law.SETTLED}:
                key = plan.passages[unmet.passage]
                least, most = self.lacking.get(key, (unmet.lack, unmet.lack))
                self.lacking[key] = (min(least, unmet.lack), max(most, unmet.lack))

    def need(self, change: Change) -> SeasonNeed | None:
        changed = self._changed(change)
        return changed.need() if changed else None

    def row(self, mend: Mend) -> MendRow:
        """Tell a mend by the names of the music."""
        change = mend.change
        row = MendRow(change.kind, change.size, mend.keeps)
        if change.stage is not None:
            return replace(
                row,
                stage=self.content.cycle.stages[change.stage],
                before=self.content.dates[self._latest(change.stage)],
            )
        if change.kind is MendKind.GOALS:
            return replace(row, passages=tuple((self._lowered(change.size) or {}).values()))
        if change.kind is MendKind.LEAVE_OUT:
            out = self._least_urgent(change.size)
            rows = {key: row.item for key, row in _by_key(self.content.pieces).items()}
            return replace(row, passages=tuple(rows[key] for key in out))
        if change.kind is MendKind.MIX:
            mixes = self._mixes(change.size)
            stages = [span.item for span in self.content.spans]
            return replace(row, mixes=tuple(zip(stages, mixes, strict=True)))
        return row

    def _changed(self, change: Change) -> SeasonContent | None:
        content, size = self.content, change.size
        if change.kind is MendKind.WINDOW:
            window = self.plan.need.window + size
            return replace(content, cycle=_with(content.cycle, return_within=window))
        if change.kind is MendKind.MUSIC:
            return self._more_music(size)
        if change.kind is MendKind.REHEARSALS:
            return self._more_rehearsals(change.stage or 0, size)
        if change.kind is MendKind.GOALS:
            lowered = self._lowered(size)
            return replace(content, pieces=_replaced(content.pieces, lowered)) if lowered else None
        if change.kind is MendKind.LEAVE_OUT:
            out = self._least_urgent(size)
            without: Mapping[PassageKey, Passage | None] = dict.fromkeys(out)
            return replace(content, pieces=_replaced(content.pieces, without)) if out else None
        return self._with_mixes(self._mixes(size))

    def _more_music(self, size: int) -> SeasonContent | None:
        given = [
            min(size, spare) if minutes else 0
            for minutes, spare in zip(self.content.minutes, self.content.spare, strict=True)
        ]
        if max(given, default=0) < size:
            return None
        minutes = [sum(pair) for pair in zip(self.content.minutes, given, strict=True)]
        return replace(self.content, minutes=minutes)

    def _more_rehearsals(self, stage: int, size: int) -> SeasonContent | None:
        """Add rehearsals of the usual length before the latest one that helps, and split the stages anew."""
        content = self.content
        usual = [
            minutes
            for day, minutes in zip(content.days, content.minutes, strict=True)
            if day.kind is DayKind.ORDINARY and minutes
        ]
        if not usual:
            return None
        length = Counter(usual).most_common(1)[0][0]
        place = self._latest(stage)
        dates = _inserted(content.dates, place, [content.dates[max(0, place - 1)]] * size)
        spans = self._spans_with(stage, size, dates)
        if spans is None or place < content.held:
            return None
        return replace(
            content,
            spans=spans,
            dates=dates,
            days=_inserted(content.days, place, [NO_WISH] * size),
            minutes=_inserted(content.minutes, place, [length] * size),
        )

    def _spans_with(self, stage: int, size: int, dates: Sequence[date]) -> list[StageSpan] | None:
        """Split the stages anew; once a rehearsal has been, the stage only grows."""
        spans = self.content.spans
        if self.content.held:
            return [
                replace(
                    span,
                    first=span.first + (size if span.index > stage else 0),
                    last=span.last + (size if span.index >= stage else 0),
                )
                for span in spans
            ]
        try:
            return list(
                stage_spans(self.content.cycle.stages, dates, spans[0].begins, spans[-1].ends)
            )
        except StageSplitError:
            return None

    def _latest(self, stage: int) -> int:
        """Give the last rehearsal of a stage before which one more is in time for the weightiest lack."""
        span, unmet = self.content.spans[stage], self.plan.season.unmet
        first = min(one.law for one in unmet)
        ends = [
            one.last for one in unmet if one.law is first and span.first <= one.last <= span.last
        ]
        return max(ends, default=span.last)

    def _lowered(self, size: int) -> dict[PassageKey, Passage] | None:
        """Lower the goals of passages that lack visits; the first tempo in class stays.

        Size 1 saves the visits that one law lacks, size 3 at least those that any lacks.
        """
        if not 0 < len(self.lacking) <= _MOST_GOALS:
            return None
        rows = _by_key(self.content.pieces)
        found: dict[PassageKey, Passage] = {}
        for key, (least, most) in self.lacking.items():
            fewer = least + max(most - least, 2) * (size - 1) // 2
            lowered = self._with_lower_goal(rows[key].item, fewer)
            if lowered is None:
                return None
            found[key] = lowered
        return found

    def _with_lower_goal(self, passage: Passage, fewer: int) -> Passage | None:
        pace = passage_pace(self.content.cycle, passage)
        first = first_tempo(pace, self.content.spans[0].item.tempo, passage.start)
        wanted = visits_needed(pace, first) - fewer
        goal, least = passage.goal, max(first, _LEAST_GOAL * passage.goal.bpm)
        while True:
            bpm = pace.marks.floor(goal.bpm - 1)
            if bpm < least:
                return None
            goal = Tempo(goal.beat, bpm)
            if visits_needed(replace(pace, goal=goal), first) <= wanted:
                return _with(passage, goal=goal, start=Tempo(goal.beat, first))

    def _least_urgent(self, size: int) -> list[PassageKey]:
        """Name so many passages, the least urgent first; every piece keeps one. Nothing if there are fewer."""
        left = Counter(piece for piece, _ in self.plan.passages)
        weights = [need.weight for need in self.plan.need.passages]
        found: list[PassageKey] = []
        if self.content.held:  # what has been names passages by their places
            return found
        for _, key in sorted(zip(weights, self.plan.passages, strict=True)):
            if left[key[0]] > 1 and len(found) < size:
                left[key[0]] -= 1
                found.append(key)
        return found if len(found) == size else []

    def _mixes(self, size: int) -> list[Mix]:
        """Give joins and runs half of their share, or none; in percent."""
        spans, mixes = self.content.spans, []
        for span in spans:
            mix = stage_mix(span.item, span.index, len(spans))
            total = mix.passages + mix.joins + mix.runs
            joins, runs = (
                share * 100 // (2 * total) if size == 1 else 0 for share in (mix.joins, mix.runs)
            )
            mixes.append(Mix(100 - joins - runs, joins, runs))
        return mixes

    def _with_mixes(self, mixes: Sequence[Mix]) -> SeasonContent:
        spans = [
            replace(
                span,
                item=_with(
                    span.item,
                    music=_shares(mix),
                ),
            )
            for span, mix in zip(self.content.spans, mixes, strict=True)
        ]
        return replace(self.content, spans=spans)


def _by_key(pieces: Sequence[PieceRow]) -> dict[PassageKey, PassageRow]:
    return {
        (piece.item.id, passage.item.id): passage for piece in pieces for passage in piece.passages
    }


def _replaced(
    pieces: Sequence[PieceRow], passages: Mapping[PassageKey, Passage | None]
) -> list[PieceRow]:
    """Put other passages in the place of those named; None leaves one out."""
    found = []
    for piece in pieces:
        rows = [
            (row, passages.get((piece.item.id, row.item.id), row.item)) for row in piece.passages
        ]
        kept = tuple(replace(row, item=item) for row, item in rows if item is not None)
        found.append(replace(piece, passages=kept))
    return found


def _inserted(values: Sequence[ValueT], place: int, more: Sequence[ValueT]) -> list[ValueT]:
    return [*values[:place], *more, *values[place:]]


def _with(item: ItemT, **fields: object) -> ItemT:
    """Give a copy of an item with some fields changed; the values are of the fields' own types."""
    return item.model_copy(update=fields)


def _shares(mix: Mix) -> MusicMix:
    """Write shares as an item; made without reading, since items are read from text."""
    return MusicMix.model_construct(passages=mix.passages, joins=mix.joins, runs=mix.runs)
