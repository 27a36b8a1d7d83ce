"""How far each ensemble has come in its fundamentals over all cycles, and where it goes on from there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.plan.agendas import level_to_begin, warm_up_of
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan, StrandRow
from handbook.records import dataclass
from handbook.schema.fundamentals import Strand, WarmUp


@dataclass(frozen=True, slots=True)
class StrandGrowth:
    """A strand of one ensemble: its row in each of the ensemble's cycles, None where it has none.

    `next_level` is where the next cycle of the same school year would begin, `top_level` the last there is.
    """

    item: Strand
    rows: tuple[StrandRow | None, ...]
    next_level: int
    top_level: int


@dataclass(frozen=True, slots=True)
class EnsembleGrowth:
    """An ensemble in all its cycles, in order; `next_warm_up` is that of the next one, if there are warm-ups."""

    cycles: tuple[tuple[CyclePlan, EnsemblePlan], ...]
    strands: tuple[StrandGrowth, ...]
    next_warm_up: WarmUp | None

    @property
    def last(self) -> EnsemblePlan:
        """The ensemble's plan in its last cycle."""
        return self.cycles[-1][1]


def growth(plan: Plan) -> tuple[EnsembleGrowth, ...]:
    """Put together what each ensemble does in its cycles, in the order of their first ones."""
    found: dict[str, list[tuple[CyclePlan, EnsemblePlan]]] = {}
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            found.setdefault(ensemble.item.id, []).append((cycle, ensemble))
    return tuple(_growth(plan, tuple(cycles)) for cycles in found.values())


def _growth(plan: Plan, cycles: tuple[tuple[CyclePlan, EnsemblePlan], ...]) -> EnsembleGrowth:
    last = cycles[-1][1]
    warm_up = warm_up_of(plan.fundamentals.warm_ups, last.reached.cycles)
    return EnsembleGrowth(cycles, tuple(_strands(plan, [one for _, one in cycles])), warm_up)


def _strands(plan: Plan, ensembles: Sequence[EnsemblePlan]) -> Iterator[StrandGrowth]:
    last = ensembles[-1]
    for strand in plan.fundamentals.strands:
        rows = tuple(
            next((row for row in one.strands if row.item.id == strand.id), None)
            for one in ensembles
        )
        if any(rows):
            yield StrandGrowth(
                strand,
                rows,
                level_to_begin(strand, last.item, last.reached),
                max(exercise.level for exercise in strand.exercises),
            )
