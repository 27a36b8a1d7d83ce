"""The program of a concert: its leaves, and the same folded."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import date, time
from io import BytesIO

import pypdf
import pytest

from handbook.domain.values.paper import Paper
from handbook.domain.values.text import Text
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.page import Context, Page
from handbook.outputs.pages import concert
from handbook.outputs.sheets.kinds.program import program_sheets
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Layout, MadeSheet
from handbook.outputs.sheets.typesetting import typeset
from handbook.schema.handbook import ConcertAhead
from tests.outputs.sheets.making import PUBLISHED, pdf_of
from tests.outputs.sheets.reading import page_texts, words_of
from tests.outputs.sheets.small_plan import (
    ENVIRONMENT,
    lines_of,
    made,
    pdf_on,
    small_plan,
)

CYCLE = small_plan().cycles[-1]
PLAIN, FOLD = "program", "program-fold"
LEAVES = """<section class="cover"><h1>Concert</h1></section>
<section class="leaves">{}</section><section class="back"><p>Thanks</p></section>"""

Program = tuple[Context, Page, dict[str, MadeSheet]]


@pytest.fixture(scope="module", params=["en", "ar"])
def program(request: pytest.FixtureRequest) -> Program:
    context = Context(small_plan(), request.param)
    with context.speaking():
        (page,) = concert.pages(context, CYCLE)
        found = made(context, [page])
    end = f"-{context.language}.pdf"
    begin = "winter/concert/winter-"
    return (
        context,
        page,
        {path.removeprefix(begin).removesuffix(end): sheet for path, sheet in found.items()},
    )


def test_pieces_stand_in_the_order_in_which_they_are_played(program: Program) -> None:
    context, _, sheets = program
    played = [
        bare(context.say(piece.item.title))
        for turn in CYCLE.concerts[0].appearances
        for piece in turn.pieces
    ]
    rows = lines_of(sheets[PLAIN].html, "li")
    assert [row for row, title in zip(rows, played, strict=True) if not row.startswith(title)] == []


@pytest.mark.parametrize(
    ("paper", "half", "whole"),
    [
        # ANSI/ASME Y14.1, 8.5 by 11 in, and its half; ISO 216, A5 and A4 turned.
        (Paper.LETTER, (396, 612), (792, 612)),
        (Paper.A4, (419.53, 595.28), (839.06, 595.28)),
    ],
)
def test_leaves_are_half_a_sheet(
    program: Program, paper: Paper, half: tuple[float, float], whole: tuple[float, float]
) -> None:
    _, _, sheets = program
    for path, size in ((PLAIN, half), (FOLD, whole)):
        for page in pypdf.PdfReader(BytesIO(pdf_on(sheets[path], paper))).pages:
            box = page.mediabox
            assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


def test_folded_it_says_the_same_with_the_cover_at_the_outside(program: Program) -> None:
    context, _, sheets = program
    assert sheets[FOLD].html == sheets[PLAIN].html
    plain, fold = (page_texts(pdf_on(sheets[path])) for path in (PLAIN, FOLD))
    assert len(fold) * 2 == 4 * math.ceil(len(plain) / 4)  # two pages a side, four a sheet
    title = place_of(pdf_on(sheets[FOLD]), "Winter")
    if context.language == "ar":  # whose letters a PDF is not read back in order
        assert title < 396
        return
    # The back is at the left of a sheet that is read from left to right.
    assert title > 396
    assert sorted(words_of(" ".join(plain)).split()) == sorted(words_of(" ".join(fold)).split())
    assert set(words_of(plain[0]).split()) <= set(words_of(fold[0]).split())


def test_each_leaf_of_a_folded_sheet_begins_where_its_language_does(program: Program) -> None:
    context, _, _ = program
    html = '<section class="leaves"><div><p>Mark</p></div></section>'
    direction = "rtl" if context.language == "ar" else "ltr"
    for layout in (Layout.LEAVES, Layout.FOLDED):
        content = pdf_of(html, layout=layout, language=context.language, spoken=context.language)
        side = len(pypdf.PdfReader(BytesIO(content)).pages) // 2
        # A leaf is 396 points wide (ANSI/ASME Y14.1, half of 11 in).
        assert (place_of(content, "Mark", side) % 396 > 198) is (direction == "rtl"), layout


def place_of(content: bytes, word: str, side: int = 0) -> float:
    """Give how far from the left edge of a side a word stands, in points."""
    found: list[float] = []

    def take(text: str, cm: list[float], matrix: list[float], *_: object) -> None:
        if word in text:
            found.append(cm[4] + cm[0] * matrix[4])

    pypdf.PdfReader(BytesIO(content)).pages[side].extract_text(visitor_text=take)
    return found[0]


def words(count: int) -> str:
    return " ".join(f"word{n}" for n in range(count))


@pytest.mark.parametrize("layout", [Layout.LEAVES, Layout.FOLDED])
@pytest.mark.parametrize(
    "text", ["<div><h2>Long</h2><p>{}</p></div>", "<div><p><span lang='es'>{}</span></p></div>"]
)
def test_a_note_longer_than_a_page_goes_on_on_the_next(layout: Layout, text: str) -> None:
    content = pdf_of(LEAVES.format(text.format(words(900))), layout=layout)
    said = re.findall(r"word\d+", " ".join(page_texts(content)))
    assert sorted(said) == sorted(words(900).split())
    if layout is Layout.LEAVES:
        assert said == words(900).split()


def test_a_program_of_many_pieces_loses_none() -> None:
    rows = "".join(
        f"<div><h2>Band {n}</h2><ol class='program'><li><span>piece{n}</span></li></ol></div>"
        for n in range(60)
    )
    for layout in (Layout.LEAVES, Layout.FOLDED):
        said = re.findall(
            r"piece\d+", " ".join(page_texts(pdf_of(LEAVES.format(rows), layout=layout)))
        )
        assert sorted(said) == sorted(f"piece{n}" for n in range(60))


def sheet_with(thanks: int, ahead: int) -> MadeSheet:
    """Give the plain program of a concert that thanks so many, with so many concerts after it."""
    context, one = Context(small_plan(), "en"), CYCLE.concerts[0]
    said = tuple(Text.plain(f"Sponsor {n:02} lends a hand, and a truck.") for n in range(thanks))
    item = one.item.model_copy(update={"thanks": said})
    later = tuple(
        ConcertAhead("next", Text.plain(f"Concert {n}"), date(2027, 3, 4 + n), time(19), "hall")
        for n in range(ahead)
    )
    cycle = replace(CYCLE, ahead=later)
    with context.speaking():
        view = concert.concert_view(context, cycle, replace(one, item=item))
        sheet = next(iter(program_sheets(context, cycle.id, view)))
        return made_sheet(context, ENVIRONMENT, None, sheet)


def test_the_back_says_whom_to_thank_what_comes_next_and_what_the_code_is_for() -> None:
    sheet = sheet_with(2, 3)
    back = words_of(page_texts(typeset(sheet, PUBLISHED))[-1])
    assert "Thanks With thanks to the crew: Stage crew. Sponsor 00 lends a hand" in back
    assert "Next concerts Concert 0 Thu, Mar 4, 7:00 pm, Great Hall Concert 1 Fri, Mar 5" in back
    assert "Scan for this concert’s page, with news and whom to ask. bands" not in back
    assert back.index("Scan for this concert’s page") < back.index("band.example.org")
    # Where the site has no address there is no code.
    assert "Scan" not in " ".join(page_texts(pdf_on(sheet)))


@pytest.mark.parametrize("paper", list(Paper))
def test_too_many_thanks_for_the_back_stand_before_it(paper: Paper) -> None:
    few, many = (
        page_texts(typeset(replace(sheet_with(count, 3), paper=paper), PUBLISHED))
        for count in (5, 20)
    )
    assert [len(re.findall(r"Sponsor \d\d", said)) for said in few][-2:] == [0, 5]
    assert [len(re.findall(r"Sponsor \d\d", said)) for said in many][-2:] == [20, 0]
    for pages in (few, many):
        assert "Concert 2" in pages[-1]
        assert "band.example.org" in pages[-1]


def test_a_cancelled_concert_has_none() -> None:
    context = Context(small_plan(), "en")
    one = CYCLE.concerts[0]
    off = one.item.model_copy(update={"cancelled": one.item.name})
    with context.speaking():
        view = concert.concert_view(context, CYCLE, replace(one, item=off))
        assert list(program_sheets(context, CYCLE.id, view)) == []
