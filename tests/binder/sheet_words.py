"""What a sheet's template says, page by page, read by a library that has no part in making it."""

from __future__ import annotations

import re
from copy import copy

from bs4 import BeautifulSoup, Tag

from handbook.binder.model import Binder, BinderFile
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Sheet
from tests.outputs.sheets.reading import page_texts

MOST = 7
"""How many steps of giving way a sheet of the binder has."""

_UNSEEN = ".vh, .screen-only, [hidden], svg"


def dense(text: str) -> str:
    """Leave of a text its letters, wherever lines break and whatever stands before an item of a list."""
    return re.sub(r"[\s\u2060•]+", "", text)


def pages_of(binder: Binder, sheet: Sheet) -> list[Tag]:
    """Read what the template of a sheet of pages wrote for each."""
    with binder.context.speaking():
        html = made_sheet(binder.context, binder.environment, None, sheet).html
    return list(BeautifulSoup(html, "lxml").select("body > section"))


def said_by(page: Tag, given: int) -> str:
    """Give what a page says when its parts up to the number `given` gave way."""
    page = copy(page)
    for unseen in page.select(_UNSEEN):
        unseen.decompose()
    for part in page.select("[class*=gives-]"):
        if part.decomposed:
            continue  # it was in a part that gave way
        gone = (
            int(re.findall(r"gives-(\d)", " ".join(map(str, part.get_attribute_list("class"))))[0])
            <= given
        )
        for child in part.find_all(recursive=False):
            if ("instead" in child.get_attribute_list("class")) != gone and not (
                gone and child.name == "h2"
            ):
                child.decompose()
        if gone:
            for text in part.find_all(string=True, recursive=False):
                text.extract()
    return page.get_text()


def given_way(binder: Binder, sheet: Sheet, file: BinderFile, of: str) -> list[int | None]:
    """Tell for each page how many of its parts gave way; None where it does not say all the rest, in order.

    At the head of each stands the notice, at its foot whose it is, its title, what it is `of`, and its version.
    """
    head = binder.context.say(binder.plan.program.name)
    pages = pages_of(binder, sheet)
    texts = page_texts(file.content)
    assert len(texts) == len(pages), [dense(text)[-60:] for text in texts]
    made = []
    for page, text, (_, version) in zip(pages, texts, file.versions, strict=True):
        said = dense(text)
        title = page.h1.get_text() if page.h1 else ""
        steps = (
            given
            for given in range(MOST + 1)
            if said == dense(f"{sheet.notice}{said_by(page, given)}{head}{title}{of}{version}")
        )
        made.append(next(steps, None))
    return made
