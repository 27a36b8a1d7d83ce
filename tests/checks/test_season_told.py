"""What a season's problems and hints say, from rows that are put into a plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from handbook.checks.season import goal_out_of_reach, goal_too_late, passage_away_too_long
from handbook.domain.season import Law, Mix
from handbook.domain.season_mends import MendKind
from handbook.plan.model import LawRow, MendRow, Plan, Visit
from handbook.schema.music import Passage
from tests.plan.planning import planned

RETURN = frozenset({Law.RETURN})


@cache
def base() -> Plan:
    with TemporaryDirectory() as folder:
        return planned(Path(folder)).plan


def told(windows: Sequence[tuple[int, int]], mends: Sequence[MendRow] | None) -> tuple[str, str]:
    """Give message and hint where the opening of Lantern Band's piece is away in these windows.

    Lantern Band rehearses on Mondays and Wednesdays, from Mon 2026-10-19 on.
    """
    (cycle,) = base().cycles
    lantern = cycle.ensembles[0]
    assert lantern.season is not None
    piece, passage = lantern.pieces[0].item, lantern.pieces[0].passages[0].item
    unmet = [LawRow(Law.RETURN, 1, first, last, piece, passage) for first, last in windows]
    season = replace(
        lantern.season, unmet=tuple(unmet), mends=None if mends is None else tuple(mends)
    )
    plan = replace(lantern, season=season)
    ensembles = (plan, *cycle.ensembles[1:])
    (problem,) = passage_away_too_long(
        replace(base(), cycles=(replace(cycle, ensembles=ensembles),))
    )
    return problem.message, problem.hint or ""


@pytest.mark.parametrize(
    ("windows", "when"),
    [
        ([(4, 4)], "on Mon 2026-11-02"),
        ([(0, 2)], "from Mon 2026-10-19 to Mon 2026-10-26"),
        # Windows that share a rehearsal are one time, in whatever order they come.
        ([(3, 4), (0, 2), (2, 3)], "from Mon 2026-10-19 to Mon 2026-11-02"),
        # Of several times the longest is told.
        ([(0, 1), (2, 4)], "from Mon 2026-10-26 to Mon 2026-11-02"),
        ([(0, 2), (4, 5)], "from Mon 2026-10-19 to Mon 2026-10-26"),
    ],
)
def test_the_longest_time_away_is_told(windows: list[tuple[int, int]], when: str) -> None:
    message, hint = told(windows, None)
    assert message.endswith(f": `opening` (not {when})")
    assert hint == ""


def opening_with(
    law: Law, windows: Sequence[tuple[int, int, int]], visits: tuple[Visit, ...]
) -> Plan:
    """Put a law's rows (lack, first, last) and visits to the opening of Lantern Band's piece."""
    (cycle,) = base().cycles
    lantern = cycle.ensembles[0]
    assert lantern.season is not None
    piece = lantern.pieces[0]
    opening = replace(piece.passages[0], visits=visits)
    rows = tuple(LawRow(law, *window, piece.item, opening.item) for window in windows)
    changed = replace(piece, passages=(opening, *piece.passages[1:]))
    plan = replace(lantern, pieces=(changed,), season=replace(lantern.season, unmet=rows))
    return replace(base(), cycles=(replace(cycle, ensembles=(plan, *cycle.ensembles[1:])),))


def visits() -> tuple[Visit, ...]:
    """Give the visits to the opening, of which the last are at the goal."""
    return base().cycles[0].ensembles[0].pieces[0].passages[0].visits


@pytest.mark.parametrize(
    ("due", "place", "words"),
    [
        (4, None, "not played in `build` by Mon 2026-11-02"),
        (4, 4, "not played in `build` by Mon 2026-11-02"),  # at the goal, then not again
        (4, 5, "Wed 2026-11-04, not Mon 2026-11-02"),
        (13, None, "not played in `polish` by Wed 2026-12-09"),
    ],
)
def test_a_late_goal_is_told_by_its_day_and_the_day_it_was_due(
    due: int, place: int | None, words: str
) -> None:
    windows = [(1, 0, last) for last in (1, due, 0)]
    at_goal = () if place is None else (replace(visits()[-1], place=place),)
    (problem,) = goal_too_late(opening_with(Law.SETTLED, windows, at_goal))
    assert problem.message.endswith(f": `opening` ({words})")


@pytest.mark.parametrize(
    ("windows", "seen", "words"),
    [
        ([(3, 0, 9)], (), "0 visits of the 3 it needs"),
        ([(3, 0, 9), (4, 0, 9)], visits()[:1], "1 visit of the 5 it needs: {} in place of quarter = 96"),
        ([(3, 0, 9), (4, 2, 9)], visits()[:2], "2 visits of the 5 it needs: {} in place of quarter = 96"),
        ([(1, 0, 9)], visits()[-1:], "1 visit of the 2 it needs"),  # at the goal, but leaping
        ([(1, 2, 9)], visits()[:1], "not played from Mon 2026-10-26 on"),
    ],
)  # fmt: skip
def test_a_goal_out_of_reach_is_told_by_visits(
    windows: list[tuple[int, int, int]], seen: tuple[Visit, ...], words: str
) -> None:
    (problem,) = goal_out_of_reach(opening_with(Law.GOAL, windows, seen))
    last = seen[-1].rung.tempo.bpm_text if seen else ""
    assert problem.message.endswith(f": `opening` ({words.format(last)})")


def passages() -> tuple[Passage, ...]:
    return tuple(row.item for row in base().cycles[0].ensembles[0].pieces[0].passages)


def mend(kind: MendKind, size: int = 1) -> MendRow:
    """Make a mend of one kind, with all that it may name."""
    stages = base().cycles[0].item.stages
    lowered = passages()[0].model_copy(update={"goal": passages()[1].goal})
    started = lowered.model_copy(update={"start": passages()[0].goal})
    row = MendRow(kind, size, RETURN)
    match kind:
        case MendKind.REHEARSALS:
            return replace(row, stage=stages[0], before=date(2026, 11, 4) if size > 1 else None)
        case MendKind.GOALS:
            return replace(row, passages=(lowered, started)[:size])
        case MendKind.LEAVE_OUT:
            return replace(row, passages=passages())
        case MendKind.MIX:
            mixes = (stages[0], Mix(90, 5, 5)), (stages[1], Mix(100, 0, 0))
            return replace(row, mixes=mixes)
    return row


NONE_ENOUGH = (
    "no one small change was found to be enough: take more minutes of music (`minutes` of the "
    "stages, smaller `slots`), more rehearsals (`extra`), lower goals and fewer passages together"
)
MINUTES = "of music in each rehearsal, from its fundamentals (`minutes` of the stages)"


@pytest.mark.parametrize(
    ("kind", "size", "words"),
    [
        (MendKind.MUSIC, 1, f"1 more minute {MINUTES}"),
        (MendKind.MUSIC, 3, f"3 more minutes {MINUTES}"),
        (MendKind.REHEARSALS, 1, "1 more rehearsal in `build` (`extra`)"),
        (MendKind.REHEARSALS, 2, "2 more rehearsals in `build` before Wed 2026-11-04 (`extra`)"),
        (MendKind.GOALS, 1, "`goal: dotted quarter = 80` for `opening`"),
        (MendKind.GOALS, 2, "`goal: dotted quarter = 80` for `opening` together with `goal: dotted quarter = 80` and `start: quarter = 96` for `opening`"),
        (MendKind.LEAVE_OUT, 2, "leaving out `opening` and `chase`"),
        (MendKind.MIX, 1, "fewer joins and runs (`music: {passages: 90, joins: 5, runs: 5}` in `build`, `music: {passages: 100, joins: 0, runs: 0}` in `polish`)"),
    ],
)  # fmt: skip
def test_each_mend_is_told_by_the_field_that_makes_it(
    kind: MendKind, size: int, words: str
) -> None:
    assert told([(0, 2)], [mend(kind, size)])[1] == f"this mends it: {words}"


def test_mends_are_told_in_their_order_and_none_if_none_is_enough() -> None:
    window = base().cycles[0].ensembles[0].season
    assert window is not None
    both = told([(0, 2)], [mend(MendKind.WINDOW, 2), mend(MendKind.MUSIC)])[1]
    assert both == (
        f"any one of these mends it: `return_within: {window.window + 2}`; 1 more minute {MINUTES}"
    )
    assert told([(0, 2)], [])[1] == NONE_ENOUGH
    assert told([(0, 2)], [replace(mend(MendKind.MUSIC), keeps=frozenset())])[1] == NONE_ENOUGH


def test_a_mend_that_keeps_every_law_goes_before_one_that_keeps_this_alone() -> None:
    whole = replace(mend(MendKind.MUSIC, 3), keeps=frozenset(Law))
    assert (
        told([(0, 2)], [mend(MendKind.MUSIC), whole])[1]
        == f"this mends it: 3 more minutes {MINUTES}"
    )


def test_mends_that_were_told_of_a_weightier_law_are_not_told_again() -> None:
    keeps_both = replace(mend(MendKind.MUSIC), keeps=frozenset({Law.SETTLED, Law.RETURN}))
    assert hint_beside(keeps_both) == "what mends goal-too-late mends this too"
    keeps_one = replace(mend(MendKind.MUSIC), keeps=frozenset({Law.RETURN}))
    assert hint_beside(keeps_one).startswith("this mends it: ")


def hint_beside(row: MendRow) -> str:
    """Give the hint of a passage that is away too long, and late at its goal as well."""
    plan = opening_with(Law.RETURN, [(1, 0, 2)], visits())
    (cycle,) = plan.cycles
    lantern = cycle.ensembles[0]
    assert lantern.season is not None
    away = lantern.season.unmet[0]
    unmet = (replace(away, law=Law.SETTLED), away)
    season = replace(lantern.season, unmet=unmet, mends=(row,))
    ensembles = (replace(lantern, season=season), *cycle.ensembles[1:])
    changed = replace(plan, cycles=(replace(cycle, ensembles=ensembles),))
    (problem,) = passage_away_too_long(changed)
    return problem.hint or ""
