"""Bytes of a file to its text, or the one reason why they cannot be read."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape

from handbook.problems import TEXT_TOO_LONG, Address, Code, Edit, Fix, Position, Problem

FILE_TOO_LARGE = Code(
    "file-too-large",
    "A file is larger than 1 MB.",
    "No text that a person writes for one topic is that large; most often a picture or an export got the wrong name.",
    bad="(a file of 4 MB)",
    good="(the music in several files under music/)",
)
NOT_UTF_8 = Code(
    "not-utf-8",
    "A file is not saved as UTF-8.",
    "Letters with accents and music signs come out wrong in other encodings. Choose Save As in the editor and set the encoding to UTF-8.",
    bad="(saved as Windows-1252 or UTF-16)",
    good="(saved as UTF-8)",
)
HIDDEN_CHARACTER = Code(
    "hidden-character",
    "A character stands in a file that cannot be seen.",
    "It came along when text was pasted, and would make two equal names unlike. A code for such a character, as HTML has them (`&shy;`), is refused too.",
    bad="room: band␣room   # where ␣ is a zero-width space",
    good="room: band-room",
)

MOST_BYTES = 1_000_000
MOST_IN_LINE = 20_000  # letters: four of the longest texts

_UTF16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
# Characters that show nothing, and so can only have come along with pasted text, and halves
# of characters. Left alone are the joiners U+200C and U+200D, which some scripts and emoji
# need, and the marks U+200E, U+200F and U+061C of scripts that run from right to left. The
# signs that turn the order of all letters after them are refused: a text could show as
# another than it is (Unicode Technical Report 36, 2.5.1 "Bidirectional Text Spoofing").
HIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u00ad\u180e\u200b\u2028-\u202e\u2060-\u206f"
    "\ud800-\udfff\ufdd0-\ufdef\ufeff\ufff9-\ufffb\ufffe\uffff]"
)
# Codes for characters (HTML, 13.5 "Named character references", 13.2.5.80 "Numeric character
# reference end state"); one of more than eight digits is of no character.
_REFERENCE = re.compile(
    r"&(?:#[xX]?[0-9A-Fa-f]{1,8}|[A-Za-z][A-Za-z0-9]{1,31});|&#[xX]?[0-9A-Fa-f]{9,}"
)
_LONGEST_REFERENCE = 33
# Of those, the ones that show nothing and break no line: taking them out changes nothing seen.
NO_WIDTH = "\u00ad\u200b\u2060\ufeff"
_WITHOUT_WIDTH = re.compile(f"[{NO_WIDTH}]")
_HIDDEN_NAMES = {
    "\x00": "an empty byte",
    "\x0b": "a line break from a word processor",
    "\x0c": "a page break",
    "\x85": "a line break from another system",
    "\u00ad": "a soft hyphen",
    "\u200b": "a zero-width space",
    "\u2028": "a line break from a word processor",
    "\u2029": "a paragraph break from a word processor",
    "\u2060": "a word joiner",
    "\ufeff": "a byte order mark",
    **dict.fromkeys(
        "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069", "a turn of the order of letters"
    ),
}


def decode(file: str, raw: bytes) -> str | Problem:
    """Read a file's bytes as UTF-8 text, of which a byte order mark and carriage returns are dropped.

    Gives a Problem instead for more than 1,000,000 bytes, for another encoding, and for
    the first character that cannot be seen.
    """
    if len(raw) > MOST_BYTES:
        return _too_large(file, len(raw))
    if raw.startswith(_UTF16):
        return _wrong_encoding(
            file, "this file is saved as UTF-16, but must be UTF-8", Position(1, 1)
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return _stray_byte(file, raw, error.start)
    text = one_line_end(text)
    return _hidden(file, text) or _long_line(file, text) or text


def has_hidden(text: str) -> bool:
    """Whether a character in it cannot be seen."""
    return HIDDEN.search(text) is not None


def brings_hidden(text: str) -> bool:
    """Whether a character in it cannot be seen, or a code stands for one."""
    return next(_hidden_places(text), None) is not None


def _hidden_places(text: str) -> Iterator[tuple[int, int, str]]:
    """Give index, length and name of each character that cannot be seen, or of a code for one."""
    yield from ((found.start(), 1, _name(found[0])) for found in HIDDEN.finditer(text))
    for found in _REFERENCE.finditer(text) if "&" in text else ():
        written = found[0]
        if len(written) > _LONGEST_REFERENCE or written[-1] != ";":
            yield found.start(), len(written), "a code that no character has"
        elif HIDDEN.search(sign := unescape(written) or "\x02"):
            yield found.start(), len(written), f"{_name(sign)}, written `{written}`"


def _name(sign: str) -> str:
    return _HIDDEN_NAMES.get(sign, f"code {ord(sign):02X}")


def place(text: str, index: int, length: int = 1) -> Position:
    """Turn an index into the text into a line and column."""
    line = text.count("\n", 0, index)
    return Position(line + 1, index - (text.rfind("\n", 0, index) + 1) + 1, length)


def one_line_end(text: str) -> str:
    """Make all line ends alike, of whatever system."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def lines_to_show(raw: bytes) -> tuple[str, ...]:
    """Give lines to show beside a problem of a file that is no readable text."""
    text = raw[:MOST_BYTES].decode("utf-8-sig", errors="replace")
    return tuple(one_line_end(text).split("\n"))


