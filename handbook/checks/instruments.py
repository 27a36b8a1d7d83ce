"""Instruments that nobody plays, or that nothing is known of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from handbook.checks import traversal
from handbook.checks.check import check, finding, once_a_name
from handbook.checks.wording import known_hint
from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import Instrument, instrument, of_kind
from handbook.domain.values.unreadable import UnreadableError
from handbook.plan.parts import takes_part
from handbook.problems import Address, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.program import is_known, is_same
from handbook.source.names import listed, nearest


@check
@once_a_name
def unknown_instrument(handbook: Handbook) -> Iterator[Problem]:
    """Something is for an instrument or a family that its ensemble does not have.

    Such a line would reach no player. An ensemble's instruments are listed with their
    counts under `instruments` in program.yaml; one that lists none is not checked. A family
    stands for all of its instruments: winds, woodwinds, high-woodwinds, low-woodwinds,
    flutes, clarinets, saxophones, double-reeds, brass, high-brass, low-brass, percussion,
    mallets, unpitched-percussion, strings.

    Bad:

        who: [trombone, bass]

    Good:

        who: [trombone, low-brass]
    """
    known_to: dict[tuple[str, ...], Mapping[str, Instrument | None]] = {}
    for address, names, bands in traversal.who_lists(handbook):
        if bands not in known_to:
            known_to[bands] = _instruments(handbook, bands)
        known = known_to[bands]
        whose = " or ".join(bands) or "the program"
        for place, name in enumerate(names) if known else ():
            at = (*address, place)
            if name in FAMILIES and name not in known:
                if not _played(name, known):
                    yield finding(
                        f"no instrument of {whose} is one of the {name.replace('-', ' ')}",
                        at,
                        f"{whose} has {listed(sorted(known))}",
                    )
            elif not any(name == one or is_same(name, one) for one in known):
                yield _unknown(name, whose, at, known)


def _played(family: str, known: Mapping[str, Instrument | None]) -> bool:
    return any(takes_part(one, row, (family,)) for one, row in known.items())


def _unknown(
    name: str, whose: str, address: Address, known: Mapping[str, Instrument | None]
) -> Problem:
    where = f"to {whose} in program.yaml under instruments"
    near = nearest(name, [*known, *(family for family in FAMILIES if _played(family, known))])
    kind = of_kind(name)
    alike = [one for one, row in known.items() if row is not None and row.id in kind]
    near = tuple(dict.fromkeys((*near[:1], *alike))) if alike else near
    slips = [one for one in near if is_known(name) and one in known and known[one] is None]
    hint = f"did you mean {listed(near, 'or')}?" if near else known_hint(name, known, where)
    if slips:  # the slip is there, where it is only a warning, and not here
        hint = f"program.yaml says {listed(slips)}: write `{name}` there"
    return finding(f"no instrument of {whose} is called `{name}`", address, hint)


def _instruments(handbook: Handbook, bands: tuple[str, ...]) -> dict[str, Instrument | None]:
    """Map the instruments of ensembles, or of all, to what is known of them.

    None if one of them, named, lists none.
    """
    program = handbook.program.item
    found = [one for one in program.ensembles if not bands or one.id in bands]
    if bands and not all(one.instruments for one in found):
        return {}
    return {name: program.instrument(name) for one in found for name in one.instruments}


@check
@once_a_name
def unfamiliar_instrument(handbook: Handbook) -> Iterator[Problem]:
    """Nothing is known of how an instrument's part is written.

    Keys and notes are given as each player reads them; that needs the instrument's
    transposition, which is known for the usual band instruments by their usual names. For
    an instrument of your own naming, say under `reads_like` in program.yaml whose part it
    reads like.

    Bad:

        instruments: {clarnet: 8}

    Good:

        instruments: {clarinet: 8}
    """
    reads_like = handbook.program.item.reads_like
    for address, ensemble in traversal.ensembles(handbook):
        for name in ensemble.instruments:
            if name not in reads_like:
                yield from _unfamiliar(name, name, (*address, "instruments", name), on_key=True)
    for name, known in reads_like.items():
        at = (handbook.program.file, "reads_like", name)
        yield from _unfamiliar(name, known, at, on_key=False)


def _unfamiliar(name: str, read_as: str, address: Address, *, on_key: bool) -> Iterator[Problem]:
    try:
        instrument(read_as)
    except UnreadableError as error:
        near = of_kind(read_as) or error.suggestions[:1]
        meant = f"did you mean {listed(near, 'or')}? if not, " if near else ""
        yield finding(
            f"how the part of `{name}` is written is not known here",
            address,
            f"{meant}say under reads_like in program.yaml whose part it reads like",
            Severity.WARNING,
            on_key=on_key,
        )
