"""What must hold of every sheet that a site has: two bands, one concert, three languages.

Read by pypdf, pikepdf, pdfua, PDFium and ZXing, which have no part in making it.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from html import unescape
from itertools import pairwise
from pathlib import Path

import pdfua
import pypdfium2
import pytest
import zxingcpp

from handbook.domain.values.paper import Paper
from handbook.outputs.sheets.model import CREW_POINTS, Imprint, Layout
from handbook.outputs.sheets.nodes import Node, nodes_of
from handbook.outputs.sheets.typesetting import typeset
from tests.outputs.sheets.reading import (
    fonts_embedded,
    metadata,
    page_texts,
    runs,
    structure,
    words_of,
)
from tests.outputs.sheets.small_plan import small_plan
from tests.outputs.sheets.small_site import PublicSheet, public_sheets

IMPRINT = Imprint("https://bands.tollgate.example/", 3, date(2026, 11, 20))
FOOT_POINTS = 12
_OF_ONE_PAGE = {"family", "role", "program"}  # others say what stands on several pages
_KINDS = _OF_ONE_PAGE | {"weeks", "calendar"}
_BLOCKS = frozenset({"h1", "h2", "h3", "h4", "p", "li", "dt", "dd", "td", "th", "caption"})


@pytest.fixture(scope="module")
def sheets() -> list[PublicSheet]:
    return public_sheets(small_plan(), IMPRINT)


def of_kinds(sheets: list[PublicSheet]) -> list[PublicSheet]:
    """Leave one of each kind in each language."""
    found = {(_kind(one), one.made.language): one for one in reversed(sheets)}
    return list(found.values())


def _kind(sheet: PublicSheet) -> str:
    words = re.split(r"[-.]", sheet.made.path.rpartition("/")[2])
    return next(word for word in words if word in _KINDS)


def joined(text: str) -> str:
    """Leave of words what is the same wherever their lines break."""
    return re.sub(r"\s+", "", words_of(text))


def blocks(nodes: list[Node | str], given: int = 0) -> list[str]:
    """Give the words of each line of paragraphs, headings, rows and cells.

    Those of what gives way up to the number `given` are left out, but for its heading and what
    stands in its place; else only what stands in its place is.
    """
    found = []
    for node in nodes:
        if isinstance(node, str):
            continue
        inside = node.get("c", [])
        assert isinstance(inside, list)
        gives = [int(name[6:]) for name in _classes(node) if name.startswith("gives-")]
        if gives and gives[0] <= given:
            inside = [one for one in inside if _stays(one)]
        else:
            inside = [one for one in inside if isinstance(one, str) or not _is_instead(one)]
        if node["t"] in _BLOCKS and not any(_is_block(child) for child in inside):
            found += _with_breaks(inside).split("\n")
        else:
            found += blocks(inside, given)
    return [words for words in found if words.strip()]


def _with_breaks(node: object) -> str:
    if isinstance(node, str):
        return node
    if isinstance(node, list):
        return "".join(map(_with_breaks, node))
    assert isinstance(node, dict)
    return "\n" if node["t"] == "br" else _with_breaks(node.get("c", []))


def _classes(node: Node) -> list[str]:
    found = node.get("k", [])
    assert isinstance(found, list)
    return found


def _is_instead(node: Node) -> bool:
    """Whether something stands on paper alone: in place of a part, or by the code."""
    return not {"instead", "scan"}.isdisjoint(_classes(node))


def _stays(node: Node | str) -> bool:
    return not isinstance(node, str) and (node["t"] == "h2" or _is_instead(node))


def _is_block(node: Node | str) -> bool:
    if isinstance(node, str):
        return False
    inside = node.get("c", [])
    assert isinstance(inside, list)
    return node["t"] in _BLOCKS or any(_is_block(child) for child in inside)


def page_words(html: str) -> str:
    return joined(unescape(re.sub(r"<[^>]*>", "", re.sub(r"<br\s*/?>", " ", html))))


def test_there_are_sheets_in_each_language(sheets: list[PublicSheet]) -> None:
    kinds = {language: set[str]() for language in ("en", "vi", "ar")}
    for one in sheets:
        kinds[one.made.language].add(_kind(one))
    assert all(found >= {"family", "role"} for found in kinds.values())


def test_all_that_a_sheet_says_stands_on_its_page(sheets: list[PublicSheet]) -> None:
    for one in sheets:
        if _kind(one) not in _OF_ONE_PAGE:
            continue
        page = page_words(one.page)
        lost = [words for words in blocks(nodes_of(one.made.html)) if joined(words) not in page]
        assert not lost, one.made.path


def test_a_pdf_says_what_its_sheet_says_and_nothing_else(sheets: list[PublicSheet]) -> None:
    for one in sheets:
        if one.made.layout is Layout.LEAVES:
            assert _lost_on_leaves(one) == [], one.made.path
        if one.made.layout is not Layout.FLOW:  # leaves have no foot, and folded another order
            continue
        nodes = nodes_of(one.made.html)
        variants = [blocks(nodes, given) for given in range(4)]
        if one.made.language == "ar":
            # Readers turn what stands from right to left, each in its own way; words stay whole in one of two,
            # but for one that stands beside a vowel sign.
            said = " ".join((*page_texts(one.content), *_read_by_pdfium(one.content)))
            wanted = [_arabic_words(" ".join(variant)) for variant in variants]
            lost = [sum(word not in said for word in words) for words in wanted]
            assert min(lost) <= 1, one.made.path
            continue
        texts = page_texts(one.content)
        pages = [joined(_without_foot(one, text, n)) for n, text in enumerate(texts)]
        found = "".join(pages).replace("•", "")
        assert found in [joined("".join(variant)) for variant in variants], one.made.path


def _lost_on_leaves(one: PublicSheet) -> list[str]:
    """Give what a program's leaves do not say; in Arabic words, since readers turn its lines."""
    wanted = blocks(nodes_of(one.made.html))
    if one.made.language == "ar":
        said = " ".join((*page_texts(one.content), *_read_by_pdfium(one.content)))
        return [word for word in sorted(_arabic_words(" ".join(wanted))) if word not in said]
    said = joined(" ".join(page_texts(one.content)))
    return [words for words in wanted if joined(words) not in said]