def _too_large(file: str, size: int) -> Problem:
    return Problem(
        FILE_TOO_LARGE,
        f"this file is {size / MOST_BYTES:.1f} MB, and more than 1 MB cannot be meant",
        (file,),
        "check that it is the right file; music, for instance, may be split over files in music/",
        position=Position(1, 1),
    )


def _wrong_encoding(file: str, message: str, position: Position) -> Problem:
    hint = "choose Save As in the editor, set the encoding to UTF-8, and save again"
    return Problem(NOT_UTF_8, message, (file,), hint, position=position)


def _stray_byte(file: str, raw: bytes, start: int) -> Problem:
    before = one_line_end(raw[:start].decode("utf-8-sig", errors="replace"))
    likely = raw[start : start + 1].decode("cp1252", errors="ignore")
    letter = f"this character, probably `{likely}`," if likely.isprintable() and likely else "this"
    message = f"{letter} is not saved as UTF-8"
    return _wrong_encoding(file, message, place(before, len(before)))


def _hidden(file: str, text: str) -> Problem | None:
    first = min(_hidden_places(text), default=None)
    if first is None:
        return None
    told = hidden_character(text, (file,), place(text, first[0], first[1]))
    edits = (Edit(place(text, found.start()), "") for found in _WITHOUT_WIDTH.finditer(text))
    return replace(told, fix=Fix(edits=tuple(edits))) if text[first[0]] in NO_WIDTH else told


def _long_line(file: str, text: str) -> Problem | None:
    begin = number = 0
    while len(text) - begin > MOST_IN_LINE:
        end = text.find("\n", begin)
        end = len(text) if end < 0 else end
        number += 1
        if end - begin > MOST_IN_LINE:
            message = f"this line has {end - begin:,} letters, and {MOST_IN_LINE:,} are the most that are read"
            hint = "look for what was pasted by mistake, or break the line in several"
            return Problem(TEXT_TOO_LONG, message, (file,), hint, position=Position(number, 1))
        begin = end + 1
    return None


def hidden_character(text: str, address: Address, position: Position) -> Problem:
    """Refuse a text for the first of its characters that cannot be seen."""
    found = sorted(_hidden_places(text))
    name, others = found[0][2], len(found) - 1
    more = f"; after it, {others} more of the kind" if others else ""
    return Problem(
        HIDDEN_CHARACTER,
        f"a character that cannot be seen ({name}) stands here{more}",
        address,
        "delete it by retyping this place; such characters come along when text is pasted",
        position=position,
    )
