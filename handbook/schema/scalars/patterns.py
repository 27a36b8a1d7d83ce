r"""What an editor can check of a written value: one pattern for each kind.

They are regular expressions of ECMA-262, as JSON Schema draft-07 (6.3.3) asks, which knows
no flag for letter case. They accept every spelling that the models accept, and refuse most
others; what needs reckoning (is there a 30th of February?) only the models know.
"""

from __future__ import annotations

from collections.abc import Iterable

from handbook.domain.values.dates import WEEKDAYS
from handbook.domain.values.keys import Mode
from handbook.domain.values.meter import UNITS
from handbook.domain.values.tempo import BEAT_UNITS
from handbook.schema.site_names import MOST_LETTERS, NO_FOLDERS


def any_case(text: str) -> str:
    """Spell out a text so that each letter may be small or capital; a space may be several."""
    return "".join(_any_case_of(letter) for letter in text)


def _any_case_of(letter: str) -> str:
    if letter == " ":
        return r"\s+"
    if letter in ".+|()[]*?$^\\":
        return "\\" + letter
    low, high = letter.lower(), letter.upper()
    return letter if low == high else f"[{high}{low}]"


def one_of(texts: Iterable[str]) -> str:
    """Match any of the texts, in any letter case, the longest first."""
    return (
        "(" + "|".join(any_case(text) for text in sorted(texts, key=lambda t: (-len(t), t))) + ")"
    )


def whole(pattern: str) -> str:
    """Match nothing beside the pattern but spaces around it."""
    return rf"^\s*({pattern})\s*$"


_DASH = r"\s*[-‐‑–—]\s*"
_WEEKDAY = one_of(
    [*WEEKDAYS, *(name[:3] for name in WEEKDAYS), "Tues", "Weds", "Thur", "Thurs"],
)
_ISO_DATE = r"(19|20|21)\d{2}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])"
_BPM = r"0*([1-9]\d|[1-3]\d{2}|400)(\.\d+)?"
_BEAT_NAMES = one_of(name for unit in BEAT_UNITS for name in (unit, unit.replace(" ", "-")))
_BEAT_SIGNS = "(" + "|".join(
    unit.symbol.replace(".", r"\.")
    for unit in sorted(BEAT_UNITS.values(), key=lambda unit: -len(unit.symbol))
) + ")"  # fmt: skip
_UNIT = "(" + "|".join(str(unit) for unit in sorted(UNITS, reverse=True)) + ")"
_TOP = r"0*([1-9]|[1-5]\d|6[0-4])"
_GROUPS = r"\d+(\s*\+\s*\d+)+"
_ALTER = one_of(
    ["b", "bb", "♭", "♭♭", "𝄫", "#", "##", "♯", "♯♯", "x", "𝄪", "♮", "flat", "sharp", "natural"]
    + [f"double{gap}{kind}" for gap in ("", " ", "-") for kind in ("flat", "sharp")]
)
_MODES = one_of([*Mode, "maj", "min", "mixo"])

