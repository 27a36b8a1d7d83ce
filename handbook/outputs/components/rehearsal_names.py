"""What pages call a rehearsal: its anchor, and what it is where it is not like any other."""

from __future__ import annotations

from collections import Counter

from handbook.domain.day_kinds import DayKind
from handbook.plan.model import EnsemblePlan, RehearsalRow

KIND_NAMES = {
    DayKind.ORDINARY: "",
    DayKind.DRESS: "Dress rehearsal",
    DayKind.SECTIONAL: "Sectionals",
    DayKind.SIGHT_READING: "Sight-reading",
    DayKind.ASSEMBLY: "Assembly",
    DayKind.EVENT: "Event",
}


def anchors(ensemble: EnsemblePlan) -> tuple[str, ...]:
    """Give each rehearsal its anchor on the ensemble's page: its date, with `-2` for a second one.

    A date stays where it is when another day is lost; a number would not.
    """
    seen: Counter[str] = Counter()
    found = []
    for row in ensemble.rehearsals:
        day = row.rehearsal.day.isoformat()
        seen[day] += 1
        found.append(day if seen[day] == 1 else f"{day}-{seen[day]}")
    return tuple(found)


def what_it_is(row: RehearsalRow) -> str:
    """Say what a rehearsal is beside a rehearsal: its name, and its kind if the name leaves it out."""
    name, kind = row.rehearsal.name, KIND_NAMES[row.day_plan.kind]
    if not kind or _says(name, row.day_plan.kind):
        return name
    return f"{name}: {kind.lower()}" if name else kind


def _says(name: str, kind: DayKind) -> bool:
    """Whether a name already tells the kind, such as `Evening sectionals`."""
    return kind.value.replace("-", " ") in name.lower().replace("-", " ")
