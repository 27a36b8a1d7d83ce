"""Brass fingerings and slide positions, reckoned from partials and added length.

A note lies a whole number of semitones under some partials of the open tube. The rule of
preference: of the partials players use (a table), take the one that needs the least added
length, and the valves that players take first for that length. Common practice, no source;
every choice of the tested charts lies on a partial within 15 cents once lowered.

Cents assume the open fundamental in tune and each valve exact by itself, unless other
valve slides are given; compensating valves are not reckoned. A slide is placed by ear, so
only its partial is off. Players
correct with slides, lips and air: a tendency is where a note wants to go, not where it must.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import lru_cache

from handbook.domain.tables.brass import (
    PARTIAL_SEMITONES,
    SLIDE_POSITIONS,
    VALVE_CHARTS,
    VALVE_SEMITONES,
    Action,
    Tube,
)
from handbook.domain.tables.instruments import INSTRUMENTS
from handbook.domain.values.pitch import WrittenPitch
from handbook.records import dataclass

OPEN = "0"
_CENTS_IN_OCTAVE, _CENTS_IN_SEMITONE = 1200, 100
# How far an alternate may lie from equal temperament. Of the first choices those that players
# use without moving a slide end at 17.5 cents (2-3 on a third partial), and those that want a
# slide drawn out begin at 24.5 (2-4), 30.3 (1-3) and 53.6 (1-2-3): reckoned here, each valve exact
# by itself. An alternate is for speed, so one that would want a slide drawn out is none.
ALTERNATES_WITHIN = 20.0
_SPOKEN_VALVES = {"1": "first", "2": "second", "3": "third", "4": "fourth"}
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh")


@dataclass(frozen=True, slots=True)
class Fingering:
    """One way to play a note: `shown` is valves such as `12`, `0` for none, or a position.

    `raised` means the slide is drawn in from that position to bring a flat partial up.
    `cents` is how far the note then lies from equal temperament, sharp above zero.
    """

    shown: str
    tube: Tube
    partial: int
    lowered: int
    cents: float
    raised: bool = False

    @property
    def sided(self) -> bool:
        """Whether it is one side of a double horn, so that its valves alone do not say all."""
        return self.tube.thumb is not None

    @property
    def label(self) -> str:
        """The fingering as charts print it: `1-2`, `0`, `4`, `♯3`, `T1-2` with a horn's thumb valve."""
        if self.tube.action is Action.SLIDE:
            return self.shown
        return f"{'T' if self.tube.thumb else ''}{'-'.join(self.shown)}"

    @property
    def spoken(self) -> str:
        """The fingering in words: `open`, `first and second valves`, `fourth position`."""
        return f"thumb valve, {self._spoken}" if self.tube.thumb else self._spoken

    @property
    def _spoken(self) -> str:
        if self.tube.action is Action.SLIDE:
            raised = "raised " if self.raised else ""
            return f"{raised}{_ORDINALS[self.lowered]} position"
        if self.shown == OPEN:
            return "open"
        names = [_SPOKEN_VALVES[valve] for valve in self.shown]
        if len(names) == 1:
            return f"{names[0]} valve"
        return f"{', '.join(names[:-1])} and {names[-1]} valves"


# Added length of each valve in lengths of the open tube.
ValveLengths = Mapping[int, float]


def added_length(cents: float) -> float:
    """Give the length that lowers a tube by so many cents, in lengths of the open tube."""
    return math.pow(2, cents / _CENTS_IN_OCTAVE) - 1


EACH_VALVE_EXACT: ValveLengths = {
    valve: added_length(_CENTS_IN_SEMITONE * semitones)
    for valve, semitones in VALVE_SEMITONES.items()
}


def valves_sharp_by(valves: str, lengths: ValveLengths = EACH_VALVE_EXACT) -> float:
    """Give how many cents too little a set of valves (`13`, `0` for none) lowers; flat below zero.

    `1200 log2(1 + sum of added lengths)` against whole semitones.
    """
    pressed = [int(valve) for valve in valves if valve != OPEN]
    lowered = _CENTS_IN_OCTAVE * math.log2(1 + sum(lengths[valve] for valve in pressed))
    return _CENTS_IN_SEMITONE * sum(VALVE_SEMITONES[valve] for valve in pressed) - lowered


def partial_off_by(partial: int) -> float:
    """Give how many cents a partial lies above its nearest tempered note; ValueError past 16."""
    if partial not in PARTIAL_SEMITONES:
        raise ValueError(f"partial {partial} is not among those of brass players")
    exact = _CENTS_IN_OCTAVE * math.log2(partial)
    return exact - _CENTS_IN_SEMITONE * PARTIAL_SEMITONES[partial]


_TUBES = {row.id: row.tubes for row in INSTRUMENTS if row.tubes}


@lru_cache(maxsize=4096)  # players of all bands and cycles ask for the same notes
def first_choice(
    pitch: WrittenPitch, instrument_id: str, valves: int = 3, *, single_horn: bool = False
) -> Fingering | None:
    """Give the usual fingering of a written note, or None outside the chart.

    `valves` may be 4 for euphoniums and tubas: 4 then stands for 1+3, and 2+4 for 1+2+3.
    A horn changes to its B♭ side where the table says, unless `single_horn`. None also
    for instruments that are not brass. KeyError for any other number of valves.
    """
    tubes = _TUBES.get(instrument_id, ())
    for tube in tubes[:1] if single_horn else reversed(tubes):
        found = next(_ways(pitch, tube, tube.partials, valves), None)
        if found is not None:
            return found
    return None


def alternates(
    pitch: WrittenPitch, instrument_id: str, valves: int = 3, *, single_horn: bool = False
) -> tuple[Fingering, ...]:
    """Give the other ways to play a written note, those with the least added length first.

    Only those within `ALTERNATES_WITHIN` cents of equal temperament. On a slide they include
    raised positions on a flat partial, but not in first, where the slide cannot be drawn in
    further. `single_horn` as in `first_choice`.
    """
    usual = first_choice(pitch, instrument_id, valves, single_horn=single_horn)
    tubes = _TUBES.get(instrument_id, ())
    found = [
        way
        for tube in (tubes[:1] if single_horn else tubes)
        for way in _ways(pitch, tube, (*tube.partials, *tube.bent), valves)
        if way != usual and abs(way.cents) <= ALTERNATES_WITHIN
    ]
    return tuple(sorted(found, key=lambda way: way.lowered))


def _ways(
    pitch: WrittenPitch, tube: Tube, partials: tuple[int, ...], valves: int
) -> Iterator[Fingering]:
    """Give ways to play a note on one tube, least added length first, then usual valves first."""
    if tube.used_from is not None and pitch.midi < tube.used_from.midi:
        return
    for partial in sorted(partials):
        lowered = tube.fundamental.midi + PARTIAL_SEMITONES[partial] - pitch.midi
        if tube.action is Action.SLIDE:
            yield from _positions(tube, partial, lowered)
        else:
            for shown in VALVE_CHARTS[valves].get(lowered, ()):
                off = partial_off_by(partial) + valves_sharp_by(shown)
                yield Fingering(shown, tube, partial, lowered, off)


def _positions(tube: Tube, partial: int, lowered: int) -> Iterator[Fingering]:
    position = SLIDE_POSITIONS.get(lowered)
    raised = partial in tube.bent
    if position is None or (raised and lowered == 0):
        return
    shown = f"♯{position}" if raised else str(position)
    yield Fingering(
        shown, tube, partial, lowered, 0.0 if raised else partial_off_by(partial), raised
    )