_NO_ID = "|".join(("true", "false", *sorted(NO_FOLDERS)))
KEBAB = rf"^\s*(?!({_NO_ID})\s*$)(?=[a-z0-9-]{{1,{MOST_LETTERS}}}\s*$)[a-z0-9]+(-[a-z0-9]+)*\s*$"
_BACK = (
    one_of(
        word.format(letter)
        for letter in "cs"
        for word in ("d{}", "d.{}.", "d.{}", "d. {}.", "d {}")
    )
    + f"|{one_of(['da capo', 'dal segno'])}"
)
ORDER = whole(
    r"[a-z0-9]+(-[a-z0-9]+)*(\s+[xX×]\s*0*([1-9]|1\d|20))?"
    rf"|({any_case('fine')}|{any_case('to coda')}|({_BACK})({one_of([' al fine', ' al coda'])})?)\.?"
)
PLACED_ID = whole(r"([a-z0-9]+(-[a-z0-9]+)*/)?[a-z0-9]+(-[a-z0-9]+)*")
LANGUAGE = r"^[a-z]{2,3}(-[A-Za-z0-9]{1,8}){0,4}$"
FILLED = r"\S"
WHOLE_NUMBER = whole("[0-9]+")
COUNT = r"^([1-9]|[1-5][0-9]|60)$"
NONE_OR_NUMBER = whole(rf"{any_case('none')}|[0-9]+")
NUMBER = whole(r"\d+(\.\d+)?")
_DATE = rf"({_WEEKDAY}\.?,?\s+)?{_ISO_DATE}"
DATE = whole(_DATE)
WEEKDAY = whole(rf"{_WEEKDAY}\.?")
_CLOCK = (
    rf"{any_case('noon')}|(0?[1-9]|1[0-2])(:[0-5]\d)?\s*[AaPp]\.?\s*[Mm]\.?|([01]\d|2[0-3]):[0-5]\d"
)
CLOCK = whole(_CLOCK)
MOMENT = whole(rf"({_DATE}(\s*,\s*|\s+{any_case('at')}\s+|\s+))?({_CLOCK})")
_MARKED = rf"({_BEAT_NAMES}({any_case(' note')})?|{_BEAT_SIGNS})\s*=\s*"
_TEMPO = rf"{_MARKED}{_BPM}(\s*{any_case('bpm')})?"
TEMPO = whole(_TEMPO)
_WHOLE_BPM = r"0*([1-9]\d|[1-3]\d{2}|400)"
PART_TEMPO = whole(
    rf"{_TEMPO}"
    rf"|{_MARKED}{_WHOLE_BPM}\s*([-‐‑–—]|{any_case('to')})\s*{_WHOLE_BPM}(\s*{any_case('bpm')})?"
    rf"|{any_case('free')}({any_case('ly')})?(\s*,)?(\s+{any_case('about')}\s+{_TEMPO})?"
)
BAND = whole(rf"\d+(\.\d+)?(\s*(-|–|{any_case('to')})\s*)\d+(\.\d+)?\s*%?")
METER = whole(
    rf"{one_of(['C', 'common', 'common time', 'cut', 'cut time', 'c|', '¢', 'alla breve'])}"
    rf"|{_TOP}\s*/\s*{_UNIT}(\s*\(\s*{_GROUPS}\s*\))?"
    rf"|\(?\s*{_GROUPS}\s*\)?\s*/\s*{_UNIT}"
)
MEASURES = whole(
    rf"({one_of(['m', 'mm', 'bar', 'bars', 'measure', 'measures'])}\.?\s*)?(?!0+(\D|$))\d{{1,4}}"
    rf"(({_DASH}|\s+{one_of(['to', 'through'])}\s+)(?!0+(\D|$))\d{{1,4}})?"
)
KEY = whole(
    rf"({any_case('concert ')})?[A-Ga-g][\s-]*({_ALTER})?[\s-]+{_MODES}({any_case(' key')})?"
)
_NOTE_VALUE = r"-?[whqest]\.{0,2}[>^*=]*(/[RLrlz]+)?[_+]?"
RHYTHM = whole(
    rf"(pickup\s+)?[\s|]*(\d+\(\s*)?{_NOTE_VALUE}([\s|)]+(\d+\(\s*)?{_NOTE_VALUE})*[\s|)]*"
)
STICKING = whole(r"([RLrlz]\s*)+")
NOTE_NAME = whole(rf"[A-Ga-g][\s-]*({_ALTER})?")
NOTE = whole(rf"[A-Ga-g][\s-]*({_ALTER})?([\s-]*[0-9])?")
PLACED_NOTE = whole(rf"[A-Ga-g][\s-]*({_ALTER})?[\s-]*[0-9]")
MARKS = whole(rf"{one_of(['traditional', 'exact'])}|{any_case('every ')}0*([1-9]|1\d|20)")
OUT = whole(one_of(["none", "all day"]))
COLOR = whole("#?([0-9A-Fa-f]{3}|[0-9A-Fa-f]{6})")
YES_NO = whole(one_of(["yes", "true", "on", "no", "false", "off"]))
