"""Whom the opening thanks of each rehearsal go to: as it is stated, else in turn.

For the director alone: what is suggested here is on no page, in no fact and in no calendar.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache

from handbook.domain.minutes import BlockKind
from handbook.domain.opening_thanks import thanked_in, thanks_in_turn
from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import INSTRUMENTS
from handbook.domain.tables.sections import CALLED_ALIKE, SECTIONS, section_of
from handbook.domain.values.text import Text
from handbook.plan.model import EnsemblePlan, Plan, RehearsalRow
from handbook.plan.parts import takes_part
from handbook.records import dataclass
from handbook.schema.program import Program, ThankedRole

EVERYONE = "everyone"
"""What thanks may name where they are for the whole band, and count for nobody."""
_ENGLISH = "en"


@dataclass(frozen=True, slots=True)
class Thanked:
    """Someone whose turn comes: a section of the band with its `instruments`, or a `role`."""

    id: str
    instruments: tuple[str, ...] = ()
    role: ThankedRole | None = None

    @property
    def called(self) -> str:
        """The id that its name goes by: a lone string bass is no "strings"."""
        alone = len(self.instruments) == 1 and self.id not in CALLED_ALIKE
        return self.instruments[0] if alone else self.id


@dataclass(frozen=True, slots=True)
class ThanksRow:
    """Whom a rehearsal (its place, from 0) thanks; none for everyone.

    `stated` is False where they are only suggested; `held` says that a log told it afterward.
    Where the notices have no minutes nobody is suggested.
    """

    place: int
    whom: tuple[Thanked, ...]
    stated: bool
    held: bool = False


@dataclass(frozen=True, slots=True)
class ThanksPlan:
    """The turns of an ensemble's cycle: all `whom` they may come to, and one row a rehearsal."""

    whom: tuple[Thanked, ...]
    rows: tuple[ThanksRow, ...]

    @property
    def counts(self) -> Mapping[str, int]:
        """How often each is thanked in the cycle, by their ids, in order."""
        found = Counter(one.id for row in self.rows for one in row.whom)
        return {one.id: found[one.id] for one in self.whom}


def opening_thanks(plan: Plan) -> Mapping[tuple[str, str], ThanksPlan]:
    """Reckon the turns of all ensembles, by the ids of their cycle and their own.

    Counts are those of a cycle; who had fewer in earlier ones of the school year comes first.
    """
    found: dict[tuple[str, str], ThanksPlan] = {}
    before: dict[tuple[str, str], Counter[str]] = {}
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            had = before.setdefault((cycle.item.year, ensemble.item.id), Counter())
            turns = _turns(plan, ensemble, had)
            had.update(turns.counts)
            found[cycle.id, ensemble.item.id] = turns
    return found


def nameable(program: Program) -> frozenset[str]:
    """Give the ids that thanks may name beside those of known instruments."""
    own = (one for ensemble in program.ensembles for one in ensemble.instruments)
    return frozenset([EVERYONE, *own, *FAMILIES, *SECTIONS, *(one.id for one in program.thank)])


def _turns(plan: Plan, ensemble: EnsemblePlan, before: Mapping[str, int]) -> ThanksPlan:
    whom = tuple(_whom(plan.program, ensemble))
    by_id = {one.id: one for one in whom}
    told = [_told(plan, ensemble, row, whom) for row in ensemble.rehearsals]
    wanted = [
        () if those is None and not _has_notices(row) else those
        for row, (those, _) in zip(ensemble.rehearsals, told, strict=True)
    ]
    chosen = thanks_in_turn(list(by_id), wanted, before)
    rows = tuple(
        ThanksRow(
            row.place,
            tuple(by_id[one] for one in ([suggested] if suggested else those or ())),
            stated=those is not None,
            held=held,
        )
        for row, (those, held), suggested in zip(ensemble.rehearsals, told, chosen, strict=True)
    )
    return ThanksPlan(whom, rows)


def _whom(program: Program, ensemble: EnsemblePlan) -> Iterator[Thanked]:
    """Give the sections of a band in score order, its unknown instruments each by itself, then the roles."""
    sections: dict[str, list[str]] = {name: [] for name in SECTIONS}
    for name in ensemble.item.instruments:
        row = program.instrument(name)
        sections.setdefault(section_of(row.id) if row else name, []).append(name)
    for section, names in sections.items():
        if names:
            yield Thanked(section, tuple(names))
    for role in program.thank:
        if not role.ensembles or ensemble.band in role.ensembles:
            yield Thanked(role.id, role=role)


def _told(
    plan: Plan, ensemble: EnsemblePlan, row: RehearsalRow, whom: Sequence[Thanked]
) -> tuple[tuple[str, ...] | None, bool]:
    """Say whom a rehearsal thanks by the log, else by its entries, None for nothing said; and whether a log said it."""
    logged = next((log.item.thanked for log in row.logs if log.item.thanked), ())
    if logged:
        return tuple(_meant(plan.program, logged, whom)), True
    stated = next((one.item.thanks_to for one in row.entries if one.item.thanks_to), ())
    meant = tuple(_meant(plan.program, stated, whom))
    if meant or EVERYONE in stated:
        return meant, False
    if row.thanks is None:  # also where an entry for all bands is about players of others
        return None, False
    named = () if stated else thanked_in(_in_english(plan, row.thanks), _names(plan, ensemble))
    return tuple(_meant(plan.program, named, whom)), False


def _in_english(plan: Plan, text: Text) -> str:
    """Give the English words, none if there are none: other languages put names into other forms."""
    given = {code or plan.languages[0]: words for code, words in text.versions}
    return given.get(_ENGLISH, "")


def _meant(program: Program, ids: Iterable[str], whom: Sequence[Thanked]) -> Iterator[str]:
    """Give those of a band that ids stand for: the sections with an instrument of each, and roles."""
    wanted = set(ids)
    for one in whom if wanted else ():
        if one.id in wanted or (
            not one.role
            and any(
                takes_part(name, program.instrument(name), tuple(wanted))
                for name in one.instruments
            )
        ):
            yield one.id


def _has_notices(row: RehearsalRow) -> bool:
    return any(block.kind == BlockKind.NOTICES for block in row.blocks)


def _names(plan: Plan, ensemble: EnsemblePlan) -> Mapping[str, tuple[str, ...]]:
    """Map each id that a sentence may thank to the words by which it does."""
    families = {*FAMILIES, *SECTIONS}
    own = {name: _spoken(name) for name in ensemble.item.instruments if name not in families}
    roles = {one.id: (one.name.removeprefix("the "), one.id) for one in plan.program.thank}
    return {**_names_of_tables(), **own, **roles}


@cache
def _names_of_tables() -> Mapping[str, tuple[str, ...]]:
    groups = {name: (name, f"{name} section") for name in (*FAMILIES, *SECTIONS)}
    rows = {
        row.id: tuple(one for name in (row.name, *row.aliases) for one in _spoken(name))
        for row in INSTRUMENTS
        if row.id not in groups
    }
    return {**rows, **groups}


def _spoken(name: str) -> tuple[str, ...]:
    """Give the words for all who play an instrument; one alone may be a thing that was carried."""
    several = f"{name}es" if name.endswith("s") else f"{name}s"
    return several, f"{name} section", f"{name} players"
