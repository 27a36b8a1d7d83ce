"""What pages call a rehearsal: its anchor, and what it is where it is not like any other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from handbook.domain.day_kinds import DayKind
from handbook.domain.meetings import RehearsalKind
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
    """Give each rehearsal its anchor on the ensemble's page, `2026-11-30`; its key ends with it.

    It is made of the day, or of that which a rehearsal stands instead of. An extra one stays
    itself (`-extra`) when class that day is lost; of several a day the second has `-2`.
    """
    rows = ensemble.rehearsals
    names = [_name(row) for row in rows]
    moved = [row.rehearsal.instead_of is not None for row in rows]
    # Of two that are moved from a day, the one listed first took the first one's place.
    order = sorted(range(len(rows)), key=lambda place: (not moved[place], _listed(rows, place)))
    numbered = dict(zip(order, counted([names[place] for place in order]), strict=True))
    return tuple(numbered[place] for place in range(len(rows)))


def anchors_by_place(ensemble: EnsemblePlan) -> tuple[str, ...]:
    """Give the anchors that links once had: the day, with `-2` for the second rehearsal on it."""
    return tuple(counted([f"{row.rehearsal.day}" for row in ensemble.rehearsals]))


def _name(row: RehearsalRow) -> str:
    rehearsal = row.rehearsal
    if rehearsal.instead_of:
        return f"{rehearsal.instead_of}"
    extra = "-extra" if rehearsal.kind is RehearsalKind.EXTRA else ""
    return f"{rehearsal.day}{extra}"


def _listed(rows: Sequence[RehearsalRow], place: int) -> int:
    rehearsal = rows[place].rehearsal
    return place if rehearsal.instead_of is None else rehearsal.index or 0


def counted(names: Sequence[str]) -> list[str]:
    """Give each name its number, from the second of its kind on."""
    seen: Counter[str] = Counter()
    found = []
    for name in names:
        seen[name] += 1
        found.append(name if seen[name] == 1 else f"{name}-{seen[name]}")
    return found


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


def missed_words(name: str, missed: MissedDay) -> tuple[str, str] | None:
    """Say of a rehearsal of a band by its name that it is not held, and why or when instead.

    None on days without school, where it goes without saying.
    """
    told = {
        "cancelled": f"Cancelled: {name} rehearsal",
        "event": f"{name}: no rehearsal",
        "moved": f"Moved: {name} rehearsal",
    }
    if missed.cause not in told:
        return None
    instead = f"now {short_day(missed.moved_to)}" if missed.moved_to else ""
    return told[missed.cause], instead or why_lost(missed)


def _says(name: str, kind: DayKind) -> bool:
    """Whether a name already tells the kind, such as `Evening sectionals`."""
    return kind.value.replace("-", " ") in name.lower().replace("-", " ")
