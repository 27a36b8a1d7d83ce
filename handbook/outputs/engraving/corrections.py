"""What the engraver does not do well for one line of rhythm, mended in its drawing.

Words come back in place of their stand-ins, the figures of a meter are moved off the line,
and the halves of a slur that a line break has cut are drawn anew: the engraver lets them hang
through the words below.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping

_SVG = "{http://www.w3.org/2000/svg}"
_NUMBERS = re.compile(r"-?\d+(?:\.\d+)?")
_PLUS = frozenset({"E08C", "E08D"})  # of a meter in groups, SMuFL table "Time signatures"
_PLUS_ROOM, _OFF_LINE = 45, 50  # units on either side of a plus, and between figures and line
_ALL_PLUS_ROOM = 135  # of all pluses on a side, so that the last figure keeps clear of the notes
_UP_TO_HEADS, _DEPTH, _THICKNESS = 85, 42, 34  # units, of half a slur
_SPANNING = "spanning"  # how the engraver marks what goes on from an earlier line


def mend(page: ET.Element, words: Mapping[str, str]) -> None:
    """Mend an engraved page in place; `words` go into the groups whose names they stand under."""
    cut = {name for _, name in _cut_slurs(page)}
    for group in page.iter(f"{_SVG}g"):
        if group.get("id") in words:
            _say(group, words[group.attrib["id"]])
        elif group.get("class") == "meterSig":
            _give_room(group)
        elif group.get("id") in cut:
            _draw_anew(group, at_end=False)
    for group, _ in _cut_slurs(page):
        _draw_anew(group, at_end=True)


def _cut_slurs(page: ET.Element) -> Iterator[tuple[ET.Element, str]]:
    """Give the second halves of slurs, and the names of the first."""
    for group in page.iter(f"{_SVG}g"):
        kind, *marks = group.get("class", "").split()[:3] or [""]
        if kind == "slur" and _SPANNING in marks:
            yield group, marks[0].removeprefix("id-")


def _say(group: ET.Element, word: str) -> None:
    said = next(part for part in group.iter() if part.text and part.text.strip())
    said.text = word


def _give_room(meter: ET.Element) -> None:
    """Move figures off the one line they stand on, and apart from the plus signs of groups."""
    places = [[int(n) for n in _NUMBERS.findall(sign.get("transform", ""))[:2]] for sign in meter]
    lower = max(y for _, y in places)
    pluses = [sign for sign in meter if sign.get("href", "")[1:5] in _PLUS]
    plus_room = min(_PLUS_ROOM, _ALL_PLUS_ROOM // max(1, len(pluses)))
    wider = 0
    for sign, (x, y) in zip(meter, places, strict=True):
        room = plus_room if sign in pluses else 0
        above = y < lower
        wider += room
        right, down = (wider, -_OFF_LINE) if above else (wider // 2, _OFF_LINE)
        moved = f"translate({x + right}, {y + down})"
        sign.set("transform", re.sub(r"translate\([^)]*\)", moved, sign.get("transform", "")))
        wider += room


def _draw_anew(slur: ET.Element, *, at_end: bool) -> None:
    """Draw half a slur anew, between the heads and what is said; its end at a note is kept."""
    path = slur.find(f"{_SVG}path")
    if path is None:
        return
    numbers = [round(float(number)) for number in _NUMBERS.findall(path.get("d", ""))]
    (x1, y1), (x2, y2) = numbers[0:2], numbers[6:8]
    top = (y2 if at_end else y1) - _UP_TO_HEADS
    near, far = (x2, x1) if at_end else (x1, x2)
    third = (far - near) // 3
    low, lower = top + _DEPTH, top + _DEPTH + _THICKNESS
    path.set(
        "d",
        f"M{near},{top} C{near + third},{lower} {far - third},{lower} {far},{low} "
        f"C{far - third},{low + _THICKNESS // 3} {near + third},{low} {near},{top}",
    )
