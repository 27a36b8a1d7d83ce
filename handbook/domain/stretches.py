"""Joins and runs of a piece: which measures they play, which passages they hold, how long they take."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from math import ceil

from handbook.domain.season import MusicKind
from handbook.domain.values.measures import MeasureSpan
from handbook.records import dataclass

USUAL_TALK = 25  # percent of its playing time that a run takes for stops and words: our own choice
_MINUTE, _ALL = 60, 100  # seconds; percent


@dataclass(frozen=True, slots=True)
class PieceStretch:
    """A join or run of one piece: measures, both included, and indices of its passages and gaps.

    `seconds` is the playing time at the goal tempos, not rounded.
    """

    kind: MusicKind
    measures: MeasureSpan
    passages: tuple[int, ...]
    gaps: tuple[int, ...]
    seconds: float


def gaps(form: Sequence[MeasureSpan], passages: Sequence[MeasureSpan]) -> tuple[MeasureSpan, ...]:
    """List the measures of the form that no passage names, joined where they follow each other."""
    named = {measure for span in passages for measure in range(span.first, span.last + 1)}
    measures = sorted(
        {measure for span in form for measure in range(span.first, span.last + 1)} - named
    )
    found: list[MeasureSpan] = []
    for measure in measures:
        if found and found[-1].last + 1 == measure:
            found[-1] = MeasureSpan(found[-1].first, measure)
        else:
            found.append(MeasureSpan(measure, measure))
    return tuple(found)


def piece_stretches(
    form: Sequence[tuple[MeasureSpan, float]], passages: Sequence[MeasureSpan]
) -> tuple[PieceStretch, ...]:
    """Lay out the run of a piece and the joins of its neighbors.

    `form` has each part's measures with the seconds it takes, all times included. Passages
    are neighbors in the order of their first measures; the first join begins where the
    piece does, the last one ends where it ends, so that the joins together play every
    measure. A piece of one passage has no join: its run is that.
    """
    spans = [span for span, _ in form]
    whole = MeasureSpan(min(span.first for span in spans), max(span.last for span in spans))
    between = gaps(spans, passages)
    order = sorted(range(len(passages)), key=lambda place: (passages[place], place))
    joins = list(pairwise(order))
    run = PieceStretch(
        MusicKind.RUN,
        whole,
        tuple(order),
        tuple(range(len(between))),
        sum(seconds for _, seconds in form),
    )
    found = [run]
    for turn, (one, other) in enumerate(joins):
        first = whole.first if turn == 0 else passages[one].first
        last = passages[other].last if turn < len(joins) - 1 else whole.last
        span = MeasureSpan(first, max(first, last, passages[one].last))
        found.append(
            PieceStretch(
                MusicKind.JOIN,
                span,
                tuple(
                    place
                    for place in order
                    if span.first <= passages[place].first and passages[place].last <= span.last
                ),
                tuple(
                    place
                    for place, gap in enumerate(between)
                    if span.first <= gap.first and gap.last <= span.last
                ),
                _seconds_within(form, span),
            )
        )
    return tuple(found)


@lru_cache(maxsize=4096)  # each trial of a mend asks for all of them again
def stretch_minutes(seconds: float, percent: Fraction, talk: int) -> int:
    """Give the whole minutes, rounded up, of playing at a percent of the goal, with talk.

    `talk` is percent of the playing time. At least one minute.
    """
    exact = Fraction(seconds) * _ALL / percent * (_ALL + talk) / (_ALL * _MINUTE)
    return max(1, ceil(round(exact, 6)))


def _seconds_within(form: Sequence[tuple[MeasureSpan, float]], span: MeasureSpan) -> float:
    """Share each part's seconds by measures: near enough where its tempo moves."""
    return sum(
        seconds * _common(part, span) / part.count for part, seconds in form if part.overlaps(span)
    )


def _common(one: MeasureSpan, other: MeasureSpan) -> int:
    return min(one.last, other.last) - max(one.first, other.first) + 1
