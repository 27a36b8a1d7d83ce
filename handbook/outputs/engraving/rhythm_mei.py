"""Rhythms on one line, with what is said and which hand plays below, written as MEI."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from html import escape
from itertools import groupby

from handbook.domain.rhythm import Articulation, PlacedNote, RhythmNote, placed
from handbook.domain.slurs import slurs
from handbook.outputs.engraving.rhythm_layout import (
    RhythmExample,
    beat_groups,
    lines,
    pickup_start,
    quarter_width,
)
from handbook.outputs.engraving.staff_mei import mei_document

_DURATIONS = {"w": 1, "h": 2, "q": 4, "e": 8, "s": 16, "t": 32}
_SIGNS = {
    Articulation.ACCENT: "acc",
    Articulation.STRONG_ACCENT: "marc",
    Articulation.STACCATO: "stacc",
    Articulation.TENUTO: "ten",
}
_BEAMED = frozenset("est")
_QUARTERS_IN_WHOLE = 4

Row = tuple[PlacedNote, tuple[int, bool], str]  # a note, the beat and kind it is in, its MEI


def rhythm_mei(example: RhythmExample) -> str:
    """Write a rhythm with its syllables, and below them its sticking if it has one.

    The score's spacing is linear, and its factor the room of a quarter note.
    """
    meter = example.meter
    top = "+".join(map(str, meter.groups)) if meter.irregular and meter.groups else meter.top
    staff = (
        f'<staffDef n="1" lines="1" meter.count="{top}" meter.unit="{meter.unit}">'
        '<clef shape="perc"/></staffDef>'
    )
    quarter = quarter_width(example)
    spacing = f' spacing.packexp="1" spacing.packfact="{quarter}"'
    return mei_document(staff, "".join(_measures(example, quarter)), spacing)


def _measures(example: RhythmExample, quarter: int) -> Iterator[str]:
    last = len(example.rhythm.measures) - 1
    starts = lines(example, quarter)
    ends = {end for slur in slurs(example.rhythm) for end in (slur.first, slur.last)}
    tied = False
    for index, measure in enumerate(example.rhythm.measures):
        start = pickup_start(example, index)
        ties = [tied, *(note.tied for note in measure)]
        groups = beat_groups(measure, example.meter, start)
        rows = [
            (here, groups[place], _note(here.note, _name(index, place, ends), from_tie=ties[place]))
            for place, here in enumerate(placed(measure))
        ]
        short = ' metcon="false"' if start else ""
        if index in starts[1:]:
            yield "<sb/>"
        yield (
            f'<measure n="{example.rhythm.number(index)}" right="{"end" if index == last else "single"}"'
            f'{short}><staff n="1"><layer n="1">{"".join(_layer(rows))}'
            f"</layer></staff>{''.join(_slurs(example, index))}"
            f"{''.join(_below(example, index, start))}</measure>"
        )
        tied = measure[-1].tied


def _name(index: int, place: int, ends: set[tuple[int, int]]) -> str:
    return f' xml:id="m{index}n{place}"' if (index, place) in ends else ""


def _slurs(example: RhythmExample, index: int) -> Iterator[str]:
    """Write the slurs that begin in a measure, on the side of the heads."""
    for slur in slurs(example.rhythm):
        if slur.first[0] == index:
            (first, place), (last, then) = slur.first, slur.last
            yield (
                f'<slur startid="#m{first}n{place}" endid="#m{last}n{then}" '
                'staff="1" curvedir="below"/>'
            )


def _below(example: RhythmExample, index: int, start: Fraction) -> Iterator[str]:
    """Write what is said, and below it the hands, each at its place in time."""
    unit = Fraction(_QUARTERS_IN_WHOLE, example.meter.unit)

    def line(row: int, place: int, at: Fraction, text: str) -> str:
        stamp = float((at - start) / unit + 1)
        return (
            f'<harm xml:id="m{index}w{row}.{place}" n="{row}" place="below" '
            f'tstamp="{stamp:.6g}">{escape(text, quote=False)}</harm>'
        )

    for place, count in enumerate(example.counts[index] if example.counts else ()):
        yield line(1, place, count.start, str(count))
    for place, here in enumerate(placed(example.rhythm.measures[index])):
        if here.note.stroke:
            yield line(2, place, here.start + start, str(here.note.stroke))


def _layer(rows: list[Row]) -> Iterator[str]:
    """Write the notes, groups as groups and short notes of one beat under one beam."""
    for (_, tuplet), together in groupby(_with_groups(rows), key=lambda row: row[0]):
        inside = [row for _, row in together]
        notes = [here.note for here, _, _ in inside]
        if tuplet:
            beamed = all(note.value in _BEAMED and not note.rest for note in notes)
            first = notes[0].tuplet
            if first is None:  # cannot be: only notes of a group are grouped so
                raise ValueError("a group without its number")
            yield (
                f'<tuplet num="{first.count}" numbase="{first.time_of}" '
                f'bracket.visible="{"false" if beamed else "true"}">'
                f"{_joined(inside, beamed=beamed)}</tuplet>"
            )
        else:
            for (_, short), beam in groupby(inside, key=lambda row: row[1]):
                yield _joined(list(beam), beamed=short)


def _with_groups(rows: list[Row]) -> Iterator[tuple[tuple[int, bool], Row]]:
    """Give each row the number of its group, since two of a kind may follow one another."""
    number = 0
    before = False
    for row in rows:
        tuplet = row[0].note.tuplet
        if (tuplet is not None and tuplet.place == 0) or (before and tuplet is None):
            number += 1
        before = tuplet is not None
        yield (number, before), row


def _joined(rows: list[Row], *, beamed: bool) -> str:
    inside = "".join(text for _, _, text in rows)
    return f"<beam>{inside}</beam>" if beamed and len(rows) > 1 else inside


def _note(note: RhythmNote, name: str, *, from_tie: bool) -> str:
    dots = f' dots="{note.dots}"' if note.dots else ""
    length = f'dur="{_DURATIONS[note.value]}"{dots}'
    if note.rest:
        return f'<rest loc="0" {length}/>'
    tie = {(True, True): ' tie="m"', (True, False): ' tie="t"', (False, True): ' tie="i"'}.get(
        (from_tie, note.tied), ""
    )
    signs = " ".join(_SIGNS[sign] for sign in note.articulations)
    played = f' artic="{signs}"' if signs else ""
    buzz = ' stem.mod="z"' if note.stroke and note.stroke.buzz else ""
    return f'{_graces(note)}<note{name} loc="0" stem.dir="up" {length}{tie}{played}{buzz}/>'


def _graces(note: RhythmNote) -> str:
    """Write a flam's grace note or a drag's two."""
    count = note.stroke.graces if note.stroke else 0
    if not count:
        return ""
    value = 8 if count == 1 else 16
    grace = f'<note grace="unacc" loc="0" dur="{value}" stem.dir="up"/>' * count
    return f"<graceGrp>{f'<beam>{grace}</beam>' if count > 1 else grace}</graceGrp>"
