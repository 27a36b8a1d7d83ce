"""What pages call a rehearsal: its anchor, and what it is where it is not like any other."""

from __future__ import annotations

from collections import Counter

from handbook.domain.day_kinds import DayKind
from handbook.domain.rehearsals import MissedDay
from handbook.outputs.html.formatting import short_day
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
    """Say what a rehearsal is beside a rehearsal.

    That is its name, its kind if the name leaves it out, and what it was moved from or makes up for.
    """
    name, stands = name_and_kind(row), makes_up(row)
    if row.rehearsal.instead_of:
        stands = f"moved from {short_day(row.rehearsal.instead_of)}"
    return f"{name}, {stands}" if name and stands else name or stands[:1].upper() + stands[1:]


def name_and_kind(row: RehearsalRow) -> str:
    """Give its name, and its kind if the name leaves it out."""
    name, kind = row.rehearsal.name, KIND_NAMES[row.day_plan.kind]
    if not kind or _says(name, row.day_plan.kind):
        return name
    return f"{name}: {kind.lower()}" if name else kind


def makes_up(row: RehearsalRow) -> str:
    """Say what it makes up for, if it does."""
    lost = row.rehearsal.make_up_for
    return f"makes up for {short_day(lost)}" if lost else ""


def why_lost(missed: MissedDay) -> str:
    """Say why a rehearsal is not held, and when it is held instead or made up."""
    if missed.moved_to:
        return f"moved to {short_day(missed.moved_to)}"
    made_up = f", made up on {short_day(missed.made_up)}" if missed.made_up else ""
    return f"{missed.why}{made_up}"


def _says(name: str, kind: DayKind) -> bool:
    """Whether a name already tells the kind, such as `Evening sectionals`."""
    return kind.value.replace("-", " ") in name.lower().replace("-", " ")
