"""The small folder of two bands, planned once, and its sheets in a language."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from html import unescape
from pathlib import Path

from handbook.domain.values.paper import Paper
from handbook.outputs.html.environment import page_environment
from handbook.outputs.i18n.other_language import told
from handbook.outputs.page import Context, Page
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.typesetting import typeset
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from handbook.resources import templates_folder

CONTENT = Path(__file__).parents[2] / "sites" / "two-bands" / "content"
ENVIRONMENT = page_environment(templates_folder())
_TAGS = re.compile(r"<(script|style|template)\b.*?</\1>|<[^>]+>", re.DOTALL)
_SPOKEN = re.compile(r'<span class="vh">.*?</span>')


@cache
def small_plan() -> Plan:
    plan = load_plan(CONTENT).plan
    assert plan is not None
    return replace(plan, languages=("en", "vi", "ar"))


def made(context: Context, pages: Iterable[Page]) -> dict[str, MadeSheet]:
    """Write the sheets of pages, by their paths."""
    return {
        sheet.path: made_sheet(context, ENVIRONMENT, page, sheet)
        for page in pages
        for sheet in page.sheets
    }


def pdf_on(sheet: MadeSheet, paper: Paper = Paper.LETTER) -> bytes:
    return typeset(replace(sheet, paper=paper), Imprint())


def words_on(context: Context, page: Page) -> str:
    """Give the words of a page as they are read on paper, in order."""
    template = ENVIRONMENT.get_template(f"pages/{page.kind}.html.j2")
    names = dict.fromkeys(
        ("concert.js", "know_first.js", "practice.js", "tonight.js", "sound.js", "click.js",
         "drone.js", "player.js", "warm_up.js"), "",
    )  # fmt: skip
    ENVIRONMENT.globals["versions"] = names
    html = template.render(view=page.view, say=context.say, root="", top="")
    shown = told(html, context.language).html
    return _plain(shown)


def lines_of(html: str, tag: str) -> list[str]:
    """Give the words of all elements of a sheet that have this tag."""
    found = re.findall(rf"<{tag}\b[^>]*>(.*?)</{tag}>", html, re.DOTALL)
    return [_plain(one) for one in found]


def stands_in(line: str, page: str) -> bool:
    """Whether a page says the words of a line together, but for the signs between them."""
    return "".join(line.split()) in "".join(page.split())


def _plain(html: str) -> str:
    return " ".join(unescape(_TAGS.sub("", _SPOKEN.sub("", html))).split())


def plain(html: str) -> str:
    words = " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).replace("\u00a0", " ").split())
    return words.replace(" :", ":")


def evenings_on(sheet: MadeSheet) -> list[list[str]]:
    """Give the lines of each evening: its day of the week, day, minutes, then what is played."""
    found = re.findall(r'<p class="evening">(.*?)</p>', sheet.html, re.DOTALL)
    return [[plain(line) for line in re.split("<br>|</b></span>", one)] for one in found]
