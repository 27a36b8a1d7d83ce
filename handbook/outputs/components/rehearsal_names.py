"""What pages call a rehearsal: its anchor, and what it is where it is not like any other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import time

from handbook.domain.day_kinds import DayKind
from handbook.domain.meetings import RehearsalKind
from handbook.domain.rehearsals import MissedDay
from handbook.outputs.html.formatting import short_day
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import clock_time
from handbook.outputs.page import Context
from handbook.plan.model import EnsemblePlan, RehearsalRow


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


def what_it_is(context: Context, row: RehearsalRow) -> str:
    """Say what a rehearsal is beside a rehearsal.

    That is its name, its kind if the name leaves it out, and what it was moved from or makes up for.
    """
    name, moved, lost = (
        name_and_kind(context, row),
        row.rehearsal.instead_of,
        row.rehearsal.make_up_for,
    )
    if moved and name:
        return gettext("%(rehearsal)s, moved from %(day)s", rehearsal=name, day=short_day(moved))
    if moved:
        return gettext("Moved from %(day)s", day=short_day(moved))
    if lost and name:
        return gettext("%(rehearsal)s, makes up for %(day)s", rehearsal=name, day=short_day(lost))
    if lost:
        return gettext("Makes up for %(day)s", day=short_day(lost))
    return name


def name_and_kind(context: Context, row: RehearsalRow) -> str:
    """Give its name, and its kind if the name leaves it out."""
    name, kind = context.say(row.rehearsal.name), row.day_plan.kind
    said = kind_name(kind)
    if not said or _says(name, kind, said):
        return name
    return _name_with_kind(name, kind) if name else said


def kind_name(kind: DayKind) -> str:
    """Name a kind of rehearsal; empty for one like any other."""
    match kind:
        case DayKind.ORDINARY:
            return ""
        case DayKind.DRESS:
            return pgettext("kind of rehearsal", "Dress rehearsal")
        case DayKind.SECTIONAL:
            return pgettext("kind of rehearsal", "Sectionals")
        case DayKind.SIGHT_READING:
            return pgettext("kind of rehearsal", "Sight-reading")
        case DayKind.ASSEMBLY:
            return pgettext("kind of rehearsal", "Assembly")
        case DayKind.EVENT:
            return pgettext("kind of rehearsal", "Event")


def _name_with_kind(name: str, kind: DayKind) -> str:
    # Translators: a rehearsal's own name, and behind it what kind of rehearsal it is.
    match kind:
        case DayKind.ORDINARY:
            return name
        case DayKind.DRESS:
            return gettext("%(name)s: dress rehearsal", name=name)
        case DayKind.SECTIONAL:
            return gettext("%(name)s: sectionals", name=name)
        case DayKind.SIGHT_READING:
            return gettext("%(name)s: sight-reading", name=name)
        case DayKind.ASSEMBLY:
            return gettext("%(name)s: assembly", name=name)
        case DayKind.EVENT:
            return gettext("%(name)s: event", name=name)


def makes_up(row: RehearsalRow) -> str:
    """Say what it makes up for, if it does."""
    lost = row.rehearsal.make_up_for
    return gettext("makes up for %(day)s", day=short_day(lost)) if lost else ""


def why_lost(context: Context, missed: MissedDay) -> str:
    """Say why a rehearsal is not held, and when it is held instead or made up."""
    if missed.moved_to:
        return gettext("moved to %(day)s", day=short_day(missed.moved_to))
    why = _reason(context, missed)
    if missed.made_up:
        day = short_day(missed.made_up)
        return gettext("%(reason)s, made up on %(day)s", reason=why, day=day)
    return why


def _reason(context: Context, missed: MissedDay) -> str:
    why, which = context.say(missed.why), missed.which
    if which is None:
        return why
    said = clock_time(which) if isinstance(which, time) else context.say(which)
    return gettext("%(rehearsal)s: %(reason)s", rehearsal=said, reason=why)


def missed_words(context: Context, name: str, missed: MissedDay) -> tuple[str, str] | None:
    """Say of a rehearsal of a band by its name that it is not held, and why or when instead.

    None on days without school, where it goes without saying.
    """
    match missed.cause:
        case "cancelled":
            told = gettext("Cancelled: %(band)s rehearsal", band=name)
        case "event":
            told = gettext("%(band)s: no rehearsal", band=name)
        case "moved":
            told = gettext("Moved: %(band)s rehearsal", band=name)
        case _:
            return None
    if missed.moved_to:
        return told, gettext("now %(day)s", day=short_day(missed.moved_to))
    return told, why_lost(context, missed)


def _says(name: str, kind: DayKind, said: str) -> bool:
    """Whether a name already tells the kind, such as `Evening sectionals`."""
    own = name.lower().replace("-", " ")
    return any(words.lower().replace("-", " ") in own for words in (kind.value, said))
