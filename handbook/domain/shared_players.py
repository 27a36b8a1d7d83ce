"""How many players bands have together that share some of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from handbook.records import dataclass

Shared = Mapping[frozenset[str], int]
"""Numbers of players in common, by the ids of two bands."""


@dataclass(frozen=True, slots=True)
class _Link:
    """A band whose players are partly those of one before it."""

    band: str
    other: str
    players: int


def together(counts: Mapping[str, Mapping[str, int]], shared: Shared) -> Counter[str]:
    """Count players by instrument, of bands that are in one place, each player once.

    Where three bands share players with each other, some may be in all three, which no number
    for two says. Then only so many links are taken as join the bands without a circle, the
    largest first: never fewer players than there are (Hunter, An upper bound for the
    probability of a union, Journal of Applied Probability 13, 1976). On which of two instruments
    a player sits is not known: those that both bands have are taken as the common ones first.
    """
    left = {band: Counter(instruments) for band, instruments in counts.items()}
    for link in _links(tuple(counts), shared):
        _take(left[link.band], counts[link.other], link.players)
    total: Counter[str] = Counter()
    for players in left.values():
        total += players
    return total


def _links(bands: tuple[str, ...], shared: Shared) -> Iterator[_Link]:
    """Give each band at most once, linked to one nearer to the first band of its kin."""
    within = {
        pair: players for pair, players in shared.items() if len(pair & set(bands)) == len(pair)
    }
    chosen: list[frozenset[str]] = []
    kin = {band: band for band in bands}
    for pair in sorted(within, key=lambda one: (-within[one], sorted(map(bands.index, one)))):
        first, second = sorted(pair, key=bands.index)
        if kin[first] != kin[second]:
            old, new = kin[second], kin[first]
            kin = {band: new if whose == old else whose for band, whose in kin.items()}
            chosen.append(pair)
    seen: set[str] = set()
    for root in bands:
        waiting = [] if root in seen else [root]
        seen.add(root)
        while waiting:
            other = waiting.pop(0)
            for pair in chosen:
                for band in pair - {other} if other in pair else ():
                    if band not in seen:
                        seen.add(band)
                        waiting.append(band)
                        yield _Link(band, other, within[pair])


def _take(players: Counter[str], other: Mapping[str, int], number: int) -> None:
    """Take shared players out of a band: from instruments of both, then from its others."""
    common = {name: min(count, other.get(name, 0)) for name, count in players.items()}
    order = sorted(players, key=lambda one: (-common[one], one))
    for most in (common, None):
        for name in order:
            taken = min(number, most[name] if most else players[name])
            players[name] -= taken
            number -= taken
