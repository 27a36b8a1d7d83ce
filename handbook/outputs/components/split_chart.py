"""How each rehearsal's minutes fall to fundamentals and to music: bars, and the same in numbers.

All lengths are SVG user units; the origin is the top left corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor

from handbook.domain.minutes import BlockKind
from handbook.outputs.components.charts import WIDTH, StageBand, stage_bands
from handbook.outputs.components.stages import StageView
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.records import dataclass

_LEFT, _RIGHT, _NAME, _STAGE, _BARS, _GAP = 30, 14, 16, 18, 52, 14
_THICK = Fraction(7, 10)  # of a bar beside its step
_OTHERS = {BlockKind.SET_UP, BlockKind.WARM_UP, BlockKind.NOTICES, BlockKind.CLOSE}

SplitSource = tuple[str, EnsemblePlan, Sequence[StageView]]
"""An ensemble's name, its plan and its stages."""


@dataclass(frozen=True, slots=True)
class SplitRow:
    """One ensemble: a bar a rehearsal, fundamentals from the bottom up, music on top of them.

    `most` is the minutes of the highest bar.
    """

    name: str
    name_y: float
    top: float
    bottom: float
    bands: tuple[StageBand, ...]
    fundamentals: str
    music: str
    most: int
    most_y: float


@dataclass(frozen=True, slots=True)
class SplitChart:
    """The bars of all ensembles of a cycle, in one scale."""

    width: float
    height: float
    left: float
    right: float
    rows: tuple[SplitRow, ...]


@dataclass(frozen=True, slots=True)
class SplitLine:
    """A stage in numbers: minutes in all, and whole percent of fundamentals."""

    stage: StageView
    fundamentals: int
    music: int
    percent: int


@dataclass(frozen=True, slots=True)
class SplitGroup:
    """The stages of one ensemble."""

    name: str
    lines: tuple[SplitLine, ...]


def minutes_shared(row: RehearsalRow) -> tuple[int, int]:
    """Give a rehearsal's minutes of fundamentals and those of music, of whatever kind."""
    fundamentals = sum(b.minutes for b in row.blocks if b.kind == BlockKind.FUNDAMENTALS)
    others = sum(b.minutes for b in row.blocks if b.kind in _OTHERS)
    return fundamentals, sum(b.minutes for b in row.blocks) - others - fundamentals


def split_groups(sources: Sequence[SplitSource]) -> tuple[SplitGroup, ...]:
    """Sum each stage of each ensemble; percents are rounded to the nearest whole, halves up.

    Where no ensemble has fundamentals there is nothing to compare, and the answer is empty.
    """
    if not any(strand.appearances for _, ensemble, _ in sources for strand in ensemble.strands):
        return ()
    return tuple(
        SplitGroup(
            name,
            tuple(
                _line(stage, ensemble.rehearsals[span.first : span.last + 1])
                for span, stage in zip(ensemble.stages, stages, strict=True)
            ),
        )
        for name, ensemble, stages in sources
    )


def _line(stage: StageView, rows: Sequence[RehearsalRow]) -> SplitLine:
    shared = [minutes_shared(row) for row in rows]
    fundamentals, music = (sum(part) for part in zip(*shared, strict=True))
    total = fundamentals + music
    percent = floor(Fraction(100 * fundamentals, total) + Fraction(1, 2)) if total else 0
    return SplitLine(stage, fundamentals, music, percent)


def split_chart(sources: Sequence[SplitSource]) -> SplitChart:
    """Draw a bar for each rehearsal of each ensemble."""
    most = max((_most(ensemble) for _, ensemble, _ in sources), default=0)
    rows = []
    y = 0
    for name, ensemble, stages in sources:
        rows.append(_row(name, ensemble, stages, y, most))
        y += _NAME + _STAGE + _BARS + _GAP
    return SplitChart(WIDTH, y, _LEFT, WIDTH - _RIGHT, tuple(rows))


def _most(ensemble: EnsemblePlan) -> int:
    return max(sum(minutes_shared(row)) for row in ensemble.rehearsals)


def _row(
    name: str, ensemble: EnsemblePlan, stages: Sequence[StageView], y: float, most: int
) -> SplitRow:
    step = (WIDTH - _LEFT - _RIGHT) / len(ensemble.rehearsals)
    bottom = y + _NAME + _STAGE + _BARS
    scale = _BARS / most if most else 0.0
    fundamentals, music = [], []
    for place, row in enumerate(ensemble.rehearsals):
        x = _LEFT + step * (place + (1 - float(_THICK)) / 2)
        lower, upper = (minutes * scale for minutes in minutes_shared(row))
        fundamentals.append(_bar(x, bottom, step, lower))
        music.append(_bar(x, bottom - lower, step, upper))
    return SplitRow(
        name=name,
        name_y=y + _NAME - 4,
        top=y + _NAME,
        bottom=bottom,
        bands=tuple(stage_bands(ensemble, stages, step)),
        fundamentals="".join(fundamentals),
        music="".join(music),
        most=_most(ensemble),
        most_y=round(bottom - _most(ensemble) * scale + 4, 2),
    )


def _bar(x: float, bottom: float, step: float, height: float) -> str:
    if not height:
        return ""
    width = step * float(_THICK)
    return f"M{x:.2f} {bottom:.2f}v{-height:.2f}h{width:.2f}v{height:.2f}z"
