"""Set-ups of the stage, turn by turn, and what the crew changes between them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from handbook.domain.call_times import minutes_short
from handbook.domain.run_of_show import RunOfShow, Turn, later
from handbook.domain.seating import (
    CHAIR,
    STAND,
    USUAL,
    Need,
    Reset,
    SeatRules,
    Setup,
    check_stock,
    largest,
    resets,
    setup,
)
from handbook.domain.shared_players import together
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.show import Show
from handbook.plan.concert_model import SeatingDay, SetupRow
from handbook.plan.shared_players import shared_counts
from handbook.schema.concert import PauseKind
from handbook.schema.program import Program
from handbook.schema.seating import Seating


def seating_day(ground: Ground, played: Show) -> SeatingDay | None:
    """Reckon all set-ups; None where no ensemble's players are counted."""
    turns = played.run.turns()
    counts = [_players(ground, turn.ensembles) for turn in turns]
    if not any(counts):
        return None
    seating = ground.item.seating or Seating()
    rules = seat_rules(seating, ground.program.item)
    opening = Setup(tuple(sorted((thing, n) for thing, n in seating.opening.items() if n)))
    setups: list[Setup] = []
    for turn, players in zip(turns, counts, strict=True):
        if _is_unsaid(ground, turn.ensembles):
            setups.append(setups[-1] if setups else opening)
        else:
            setups.append(setup(players, rules, _extra(ground, seating, turn.ensembles)))
    most = largest([opening, *setups])
    places = [played.turns[turn.index or 0] or 0 for turn in turns]
    return SeatingDay(
        turns=tuple(
            SetupRow(
                tuple(ground.performers[one] for one in turn.ensembles),
                turn.start,
                turn.reset,
                turn.free,
                stands,
                change,
                _short(ground, place, turn, change, played.run),
                ground.at("program", place),
            )
            for place, turn, stands, change in zip(
                places, turns, setups, resets(setups, opening), strict=True
            )
        ),
        opening=opening,
        largest=most,
        stock=check_stock(most, ground.venue.stock),
        has=ground.venue.stock,
    )


def _short(ground: Ground, place: int, turn: Turn, change: Reset, run: RunOfShow) -> int:
    """Give the minutes that a reset lacks; what the director states for a changeover is enough."""
    stated = any(one.what is PauseKind.CHANGEOVER for one in ground.item.program[place].before)
    changes = change.add.counts or change.strike.counts
    if stated or not changes or turn.reset is None or turn.free is None:
        return 0
    return minutes_short(turn.free, later(turn.reset, run.reset_seconds))


def seat_rules(seating: Seating, program: Program) -> SeatRules:
    """Change what players usually need, thing by thing.

    What an instrument needs goes by the program's name for it, else by its name in the
    table: `drums` need what a drum set does.
    """
    needs = {
        name: USUAL.by_instrument.get(_known(name, program), USUAL.otherwise)
        for name in _named(seating, program)
    }
    for rule in seating.rules:
        for name, usual in needs.items():
            if {name, _known(name, program)} & {*rule.instruments}:
                needs[name] = tuple(_changed(usual, rule.thing, rule.players))
    return USUAL.overridden(needs, None if seating.once is None else seating.once.items())


def _named(seating: Seating, program: Program) -> set[str]:
    rules = {name for rule in seating.rules for name in rule.instruments}
    return rules | {name for ensemble in program.ensembles for name in ensemble.instruments}


def _known(name: str, program: Program) -> str:
    row = program.instrument(name)
    return row.id if row else name


def _changed(needs: tuple[Need, ...], thing: str, players: int) -> Iterator[Need]:
    yield from (need for need in needs if need.thing != thing)
    if players:
        yield Need(thing, players)


def _players(ground: Ground, ensembles: tuple[str, ...]) -> Mapping[str, int]:
    known = ground.ensembles
    counts = {one: known[one].instruments for one in ensembles if one in known}
    return together(counts, shared_counts(ground.program.item.ensembles))


def _is_unsaid(ground: Ground, performers: tuple[str, ...]) -> bool:
    """Whether only guests perform, of whom nobody has said what they need."""
    guests = [ground.guests.get(one) for one in performers]
    return all(one and one.chairs is None and one.stands is None for one in guests)


def _extra(ground: Ground, seating: Seating, ensembles: tuple[str, ...]) -> Mapping[str, int]:
    extra: Counter[str] = Counter()
    for guest in (ground.guests[one] for one in ensembles if one in ground.guests):
        extra[CHAIR] += guest.chairs or 0
        extra[STAND] += guest.stands or 0
    for more in seating.extra:
        if more.ensemble in ensembles:
            extra[more.thing] += more.count
    return extra