def _without_foot(one: PublicSheet, text: str, page: int) -> str:
    """Take away what stands below the last line of a page, the `page`-th from 0; words may be turned around."""
    lines = text.splitlines()
    first = set((one.made.title if page else one.made.head).split())
    foot = max(n for n, line in enumerate(lines) if first <= set(line.split()))
    return "\n".join(lines[:foot])


def _read_by_pdfium(content: bytes) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(content)]


def _arabic_words(text: str) -> set[str]:
    """Give the words of three letters and more, but for those with a vowel sign, which is said for itself."""
    return set(re.findall(r"(?<![\u0621-\u0652])[\u0621-\u064a]{3,}(?![\u0621-\u0652])", text))


def test_the_checker_of_pdf_ua_finds_nothing(sheets: list[PublicSheet], tmp_path: Path) -> None:
    # pdfua 0.1.3 looks at 16 of the 106 rules of the Matterhorn Protocol for ISO 14289-1.
    for place, one in enumerate(sheets):
        file = tmp_path / f"{place}.pdf"
        file.write_bytes(one.content)
        assert not pdfua.validate(str(file)).findings, one.made.path


def test_headings_descend_one_by_one_and_lists_hold_their_items(sheets: list[PublicSheet]) -> None:
    for one in sheets:
        found = list(structure(one.content).walk())
        levels = [int(node.kind[1]) for node in found if re.fullmatch("H[1-6]", node.kind)]
        assert levels[:1] == [1], one.made.path
        assert all(after <= before + 1 for before, after in pairwise(levels)), one.made.path
        for node in found:
            if node.kind == "L":
                assert {child.kind for child in node.children} <= {"LI", "Caption"}, one.made.path
            if node.kind == "Figure":
                assert node.alt, one.made.path


