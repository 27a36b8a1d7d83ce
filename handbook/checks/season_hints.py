"""The mends of a season in words, with the field of the content that makes each."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks.wording import day
from handbook.domain.season import Law, Mix
from handbook.domain.season_mends import MendKind
from handbook.plan.model import EnsemblePlan, MendRow, SeasonRow
from handbook.schema.music import Passage
from handbook.source.names import listed

_CODES = {
    Law.COVERAGE: "measures-unplayed",
    Law.GOAL: "goal-out-of-reach",
    Law.SETTLED: "goal-too-late",
    Law.RETURN: "passage-away-too-long",
}


def mends_hint(ensemble: EnsemblePlan, law: Law) -> str:
    """Name each mend that is enough by itself, the cheapest first.

    Where a weightier law has been told with the same mends, they are not told again. Gives
    nothing if mends were not looked for.
    """
    season = ensemble.season
    if season is None or season.mends is None:
        return ""
    mends = _mends(season, law)
    if not mends:
        return (
            "no one small change was found to be enough: take more minutes of music (`minutes` "
            "of the stages, smaller `slots`), more rehearsals (`extra`), lower goals and fewer "
            "passages together"
        )
    for before in sorted({row.law for row in season.unmet if row.law < law}):
        if _mends(season, before) == mends:
            return f"what mends {_CODES[before]} mends this too"
    told = "; ".join(_told(ensemble, season, mend) for mend in mends)
    return f"this mends it: {told}" if len(mends) == 1 else f"any one of these mends it: {told}"


def _mends(season: SeasonRow, law: Law) -> tuple[MendRow, ...]:
    """Give the mends that keep every law, or else those that keep this one."""
    found = season.mends or ()
    whole = tuple(mend for mend in found if mend.keeps == frozenset(Law))
    return whole or tuple(mend for mend in found if law in mend.keeps)


def _told(ensemble: EnsemblePlan, season: SeasonRow, mend: MendRow) -> str:
    size = mend.size
    match mend.kind:
        case MendKind.WINDOW:
            return f"`return_within: {season.window + size}`"
        case MendKind.MUSIC:
            minutes = "1 more minute" if size == 1 else f"{size} more minutes"
            return f"{minutes} of music in each rehearsal, from its fundamentals (`minutes` of the stages)"
        case MendKind.REHEARSALS:
            rehearsals = "1 more rehearsal" if size == 1 else f"{size} more rehearsals"
            stage = mend.stage.id if mend.stage else ""
            before = f" before {day(mend.before)}" if mend.before else ""
            return f"{rehearsals} in `{stage}`{before} (`extra`)"
        case MendKind.GOALS:
            return " together with ".join(_lowered(ensemble, passage) for passage in mend.passages)
        case MendKind.LEAVE_OUT:
            return f"leaving out {listed(passage.id for passage in mend.passages)}"
        case MendKind.MIX:
            mixes = ", ".join(_mix(stage.id, mix) for stage, mix in mend.mixes)
            return f"fewer joins and runs ({mixes})"


def _lowered(ensemble: EnsemblePlan, passage: Passage) -> str:
    """Tell a lower goal, and the start that keeps the first tempo as it is, where none is stated."""
    goal = f"`goal: {passage.goal}`"
    if passage.start and passage.start not in set(_starts(ensemble, passage.id)):
        goal += f" and `start: {passage.start}`"
    return f"{goal} for `{passage.id}`"


def _starts(ensemble: EnsemblePlan, passage: str) -> Iterator[object]:
    for piece in ensemble.pieces:
        for row in piece.passages:
            if row.item.id == passage:
                yield row.item.start


def _mix(stage: str, mix: Mix) -> str:
    return (
        f"`music: {{passages: {mix.passages}, joins: {mix.joins}, runs: {mix.runs}}}` in `{stage}`"
    )
