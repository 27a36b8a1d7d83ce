"""The style sheet of one school: its color on the screen, head and foot of each sheet on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator

from handbook.domain.school_colors import Shades, dark_shades, light_shades
from handbook.outputs import addresses
from handbook.outputs.i18n import gettext, speech
from handbook.outputs.i18n.languages import direction
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context
from handbook.outputs.web_address import web_address

NAME = "school.css"
_MARK = "\x02"
_SPECIAL = re.compile(r'["\\<>&\x00-\x1f\x7f]')


def school_style(context: Context) -> OutputFile:
    """Make the style sheet, of the program alone."""
    style = "".join((*_colors(context), *_paper(context)))
    return OutputFile(f"{addresses.ASSETS}{context.tree}{NAME}", style.encode())


def _colors(context: Context) -> Iterator[str]:
    """Give the school's color in light and dark; paper is black on white."""
    look = context.plan.program.look
    if look is None:
        return
    light, dark = _variables(light_shades(look.color)), _variables(dark_shades(look.color))
    yield f"@media screen{{:root{{{light}}}:root[data-theme=dark]{{{dark}}}}}\n"
    yield f"@media screen and (prefers-color-scheme:dark){{:root:not([data-theme=light]){{{dark}}}}}\n"


def _variables(shades: Shades) -> str:
    return (
        f"--metal:{shades.text};--metal-line:{shades.line};"
        f"--school:{shades.ground};--on-school:{shades.on_ground}"
    )


def _paper(context: Context) -> Iterator[str]:
    """Give head and foot of each sheet.

    The first sheet begins with the name in the page itself. The printed day is set by the
    page's script, as --printed. Places on a sheet are told by its sides alone.
    """
    program = context.plan.program
    contact = program.contact
    site = (web_address(program.address) or "").partition("//")[2].rstrip("/")
    whom = (context.say(contact.role), contact.phone, contact.email, site)
    name = _text(bare(context.say(program.name)))
    turns = direction(speech().code) == "rtl"
    start, end = ("right", "left") if turns else ("left", "right")
    yield (
        f"@page{{margin:13mm 13mm 15mm;color:#000;font:9pt/1.3 var(--text);"
        f"{'direction:rtl;' if turns else ''}"
        f"@top-{start}{{content:{name}}}"
        f"@top-{end}{{content:var(--printed,none)}}"
        f"@bottom-{start}{{content:{_text(bare(' · '.join(filter(None, whom))))}}}"
        f"@bottom-{end}{{content:{_sheet_number()}}}}}\n"
        f"@page :first{{@top-{start}{{content:none}}}}\n"
    )


def _sheet_number() -> str:
    """Count sheets, in the order that the language has: `counter(page) " of " counter(pages)`."""
    # Translators: at the foot of a printed sheet, as "1 of 3".
    words = gettext(
        "%(page)s of %(pages)s", page=f"{_MARK}page{_MARK}", pages=f"{_MARK}pages{_MARK}"
    )
    parts = words.split(_MARK)
    told = (f"counter({part})" if at % 2 else _text(part) for at, part in enumerate(parts) if part)
    return " ".join(told)


def _text(words: str) -> str:
    """Write a text as CSS Syntax Level 3 has strings: what could end it goes by its number."""
    return '"' + _SPECIAL.sub(lambda found: f"\\{ord(found[0]):x} ", words) + '"'
