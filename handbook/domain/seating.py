"""Chairs, stands and stations for each ensemble, and the reset between neighbours."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from handbook.domain.tables.instruments import INSTRUMENTS, Seat
from handbook.records import dataclass

CHAIR, STAND, STOOL, BENCH = "chair", "stand", "stool", "bench"
STATION = "percussion-station"
AMPLIFIER, OUTLET = "amplifier", "power-outlet"
PODIUM = "podium"


@dataclass(frozen=True, slots=True)
class Need:
    """One `thing` for every `players` players of an instrument, rounded up.

    Raises ValueError below 1 player.
    """

    thing: str
    players: int = 1

    def __post_init__(self) -> None:
        if self.players < 1:
            raise ValueError(f"a {self.thing} for {self.players} players")


@dataclass(frozen=True, slots=True)
class SeatRules:
    """What players need: by instrument, for any instrument not named, and once an ensemble."""

    by_instrument: Mapping[str, tuple[Need, ...]]
    otherwise: tuple[Need, ...]
    once: tuple[tuple[str, int], ...] = ()

    def overridden(
        self,
        by_instrument: Mapping[str, tuple[Need, ...]] | None = None,
        once: Iterable[tuple[str, int]] | None = None,
    ) -> SeatRules:
        """Replace the needs of some instruments, or what stands once, by the program's own."""
        return SeatRules(
            {**self.by_instrument, **(by_instrument or {})},
            self.otherwise,
            self.once if once is None else tuple(once),
        )


@dataclass(frozen=True, slots=True)
class Setup:
    """What stands on the stage: (thing, count) in order of name, counts above 0."""

    counts: tuple[tuple[str, int], ...] = ()

    def of(self, thing: str) -> int:
        """Give the count of one thing, 0 if there is none."""
        return dict(self.counts).get(thing, 0)


@dataclass(frozen=True, slots=True)
class Reset:
    """What the crew adds and strikes between two set-ups."""

    add: Setup
    strike: Setup


@dataclass(frozen=True, slots=True)
class Shortage:
    """A venue has `has` of a thing of which `needed` are needed."""

    thing: str
    needed: int
    has: int

    @property
    def short(self) -> int:
        """How many are missing."""
        return self.needed - self.has


@dataclass(frozen=True, slots=True)
class StockCheck:
    """Things of which a venue has too few, and needed things of which it states no count."""

    short: tuple[Shortage, ...]
    unstated: tuple[str, ...]


# What players usually need: common practice, no source. Every line may be overridden.
_SEATED = (Need(CHAIR), Need(STAND))
_NEEDS: dict[Seat, tuple[Need, ...]] = {
    Seat.ON_A_CHAIR: _SEATED,
    Seat.ON_A_STOOL: (Need(STOOL), Need(STAND)),
    Seat.STANDING: (Need(STATION), Need(STAND)),
    Seat.ON_A_STOOL_AT_A_STATION: (Need(STATION), Need(STOOL), Need(STAND)),
    Seat.PLUGGED_IN: (*_SEATED, Need(AMPLIFIER), Need(OUTLET)),
    Seat.AT_A_KEYBOARD: (Need(BENCH),),  # the music stands on it
    Seat.AT_A_PLUGGED_IN_KEYBOARD: (Need(BENCH), Need(AMPLIFIER), Need(OUTLET)),
}
USUAL = SeatRules(
    by_instrument={row.id: _NEEDS[row.seat] for row in INSTRUMENTS},
    otherwise=_SEATED,
    once=((PODIUM, 1), (STAND, 1)),  # for the director
)

BARE_STAGE = Setup()


def setup(
    players: Mapping[str, int], rules: SeatRules = USUAL, extra: Mapping[str, int] | None = None
) -> Setup:
    """Reckon an ensemble's set-up from its counts (instrument id to players).

    A shared thing is rounded up within its instrument: 5 players at 2 a stand take 3.
    `extra` adds what the director states besides. No players and nothing extra is a bare
    stage. Raises ValueError for a count below 0.
    """
    things: Counter[str] = Counter(extra or {})
    if min((*players.values(), *things.values()), default=0) < 0:
        raise ValueError("a count below 0")
    for instrument, number in players.items():
        for need in rules.by_instrument.get(instrument, rules.otherwise):
            things[need.thing] += -(-number // need.players)
    if any(players.values()):
        for thing, count in rules.once:
            things[thing] += count
    return _setup(things)


def reset(before: Setup, after: Setup) -> Reset:
    """Tell what turns one set-up into another, with as few things moved as can be."""
    old, new = Counter(dict(before.counts)), Counter(dict(after.counts))
    return Reset(add=_setup(new - old), strike=_setup(old - new))


def resets(setups: Sequence[Setup], opening: Setup = BARE_STAGE) -> tuple[Reset, ...]:
    """Give the reset before each set-up in turn, the first from what stands at the opening."""
    return tuple(reset(before, after) for before, after in pairwise((opening, *setups)))


def largest(setups: Iterable[Setup]) -> Setup:
    """Give the most of each thing that stands at once, which is what the venue must have."""
    most: Counter[str] = Counter()
    for each in setups:
        most |= Counter(dict(each.counts))
    return _setup(most)


def check_stock(needed: Setup, stock: Mapping[str, int]) -> StockCheck:
    """Compare what is needed with what a venue has; a thing it does not list is never guessed."""
    short = tuple(
        Shortage(thing, count, stock[thing])
        for thing, count in needed.counts
        if thing in stock and stock[thing] < count
    )
    return StockCheck(short, tuple(thing for thing, _ in needed.counts if thing not in stock))


def _setup(things: Mapping[str, int]) -> Setup:
    return Setup(tuple((thing, count) for thing, count in sorted(things.items()) if count > 0))
