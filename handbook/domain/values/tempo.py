"""Tempos as metronome marks: a beat unit and beats a minute."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from fractions import Fraction
from math import floor

from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class BeatUnit:
    """A note value that a metronome mark counts; `quarters` is its length in quarter notes."""

    name: str
    quarters: Fraction
    symbol: str

    def __hash__(self) -> int:
        """By its name alone, since steps of a climb are looked up by their tempos."""
        return hash(self.name)

    @property
    def dotted(self) -> bool:
        """Whether the note carries a dot, so that it divides in three."""
        return self.name.startswith("dotted ")


# Note values in quarters: common practice, no source.
BEAT_UNITS: dict[str, BeatUnit] = {
    unit.name: unit
    for unit in (
        BeatUnit("whole", Fraction(4), "𝅝"),
        BeatUnit("dotted half", Fraction(3), "𝅗𝅥."),
        BeatUnit("half", Fraction(2), "𝅗𝅥"),
        BeatUnit("dotted quarter", Fraction(3, 2), "♩."),
        BeatUnit("quarter", Fraction(1), "♩"),
        BeatUnit("dotted eighth", Fraction(3, 4), "♪."),
        BeatUnit("eighth", Fraction(1, 2), "♪"),
        BeatUnit("sixteenth", Fraction(1, 4), "𝅘𝅥𝅯"),
        BeatUnit("dotted whole", Fraction(6), "𝅝."),
    )
}

# A dotted sign begins with the plain one, so that the longer is looked for first.
_LONGEST_SIGN_FIRST = sorted(BEAT_UNITS.values(), key=lambda unit: -len(unit.symbol))

SLOWEST_BPM, FASTEST_BPM = 10, 400

_MARK = re.compile(r"(?:(?P<beat>[a-z][a-z -]*?)\s*=\s*)?(?P<bpm>\d+(?:\.\d+)?)(?:\s*bpm)?")
_BPM_PLACES = 3
# Short names of notes in front of a number: common practice, no source.
_SHORT_BEAT = re.compile(r"\b(?P<long>d|dotted )?(?P<letter>[wqhe])(?P<dot>\.)? ?(?:note)? ?=")
_LETTERS = {"w": "whole", "h": "half", "q": "quarter", "e": "eighth"}
_ONE_SLIP = 0.85  # of likeness, as in difflib: one letter of a short word
_FREE = re.compile(r"free(?:ly)?(?:\s*,)?(?:\s+about\s+(?P<mark>\S.*))?", re.IGNORECASE)
_RANGE = re.compile(
    r"(?P<beat>\D+?=\s*)(?P<low>\d+)\s*(?:[-‐‑–—]|to)\s*(?P<high>\d+)(?:\s*bpm)?", re.IGNORECASE
)
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True)
class Tempo:
    """`bpm` beats of `beat` a minute; exact, never rounded."""

    beat: BeatUnit
    bpm: Fraction

    @property
    def quarters_per_minute(self) -> Fraction:
        """The speed in quarter notes a minute, for comparing marks of unlike beats."""
        return self.bpm * self.beat.quarters

    @property
    def bpm_text(self) -> str:
        """The number as a mark prints it: no trailing zeros, at most three places."""
        if self.bpm.denominator == 1:
            return str(self.bpm.numerator)
        return f"{float(self.bpm):.{_BPM_PLACES}f}".rstrip("0").rstrip(".")

    @property
    def free(self) -> bool:
        """Whether it is not held to a beat at all."""
        return False

    @property
    def about(self) -> bool:
        """Whether what is reckoned with it is about right, and no more."""
        return False

    @property
    def plain(self) -> Tempo:
        """The tempo that is practiced: of a range its middle."""
        return self

    def at(self, bpm: Fraction | int) -> Tempo:
        """Give the same beat at another speed."""
        return Tempo(self.beat, Fraction(bpm))

    def __str__(self) -> str:
        return f"{self.beat.name} = {self.bpm_text}"


@dataclass(frozen=True, slots=True)
class LooseTempo(Tempo):
    """A tempo that is not one number: from `bpm` down to `least` and up to `most`, or `free`.

    `bpm` is what is reckoned with. It is `stated` unless the part says `free` and no more.
    """

    least: Fraction | None = None
    most: Fraction | None = None
    free: bool = False
    stated: bool = True

    @property
    def about(self) -> bool:
        """Whether what is reckoned with it is about right, and no more."""
        return True

    @property
    def plain(self) -> Tempo:
        """The tempo that is practiced: of a range its middle."""
        return self if self.free else Tempo(self.beat, self.bpm)

    @property
    def bpm_text(self) -> str:
        """The number as it is read after `at`: `72–80`, `about 60`, `a free tempo`."""
        number = Tempo(self.beat, self.bpm).bpm_text
        if self.free:
            return f"about {number}" if self.stated else "a free tempo"
        return f"{self.least}–{self.most}"

    def __str__(self) -> str:
        if not self.free:
            return f"{self.beat.name} = {self.least}-{self.most}"
        return f"free, about {Tempo(self.beat, self.bpm)}" if self.stated else "free"


def parse_part_tempo(text: str, read: Callable[[str], Tempo] | None = None) -> Tempo:
    """Read what a part of a form may have: a tempo, a range of it, `free`, or `free, about` a tempo.

    Of a range the middle is reckoned with, rounded down to a whole number. `free` alone
    counts 60 quarters until it is known what is around it. `read` reads a plain tempo.
    Raises UnreadableError for all else.
    """
    read = read or parse_tempo
    plain = " ".join(text.split())
    if free := _FREE.fullmatch(plain):
        tempo = read(free["mark"]) if free["mark"] else Tempo(BEAT_UNITS["quarter"], Fraction(60))
        return LooseTempo(tempo.beat, tempo.bpm, free=True, stated=bool(free["mark"]))
    between = _RANGE.fullmatch(plain)
    if not between:
        return read(text)
    low, high = (
        read(f"{between['beat']}{between['low']}"),
        read(f"{between['beat']}{between['high']}"),
    )
    if low.bpm >= high.bpm:
        raise UnreadableError(
            f"`{plain}` does not run upward", (f"{low.beat.name} = {high.bpm_text}-{low.bpm_text}",)
        )
    middle = Fraction(floor((low.bpm + high.bpm) / 2))
    return LooseTempo(low.beat, middle, least=low.bpm, most=high.bpm)


def parse_tempo(text: str, default_beat: str = "quarter") -> Tempo:
    """Read `dotted quarter = 80`, `♩. = 80`, or a bare `80`, which counts `default_beat`.

    Raises UnreadableError for any other text, an unknown beat, or a speed outside
    10 to 400 (below or above which a mark is surely a slip).
    """
    found = _MARK.fullmatch(_symbols_named(" ".join(text.lower().split())))
    if not found:
        meant = _meant(text)
        raise UnreadableError(
            f"`{text.strip()}` is no tempo",
            meant or ("quarter = 96", "dotted quarter = 80"),
            sure=_is_sure(text, meant),
        )
    beat = BEAT_UNITS.get((found["beat"] or default_beat).replace("-", " ").removesuffix(" note"))
    if beat is None:
        meant = _meant(text)
        raise UnreadableError(
            f"`{found['beat']}` is no beat that a tempo can count",
            meant or tuple(BEAT_UNITS),
            sure=_is_sure(text, meant),
        )
    bpm = Fraction(found["bpm"])
    if not _can_be_played(bpm):
        raise UnreadableError(
            f"{found['bpm']} beats a minute is outside {SLOWEST_BPM} to {FASTEST_BPM}"
        )
    return Tempo(beat, bpm)


def _meant(text: str) -> tuple[str, ...]:
    """Guess what `q = 76`, `ca. 76`, `M.M. 76` or `72-80` should be; of a range its upper end."""
    plain = " ".join(text.lower().split())
    numbers = [number for number in _NUMBER.findall(plain) if _can_be_played(Fraction(number))]
    if not 1 <= len(numbers) <= 2:  # noqa: PLR2004 - a range has two
        return ()
    beats: Sequence[str] = ("quarter", "dotted quarter")
    if short := _SHORT_BEAT.search(plain):
        dotted = short["long"] or short["dot"]
        beats = (f"{'dotted ' if dotted else ''}{_LETTERS[short['letter']]}",)
    elif "=" in plain:
        beats = get_close_matches(plain.partition("=")[0].strip(), BEAT_UNITS, n=1)
    return tuple(f"{beat} = {numbers[-1]}" for beat in beats if beat in BEAT_UNITS)


def _is_sure(text: str, meant: tuple[str, ...]) -> bool:
    """Whether one spelling alone can be meant: one number, and a beat by its letter or a slip in its name."""
    word = text.lower().partition("=")[0].strip()
    named = _SHORT_BEAT.search(text.lower()) or get_close_matches(
        word, BEAT_UNITS, n=1, cutoff=_ONE_SLIP
    )
    return len(meant) == 1 and len(_NUMBER.findall(text)) == 1 and bool(named)


def _can_be_played(bpm: Fraction) -> bool:
    return SLOWEST_BPM <= bpm <= FASTEST_BPM


def _symbols_named(plain: str) -> str:
    """Turn a note sign in front, copied back from a page, into the note's name."""
    for unit in _LONGEST_SIGN_FIRST:
        if plain.startswith(unit.symbol):
            return unit.name + plain.removeprefix(unit.symbol)
    return plain
