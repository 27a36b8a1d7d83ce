"""The style sheet of one school: its color on the screen, head and foot of each sheet on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator

from handbook.domain.school_colors import Shades, dark_shades, light_shades
from handbook.outputs import addresses
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context
from handbook.outputs.web_address import web_address

NAME = "school.css"
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
    page's script, as --printed.
    """
    program = context.plan.program
    contact = program.contact
    site = (web_address(program.address) or "").partition("//")[2].rstrip("/")
    whom = (context.say(contact.role), contact.phone, contact.email, site)
    name = _text(bare(context.say(program.name)))
    yield (
        "@page{margin:13mm 13mm 15mm;color:#000;font:9pt/1.3 var(--text);"
        f"@top-left{{content:{name}}}"
        "@top-right{content:var(--printed,none)}"
        f"@bottom-left{{content:{_text(bare(' · '.join(filter(None, whom))))}}}"
        '@bottom-right{content:counter(page) " of " counter(pages)}}\n'
        "@page :first{@top-left{content:none}}\n"
    )


def _text(words: str) -> str:
    """Write a text as CSS Syntax Level 3 has strings: what could end it goes by its number."""
    return '"' + _SPECIAL.sub(lambda found: f"\\{ord(found[0]):x} ", words) + '"'