def test_letters_are_as_large_as_is_promised(sheets: list[PublicSheet]) -> None:
    for one in sheets:
        found = runs(one.content)
        assert min(run.points for run in found) >= FOOT_POINTS - 0.01, one.made.path
        if one.made.points == CREW_POINTS and one.made.language != "ar":
            above = found[: [joined(run.text) for run in found].index(joined(one.made.head))]
            assert min(run.points for run in above) >= CREW_POINTS - 0.01, one.made.path


def test_a_copier_prints_the_foot_of_each(sheets: list[PublicSheet]) -> None:
    # Common practice, no source: copiers leave white up to a quarter of an inch at each edge. PDFium
    # draws 100 dots an inch; a foot is to end 0.35 inch above the edge.
    margin = 34
    for one in of_kinds(sheets):
        for page in pypdfium2.PdfDocument(one.content):
            drawn = page.render(scale=100 / 72, grayscale=True).to_pil()
            lowest = drawn.crop((0, drawn.height - margin, drawn.width, drawn.height))
            assert lowest.getextrema()[0] > 200, one.made.path


def test_a_long_name_of_a_program_takes_one_line_of_the_foot(sheets: list[PublicSheet]) -> None:
    name = (
        "The united bands, orchestras and choirs of the schools of Upper and Lower Tollgate Harbor"
    )
    one = next(one for one in sheets if _kind(one) == "family" and one.made.language == "en")
    content = typeset(replace(one.made, head=name), IMPRINT)
    foot = page_texts(content)[-1].splitlines()[-6:]
    assert any(line.startswith("The united bands") and "…" in line for line in foot), foot
    assert IMPRINT.site.removeprefix("https://") in "".join(foot)


def test_what_is_to_be_one_page_is_one(sheets: list[PublicSheet]) -> None:
    for one in sheets:
        if one.made.one_page and _kind(one) != "role":  # a role with a long list may have two
            assert len(page_texts(one.content)) == 1, one.made.path


@pytest.mark.parametrize("kind", ["family", "calendar", "weeks"])
def test_what_is_to_be_one_page_is_one_of_a4_too(sheets: list[PublicSheet], kind: str) -> None:
    for one in of_kinds(sheets):
        if _kind(one) == kind and (one.made.one_page or kind == "calendar"):
            pages = page_texts(typeset(replace(one.made, paper=Paper.A4), one.imprint))
            assert len(pages) == 1, one.made.path


def test_fonts_are_within_and_nobody_is_named(sheets: list[PublicSheet]) -> None:
    for one in sheets:
        fonts = fonts_embedded(one.content)
        assert fonts, one.made.path
        assert all(fonts.values()), one.made.path
        assert all("Handbook" in name for name in fonts), one.made.path
        told = metadata(one.content)
        assert not {name for name in told if re.search("author|date|producer.*@", name.lower())}
        assert told["/Title"] == one.made.title
        assert one.made.language in told["{http://purl.org/dc/elements/1.1/}language"]


def test_each_is_the_same_bytes_again(sheets: list[PublicSheet]) -> None:
    for one in of_kinds(sheets):
        assert typeset(one.made, one.imprint) == one.content, one.made.path


def test_the_code_leads_to_the_page(sheets: list[PublicSheet]) -> None:
    # Read by ZXing from the page as PDFium draws it, at 108 dots an inch.
    for one in of_kinds(sheets):
        pages = pypdfium2.PdfDocument(one.content)
        drawn = [page.render(scale=1.5, grayscale=True).to_pil() for page in pages]
        found = [code.text for page in drawn for code in zxingcpp.read_barcodes(page)]
        assert found == [f"{IMPRINT.site}{one.made.page}"], one.made.path
