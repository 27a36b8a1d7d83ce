"""Links to the parts of an ensemble, one for each instrument it counts."""

from __future__ import annotations

from handbook.outputs import addresses
from handbook.outputs.instrument_names import called_alone, instrument_name
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.parts_model import PartPlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class PartLink:
    """A link to a part; `instrument` is its id in the program."""

    instrument: str
    name: str
    path: str


def part_name(part: PartPlan) -> str:
    """Name a part: as the table does, else by its id with spaces."""
    known = part.instrument
    if known is not None and known.id == part.id:
        return instrument_name(known)
    return called_alone(part.id)


def part_links(cycle: CyclePlan, ensemble: EnsemblePlan) -> tuple[PartLink, ...]:
    """List an ensemble's parts in the order the program counts them."""
    return tuple(
        PartLink(part.id, part_name(part), addresses.part(cycle.id, ensemble.item.id, part.id))
        for part in ensemble.parts
    )
