"""Rhythms typed as plain text.

Note values go by the initials that the trade gives them: w whole, h half, q quarter,
e eighth, s sixteenth, t thirty-second. Dots, accents, bar lines and the number of a group are
the printed signs. The other signs are this program's own:

    q.  q..           a dot, two dots
    -q  -e.           a hyphen before a value: a rest of that length
    q_                an underscore: tied to the next note, over a bar line too
    q+                a plus: slurred to the next note; e+ e+ e is a slur over three
    q>  q^            accented, strongly accented
    q*  q=            a star: staccato; an equals sign: tenuto
    q/R  e/L  q/lR    played by that hand; small letters are grace notes (lR flam, llR drag)
    3(e e e)          a group of three in the time of two; 5(, 6(, 7( in the time of four,
                      9( of eight; 2( and 4( in the time of three, for compound meters
    |                 bar line; spaces part notes
    pickup q | ...    the first measure is short, and not counted in measure numbers

Signs stand in the order dots, articulations, hand, tie or slur.
`pickup e | q. e+ e* e* q | 3(e e e) q> -h`

In earlier versions a rest was typed `rq` and a tie `q~`; `new_form` turns such a text over.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from handbook.domain.rhythm import (
    TUPLETS,
    VALUES,
    Articulation,
    Measure,
    Rhythm,
    RhythmNote,
    Tuplet,
)
from handbook.domain.rudiments import Stroke, parse_sticking
from handbook.domain.values.unreadable import UnreadableError

_NOTE = re.compile(
    r"(?P<rest>-?)(?P<value>[whqest])(?P<dots>\.{0,2})(?P<played>[>^*=]*)"
    r"(?:/(?P<hand>[RLrlz]+))?(?P<join>[_+]?)"
)
_MARK = re.compile(r"\||\d+\(|\)|[^\s|()]+|\(")
_GROUP = re.compile(r"(\d+)\(")
_OLD_REST = re.compile(r"(?<![^\s|(])r(?=[whqest]\.{0,2}(?:[\s|)]|$))")
_OLD_TIE = re.compile(r"~(?=[\s|)]|$)")
_PICKUP = "pickup"
_EXAMPLE = ("q q e e q", "q. e h | 3(e e e) q -h")
_ACCENTS = {Articulation.ACCENT, Articulation.STRONG_ACCENT}


def new_form(text: str) -> str | None:
    """Turn a text with the old signs of rests (`rq`) and ties (`q~`) over; None if it has none."""
    turned = _OLD_TIE.sub("_", _OLD_REST.sub("-", text))
    return " ".join(turned.split()) if turned != text else None


def parse_rhythm(text: str) -> Rhythm:
    """Read the notation of this module.

    Raises UnreadableError for the old signs, with the whole text in the new ones; naming the
    measure, for text that is no note, for groups left open, for hands and articulations at
    rests, and for empty measures; and for ties that lead to no note.
    """
    turned = new_form(text)
    if turned is not None:
        raise UnreadableError(
            "rests and ties are written in the old form: a rest is now a hyphen before the "
            "value (`-q`), a tie an underscore after it (`q_`)",
            (turned,),
            sure=True,
        )
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
            raise UnreadableError(f"{self._here}: `{mark}` is no note or rest", _meant(mark))
        note = self._note(found)
        if self._tuplet is not None:
            note = replace(note, tuplet=self._tuplet)
        self._notes.append(note)

    def _note(self, found: re.Match[str]) -> RhythmNote:
        rest, hand, join = bool(found["rest"]), found["hand"], found["join"]
        if rest and (found["played"] or hand or join):
            plain = f"-{found['value']}{found['dots']}"
            raise UnreadableError(
                f"{self._here}: `{found[0]}` is a rest, so it takes no accent, hand, tie or slur",
                (plain,),
            )
        return RhythmNote(
            found["value"],
            len(found["dots"]),
            rest,
            self._articulations(found),
            self._stroke(hand) if hand else None,
            tied=join == "_",
            slurred=join == "+",
        )

    def _articulations(self, found: re.Match[str]) -> tuple[Articulation, ...]:
        signs = [Articulation(sign) for sign in found["played"]]
        kept = [sign for sign in Articulation if sign in signs]
        if len(kept) < len(signs) or set(signs) >= _ACCENTS:
            once = "".join(kept).replace(">^", ">")
            raise UnreadableError(
                f"{self._here}: `{found[0]}` takes each sign once, and one accent at most",
                (f"{found['value']}{found['dots']}{once}",),
            )
        return tuple(kept)

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


def _meant(mark: str) -> tuple[str, ...]:
    """Give what a text that is no note may have been meant for, as examples to copy."""
    body = mark.strip("-")
    if body != mark and _NOTE.fullmatch(body or "q"):
        return (f"-{body or 'q'}",)  # a hyphen by itself or behind its value
    glued = " ".join(part[0] for part in _NOTE.finditer(mark))
    return (glued,) if glued.replace(" ", "") == mark else _EXAMPLE


def _check_ties(measures: tuple[Measure, ...]) -> None:
    notes = [note for measure in measures for note in measure]
    for note, following in zip(notes, [*notes[1:], None], strict=True):
        if note.tied and (following is None or following.rest):
            raise UnreadableError("a tie `_` leads to no note", ("h_ | q -q",))
