"""From shares and pins to each stage's rehearsals and dates, and each rehearsal's purpose."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise

from handbook.domain.apportion import at_least_one
from handbook.domain.stages import StageShare, StageSplitError, StageSplitFault, split_stages
from handbook.domain.values.text import Text
from handbook.plan.model import StageSpan
from handbook.problems import Address, Code, Problem
from handbook.schema.cycle import Stage

STAGE_STARTS_OUTSIDE_CYCLE = Code(
    "stage-starts-outside-cycle",
    "A stage starts on a date with no rehearsal before it, or none after it.",
    bad="starts: 2026-10-19\nstages:\n  - {id: decode}\n  - {id: build, starts: 2025-11-02}",
    good="starts: 2026-10-19\nstages:\n  - {id: decode}\n  - {id: build, starts: 2026-11-02}",
)
FEWER_REHEARSALS_THAN_STAGES = Code(
    "fewer-rehearsals-than-stages",
    "A cycle has more stages than an ensemble has rehearsals.",
    "Every stage needs at least one rehearsal.",
    bad="starts: 2026-12-07\nends: 2026-12-10   # two rehearsals, three stages",
    good="starts: 2026-10-19\nends: 2026-12-10",
)
STAGE_STARTS_OUT_OF_ORDER = Code(
    "stage-starts-out-of-order",
    "A stage starts on a date no later than the stage before it.",
    bad="stages:\n  - {id: decode}\n  - {id: build, starts: 2026-11-09}\n  - {id: polish, starts: 2026-11-02}",
    good="stages:\n  - {id: decode}\n  - {id: build, starts: 2026-11-02}\n  - {id: polish, starts: 2026-11-09}",
)
STAGE_WITHOUT_REHEARSALS = Code(
    "stage-without-rehearsals",
    "A stage has no rehearsal between the dates around it.",
    bad="stages:\n  - {id: decode}\n  - {id: build, starts: 2026-11-02}\n  - {id: polish, starts: 2026-11-03}",
    good="stages:\n  - {id: decode}\n  - {id: build, starts: 2026-11-02}\n  - {id: polish, starts: 2026-11-16}",
)

_ONE_DAY = timedelta(days=1)
_STOPS, _WIDE_STOPS = frozenset(".!?:…؟۔"), frozenset("。！？")
_CLOSING = "\"'”’»)]*_ "  # what may stand behind a stop: quotes, brackets, marks of emphasis

_TELL: dict[StageSplitFault, tuple[str, str, str]] = {
    StageSplitFault.TOO_FEW_REHEARSALS: (
        FEWER_REHEARSALS_THAN_STAGES,
        "`{ensemble}` has {count} in this cycle, fewer than its {stages} stages",
        "lengthen the cycle, or take out a stage",
    ),
    StageSplitFault.PIN_OUT_OF_ORDER: (
        STAGE_STARTS_OUT_OF_ORDER,
        "this stage starts no later than the stage before it",
        "put the dates under starts in the order of the stages",
    ),
    StageSplitFault.PIN_LEAVES_STAGE_EMPTY: (
        STAGE_WITHOUT_REHEARSALS,
        "this stage would have no rehearsal of `{ensemble}`",
        "leave more days before the next date under starts",
    ),
    StageSplitFault.PIN_OUTSIDE: (
        STAGE_STARTS_OUTSIDE_CYCLE,
        "no rehearsal of `{ensemble}` lies on both sides of this date",
        "choose a date between the first and the last rehearsal",
    ),
}


def stage_spans(
    stages: Sequence[Stage], days: Sequence[date], first: date, last: date
) -> tuple[StageSpan, ...]:
    """Split rehearsals on `days` over the stages of a cycle from `first` to `last`.

    Raises StageSplitError if they cannot be split.
    """
    counts = split_stages(
        days, [StageShare(Fraction(stage.share), stage.starts) for stage in stages]
    )
    return _spans(stages, counts, days, first, last)


def held_spans(
    before: Sequence[StageSpan], days: Sequence[date], held: int, last: date
) -> tuple[StageSpan, ...]:
    """Split rehearsals anew when some are lost or won, after the first `held` of them.

    Those keep their stages; the others keep the dates on which their stages begin, so that a
    lost day shortens its own stage alone. Where that would leave a stage without any, the
    days ahead are shared among the stages ahead as they stood. Raises StageSplitError if
    there are fewer than stages.
    """
    past = [span.index for span in before for _ in range(span.count)][:held]
    current = past[-1] if past else 0
    by_date = [
        max([current, *(span.index for span in before if span.begins <= day)])
        for day in days[held:]
    ]
    counts = [(past + by_date).count(span.index) for span in before]
    if not all(counts):
        begun = past.count(current)
        weights = [
            max(0, before[current].count - begun),
            *(one.count for one in before[current + 1 :]),
        ]
        rest = len(days) - held
        must = weights if not begun else weights[1:]  # one that has been begun may end here
        if rest < len(must):
            raise StageSplitError(StageSplitFault.TOO_FEW_REHEARSALS, len(days))
        going_on = weights[0] and rest >= len(weights)
        shares = at_least_one(rest, weights) if going_on else (0, *at_least_one(rest, weights[1:]))
        counts = [past.count(span.index) for span in before]
        for place, share in enumerate(shares):
            counts[current + place] += share
    return _spans([span.item for span in before], counts, days, before[0].begins, last)


def _spans(
    stages: Sequence[Stage], counts: Sequence[int], days: Sequence[date], first: date, last: date
) -> tuple[StageSpan, ...]:
    """Date the stages: each ends on the day before the next begins, or with its last rehearsal."""
    starts = [sum(counts[:index]) for index in range(len(counts))]
    begins = [first, *(days[start] for start in starts[1:])]
    ends = [
        *(
            max(begin - _ONE_DAY, days[start - 1])
            for begin, start in zip(begins[1:], starts[1:], strict=True)
        ),
        last,
    ]
    return tuple(
        StageSpan(
            stage,
            index,
            starts[index],
            starts[index] + counts[index] - 1,
            begins[index],
            ends[index],
        )
        for index, stage in enumerate(stages)
    )


def split_problem(
    error: StageSplitError, address: Address, ensemble: str, count: int, stages: int
) -> Problem:
    """Say why rehearsals cannot be split; `address` is the cycle's."""
    code, sentence, hint = _TELL[error.kind]
    field = (
        ("starts",)
        if error.kind in {StageSplitFault.PIN_OUT_OF_ORDER, StageSplitFault.PIN_OUTSIDE}
        else ()
    )
    place = (
        ("stages",)
        if error.kind is StageSplitFault.TOO_FEW_REHEARSALS
        else ("stages", error.stage, *field)
    )
    return Problem(
        code,
        sentence.format(ensemble=ensemble, count=_rehearsals(count), stages=stages),
        (*address, *place),
        hint,
    )


def _rehearsals(count: int) -> str:
    return f"{count} rehearsal" if count == 1 else f"{count} rehearsals"


def purposes(span: StageSpan) -> tuple[Text, ...]:
    """Spread a stage's goals over its rehearsals in order, each goal at least once."""
    goals, count = span.item.goals, span.count
    if count >= len(goals):
        return tuple(goals[place * len(goals) // count] for place in range(count))
    return tuple(
        _together(goals[place * len(goals) // count : (place + 1) * len(goals) // count])
        for place in range(count)
    )


def _together(goals: Sequence[Text]) -> Text:
    """Join goals that share a rehearsal, in every language that the first one has."""
    return Text(
        tuple((code, joined([goal.read(code) for goal in goals])) for code in goals[0].languages)
    )


def joined(texts: Sequence[str]) -> str:
    """Put texts one after another: behind a whole sentence with a space, behind a phrase with a semicolon.

    A full stop of full width, as in Chinese, brings its own space.
    """
    parts = list(texts[:1])
    for before, text in pairwise(texts):
        end = before.rstrip(_CLOSING)[-1:]
        parts += ["" if end in _WIDE_STOPS else " " if end in _STOPS else "; ", text]
    return "".join(parts)
