"""Which beats of a measure a click sounds, how strongly, and how they may be divided.

Lengths are whole ticks, 48 to a quarter, so that the script adds up no rounded numbers.
What a click sounds follows the mark as well as the meter: half = 60 in 4/4 is two clicks a
measure, eighth = 120 in 6/8 is six (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import gcd

from handbook.domain.measure_beats import measure_beats
from handbook.domain.values.meter import Meter
from handbook.domain.values.tempo import BEAT_UNITS, BeatUnit
from handbook.outputs.html.page_data import Json
from handbook.outputs.i18n import pgettext

TICKS = 48  # to a quarter: whole for sixteenths and for triplets of them
BEAT, GROUP, MEASURE = 1, 2, 3  # stresses; 0 is a division

_TWO, _THREE, _FOUR = 2, 3, 4
_LEFT_OPEN = (5, 7)  # irregular meters whose usual groupings are few enough to offer
_PLAIN = frozenset(4 * TICKS // part for part in (1, 2, 4, 8, 16))
_DIVISION = "divisions"  # the context of their names
_NAMES = {int(unit.quarters * TICKS): f"{unit.name}s" for unit in BEAT_UNITS.values()}
_NAMES |= {TICKS // 8: "thirty-seconds", TICKS // 16: "sixty-fourths"}
_IN_THREE = "triplets"


def messages() -> Iterator[tuple[str, str]]:
    """Give the names of divisions with their context."""
    yield from ((_DIVISION, name) for name in (*_NAMES.values(), _IN_THREE))


def ticks(quarters: Fraction) -> int:
    """Turn a length in quarters into ticks; ValueError where that is not whole."""
    found = quarters * TICKS
    if found.denominator != 1:
        raise ValueError(f"{quarters} quarters are no whole number of ticks")
    return int(found)


def layout(meter: Meter, beat: BeatUnit) -> list[list[int]]:
    """Give each beat's ticks and stress, for a mark that counts `beat`."""
    starts, at = _group_starts(meter), 0
    beats: list[list[int]] = []
    for length in _lengths(meter, beat):
        beats.append([length, MEASURE if at == 0 else GROUP if at in starts else BEAT])
        at += length
    return beats


def groupings(meter: Meter) -> Iterator[Meter]:
    """Offer the groupings in twos and threes that a meter of 5 or 7 leaves open."""
    if meter.irregular and not meter.groups and meter.top in _LEFT_OPEN:
        for groups in _twos_and_threes(meter.top):
            yield Meter(meter.top, meter.unit, groups)


def divisions(meters: Sequence[Meter], beat: BeatUnit) -> Json:
    """List the notes that divide the beats of all these meters, longest first: name and ticks.

    `first` is the one that the mark itself counts, where that is shorter than a beat, else 0.
    """
    lengths = [_lengths(meter, beat) for meter in meters]
    each = [_parts_of(meter, row[0]) for meter, row in zip(meters, lengths, strict=True)]
    fitting = sorted(set.intersection(*each), reverse=True)
    mark = ticks(beat.quarters)
    counted = mark in fitting and mark < max(map(max, lengths))
    return {
        "divisions": [
            [pgettext(_DIVISION, _NAMES.get(length, _IN_THREE)), length] for length in fitting
        ],
        "first": mark if counted else 0,
    }


def _lengths(meter: Meter, beat: BeatUnit) -> list[int]:
    """Give the ticks of each click: the meter's beats, or longer ones if the mark counts those."""
    natural, mark = _natural(meter), ticks(beat.quarters)
    measure = sum(natural)
    if not meter.irregular and mark > natural[0] and mark % natural[0] == measure % mark == 0:
        return [mark] * (measure // mark)
    return natural


def _natural(meter: Meter) -> list[int]:
    return [ticks(one.length) for one in measure_beats(meter)]


def _group_starts(meter: Meter) -> set[int]:
    if not meter.irregular:
        return set()
    unit = ticks(Fraction(4, meter.unit))
    return {unit * sum(meter.groups[:place]) for place in range(len(meter.groups))}


def _parts_of(meter: Meter, click: int) -> set[int]:
    natural = _natural(meter)
    if len(set(natural)) > 1:  # uneven groups share only their units
        unit = gcd(*natural)
        return {unit, unit // _TWO}
    length = natural[0]
    parts = (_TWO, _THREE, _FOUR) if length in _PLAIN else (_THREE, _THREE * _TWO)
    shorter = {length // part for part in parts if length % part == 0}
    return shorter | {length} if click > length else shorter


def _twos_and_threes(total: int) -> Iterator[tuple[int, ...]]:
    if total == 0:
        yield ()
    for group in (_TWO, _THREE):
        if group <= total:
            for rest in _twos_and_threes(total - group):
                yield (group, *rest)
