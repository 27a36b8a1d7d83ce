"""Rhythms typed as plain text.

The notation is made for typing:

    w h q e s t       whole, half, quarter, eighth, sixteenth, thirty-second note
    q.  q..           a dot, two dots
    rq  re.           a rest of that length
    q~                tied to the next note, over a bar line too
    q>  q^            accented, strongly accented
    q/R  e/L  q/lR    played by that hand; small letters are grace notes (lR flam, llR drag)
    3(e e e)          a group of three in the time of two; 5(, 6(, 7( in the time of four,
                      9( of eight; 2( and 4( in the time of three, for compound meters
    |                 bar line; spaces part notes
    pickup q | ...    the first measure is short, and not counted in measure numbers

Marks stand in the order dots, accent, hand, tie. `pickup e | q. e h | 3(e e e) q> rh`
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from handbook.domain.rhythm import TUPLETS, VALUES, Measure, Rhythm, RhythmNote, Tuplet
from handbook.domain.rudiments import Stroke, parse_sticking
from handbook.domain.values.unreadable import UnreadableError

_NOTE = re.compile(
    r"(?P<rest>r?)(?P<value>[whqest])(?P<dots>\.{0,2})(?P<accent>[>^]?)"
    r"(?:/(?P<hand>[RLrlz]+))?(?P<tie>~?)"
)
_MARK = re.compile(r"\||\d+\(|\)|[^\s|()]+|\(")
_GROUP = re.compile(r"(\d+)\(")
_PICKUP = "pickup"
_EXAMPLE = ("q q e e q", "q. e h | 3(e e e) q rh")


def parse_rhythm(text: str) -> Rhythm:
    """Read the notation of this module.

    Raises UnreadableError naming the measure and the text that is no note, for groups left
    open, for ties that lead to no note, for hands at rests, and for empty measures.
    """
    marks: list[str] = _MARK.findall(text)
    pickup = marks[:1] == [_PICKUP]
    reader = _Reader(first_number=0 if pickup else 1)
    for mark in marks[1:] if pickup else marks:
        reader.take(mark)
    measures = reader.finish()
    _check_ties(measures)
    return Rhythm(measures, pickup)


class _Reader:
    """Collects measures from marks; knows the measure and the group it is in."""

    def __init__(self, first_number: int) -> None:
        self._number = first_number
        self._measures: list[Measure] = []
        self._notes: list[RhythmNote] = []
        self._tuplet: Tuplet | None = None
        self._group_start = 0  # index of the open group's first note

    def take(self, mark: str) -> None:
        if mark == "|":
            self._close_measure()
        elif mark == ")":
            self._close_group()
        elif mark.endswith("("):
            self._open_group(mark)
        else:
            self._add(mark)

    def finish(self) -> tuple[Measure, ...]:
        if self._notes or not self._measures or self._tuplet:
            self._close_measure()
        return tuple(self._measures)

    def _add(self, mark: str) -> None:
        found = _NOTE.fullmatch(mark)
        if found is None:
            glued = " ".join(part[0] for part in _NOTE.finditer(mark))
            apart = (glued,) if glued.replace(" ", "") == mark else _EXAMPLE
            raise UnreadableError(f"{self._here}: `{mark}` is no note or rest", apart)
        note = self._note(found)
        if self._tuplet is not None:
            note = replace(note, tuplet=self._tuplet)
        self._notes.append(note)

    def _note(self, found: re.Match[str]) -> RhythmNote:
        rest, hand = bool(found["rest"]), found["hand"]
        if rest and (found["accent"] or hand or found["tie"]):
            plain = f"r{found['value']}{found['dots']}"
            raise UnreadableError(
                f"{self._here}: `{found[0]}` is a rest, so it takes no accent, hand or tie",
                (plain,),
            )
        return RhythmNote(
            found["value"],
            len(found["dots"]),
            rest,
            found["accent"],
            self._stroke(hand) if hand else None,
            bool(found["tie"]),
        )

    def _stroke(self, hand: str) -> Stroke:
        try:
            strokes = parse_sticking(hand)
        except UnreadableError as unread:
            raise UnreadableError(f"{self._here}: {unread.message}", unread.suggestions) from unread
        if len(strokes) != 1:
            raise UnreadableError(
                f"{self._here}: one note takes one stroke, but `{hand}` is {len(strokes)}",
                tuple(map(str, strokes)),
            )
        return strokes[0]

    def _open_group(self, mark: str) -> None:
        found = _GROUP.fullmatch(mark)
        count = int(found[1]) if found else 0
        if self._tuplet is not None or count not in TUPLETS:
            problem = (
                "a group stands within a group" if self._tuplet else f"`{mark}` opens no group"
            )
            raise UnreadableError(f"{self._here}: {problem}", ("3(e e e)", "6(s s s s s s)"))
        self._tuplet, self._group_start = Tuplet(count, TUPLETS[count]), len(self._notes)

    def _close_group(self) -> None:
        if self._tuplet is None:
            raise UnreadableError(f"{self._here}: `)` closes no group", ("3(e e e)",))
        grouped = self._notes[self._group_start :]
        printed = sum((note.written_quarters for note in grouped), Fraction(0))
        if printed / self._tuplet.count not in VALUES.values():
            raise UnreadableError(
                f"{self._here}: a group of {self._tuplet.count} does not hold "
                f"{self._tuplet.count} notes of one value, or as much",
                ("3(e e e)", "3(q e)"),
            )
        since = Fraction(0)
        for index, note in enumerate(grouped, self._group_start):
            self._notes[index] = replace(note, tuplet=replace(self._tuplet, place=since / printed))
            since += note.written_quarters
        self._tuplet = None

    def _close_measure(self) -> None:
        if self._tuplet is not None:
            raise UnreadableError(f"{self._here}: a group is left open", ("3(e e e)",))
        if not self._notes:
            raise UnreadableError(f"{self._here} is empty", _EXAMPLE)
        self._measures.append(tuple(self._notes))
        self._notes = []
        self._number += 1

    @property
    def _here(self) -> str:
        return f"measure {self._number}" if self._number else "the pickup"


def _check_ties(measures: tuple[Measure, ...]) -> None:
    notes = [note for measure in measures for note in measure]
    for note, following in zip(notes, [*notes[1:], None], strict=True):
        if note.tied and (following is None or following.rest):
            raise UnreadableError("a tie `~` leads to no note", ("h~ | q rq",))
