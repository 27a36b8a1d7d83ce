"""Sheets as PDF: what must hold of every one of them, read by pypdf, pikepdf and pdfua."""

from __future__ import annotations

from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path
from zoneinfo import ZoneInfo

import pdfua
import pypdf
import pytest
import segno

from handbook.domain.history import History, PageRecord, Publication
from handbook.domain.tables.letters import ON_SHEETS
from handbook.domain.values.paper import Paper
from handbook.outputs.sheets import typesetting
from handbook.outputs.sheets.model import Imprint
from handbook.outputs.sheets.qr import qr_drawing
from handbook.outputs.sheets.typefaces import letters_of_all
from handbook.outputs.sheets.typesetting import imprint_of, words_digest
from tests.outputs.sheets.making import SITE, pdf_of, sheet_of
from tests.outputs.sheets.reading import (
    fonts_embedded,
    metadata,
    page_texts,
    runs,
    structure,
    words_of,
)
from tests.outputs.sheets.test_nodes import ADDRESS

WHOLE = """
<div class="title"><h1>Winter Concert</h1><p class="lead"><b>Thursday</b><br>B♭ and F♯</p></div>
<section class="row"><h2>Wear</h2><div><ul class="ticks"><li><input type="checkbox"> Black shoes</li></ul></div></section>
<h2>The day</h2>
<table><thead><tr><th>When</th><th>What</th></tr></thead>
<tbody><tr><td>5:20</td><td>Bus</td></tr><tr><td>6:00</td><td>Warm-up</td></tr></tbody></table>
<svg role="img" aria-label="a square" viewBox="0 0 9 9"><path fill="currentColor" d="M1 1h7v7h-7z"/></svg>
<ol><li>First</li><li>Second</li></ol>
"""
LONG = "<h1>Long</h1><ul>{}</ul>".format


def rows(count: int) -> str:
    return LONG("".join(f"<li>Row number {n}</li>" for n in range(count)))


@pytest.fixture(scope="module")
def whole() -> bytes:
    return pdf_of(WHOLE)


def test_the_checker_of_pdf_ua_finds_nothing(whole: bytes, tmp_path: Path) -> None:
    # pdfua 0.1.3 looks at 16 of the 106 rules of the Matterhorn Protocol for ISO 14289-1.
    place = tmp_path / "sheet.pdf"
    place.write_bytes(whole)
    assert not pdfua.validate(str(place)).findings


def test_it_says_that_it_is_pdf_ua_and_names_nobody(whole: bytes) -> None:
    found = metadata(whole)
    assert found["{http://www.aiim.org/pdfua/ns/id/}part"] == "1"
    assert found["/Title"] == "Winter Concert: Beacon"
    assert not {name for name in found if "author" in name.lower() or "date" in name.lower()}
    assert not {name for name in found if name.endswith("}creator")}  # dc:creator is a person


def test_its_structure_is_that_of_the_html(whole: bytes) -> None:
    kinds = [one.kind for one in structure(whole).walk()]
    assert [kind for kind in kinds if kind.startswith("H")] == ["H1", "H2", "H2"]
    assert kinds.count("Table") == 1
    assert (kinds.count("TH"), kinds.count("TD"), kinds.count("THead")) == (2, 4, 1)
    assert (kinds.count("L"), kinds.count("LI")) == (2, 3)
    pictures = [one.alt for one in structure(whole).walk() if one.kind == "Figure"]
    assert pictures == ["band.example.org/winter/concert", "a square"]


def test_all_its_fonts_are_in_it(whole: bytes) -> None:
    found = fonts_embedded(whole)
    assert found
    assert all(found.values())
    assert {name.partition("+")[2].split("-")[1] for name in found} >= {"Text", "Title", "Signs"}


def test_no_letter_is_smaller_than_is_promised(whole: bytes) -> None:
    assert min(run.points for run in runs(whole)) >= 12 - 0.01
    crew = pdf_of(WHOLE, points=14)
    foot = ("Bands of the school", "example.org", "No. 3")
    body = [run for run in runs(crew) if not any(words in run.text for words in foot)]
    assert min(run.points for run in body) >= 14 - 0.01


def test_the_same_sheet_is_the_same_bytes(whole: bytes) -> None:
    assert pdf_of(WHOLE) == whole


def test_it_says_its_words_once_and_in_order(whole: bytes) -> None:
    (said,) = page_texts(whole)
    expected = "Winter Concert Thursday B♭ and F♯ Wear Black shoes The day When What 5:20 Bus 6:00 Warm-up 1. First 2. Second"
    assert words_of(said.replace("\x00", "")).startswith(expected)


def test_the_foot_has_school_address_publication_and_page(whole: bytes) -> None:
    said = words_of(page_texts(whole)[0])
    assert said.endswith("Bands of the school No. 3, Nov 20, 2026 band.example.org/winter/concert")
    unpublished = words_of(page_texts(pdf_of(WHOLE, Imprint()))[0])
    assert unpublished.endswith("Bands of the school")
    # Where there is one page alone, nobody looks for another.
    pages = [words_of(page) for page in page_texts(pdf_of(rows(100)))]
    assert [page.rpartition("concert ")[2] for page in pages] == [
        f"{n} of {len(pages)}" for n in range(1, len(pages) + 1)
    ]


def test_words_are_never_read_as_code() -> None:
    words = '#pagebreak() *no* _no_ $x$ `a` \\ <label> @ref = ~ // -- ... "q" #{1+1}'
    escaped = words.replace("<", "&lt;").replace(">", "&gt;")
    said = words_of(page_texts(pdf_of(f"<h1>A</h1><p>{escaped}</p>"))[0])
    assert words in said.replace("”", '"').replace("“", '"')


@pytest.mark.parametrize(
    ("paper", "landscape", "size"),
    [
        # ANSI/ASME Y14.1: 8.5 by 11 in; ISO 216: 210 by 297 mm.
        ("letter", False, (612, 792)),
        ("letter", True, (792, 612)),
        ("a4", False, (595.276, 841.89)),
        ("a4", True, (841.89, 595.276)),
    ],
)
def test_paper_has_its_size(paper: str, landscape: bool, size: tuple[float, float]) -> None:
    content = pdf_of("<h1>A</h1>", paper=Paper(paper), landscape=landscape)
    box = pypdf.PdfReader(BytesIO(content)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


@pytest.mark.parametrize("landscape", [False, True])
def test_lines_are_set_closer_where_that_saves_a_page(landscape: bool) -> None:
    fits_closer = next(
        count
        for count in range(5, 80)
        if len(page_texts(pdf_of(rows(count), one_page=False, landscape=landscape))) > 1
    )
    assert len(page_texts(pdf_of(rows(fits_closer), landscape=landscape))) == 1
    assert len(page_texts(pdf_of(rows(fits_closer * 2), landscape=landscape))) == 2


def test_a_notice_stands_on_each_page() -> None:
    pages = page_texts(pdf_of(rows(100), notice="Private: for the director."))
    assert len(pages) > 1
    assert all("Private: for the director." in page for page in pages)


def test_the_code_is_the_smallest_that_holds_the_address() -> None:
    # ISO/IEC 18004, capacity of byte mode at level M: version 2 holds 26 bytes, version 3 42.
    # A quiet zone of 4 modules on each side; a side has 17 + 4 * version.
    for length, version in ((26, 2), (27, 3), (42, 3), (43, 4)):
        address = ("https://band.example.org/" + "a" * 99)[:length]
        side = 17 + 4 * version + 8
        assert f'viewBox="0 0 {side} {side}"' in qr_drawing(address)
        assert segno.make_qr(address, error="m", boost_error=False).version == version


def test_letters_that_the_site_lacks_come_from_the_machine() -> None:
    # Georgian is in none of the site's typefaces; DejaVu Sans, which the tests want, has it.
    content = pdf_of("<h1>A</h1><p>Sing აბგ twice</p>")
    assert "Sing აბგ twice" in words_of(page_texts(content)[0])
    assert all(fonts_embedded(content).values())


NAMES = "Łódź Dvořák Bartók Ğazi Đorđe Čiurlionis Nguyễn Чайковский Ωδή ẞ Ǎ Ș"
SIGNS = "→ ✓ ☐ ★ № ″ ⅓ ① † 2‑inch F𝄪 B𝄫"


@pytest.mark.parametrize("lost", ["", "\U000f0000", "🎺"])
@pytest.mark.parametrize("words", [NAMES, SIGNS])
def test_names_and_signs_are_set_in_our_typefaces_whatever_else_is_lost(
    monkeypatch: pytest.MonkeyPatch, words: str, lost: str
) -> None:
    """On a machine without any font, and beside a letter that nothing has."""
    monkeypatch.setattr(typesetting, "_is_lent", lambda _: False)
    content = pdf_of(f"<h1>{words}</h1><p>Bring <b>{words} {lost}</b></p>")
    said = words_of(page_texts(content)[0])
    assert said.count(words) == 2
    assert ("?" in said) is bool(lost)
    assert all(name.partition("+")[2].startswith("Handbook") for name in fonts_embedded(content))


def test_the_table_of_letters_is_that_of_the_typefaces() -> None:
    """As the fonts say themselves (OpenType 1.9.1, "cmap")."""
    found = letters_of_all()
    assert {one for one in found if one.isprintable()} == set(filter(str.isprintable, ON_SHEETS))


def test_a_letter_that_the_machine_has_stands_beside_one_that_nothing_has() -> None:
    content = pdf_of("<h1>A</h1><p>Sing აბგ \U000f0000 twice</p>")
    assert "Sing აბგ ? twice" in words_of(page_texts(content)[0])


@pytest.mark.parametrize("letter", ["\U000f0000", "\ue000\ufe0f"])
def test_a_letter_that_no_font_has_is_a_question_mark_and_the_rest_stands(letter: str) -> None:
    # Private use (The Unicode Standard, 23.5): no font of the site, and none of a usual machine.
    content = pdf_of(f"<h1>A</h1><p>Bring {letter} mallets &amp; B♭</p>", title=f"A {letter}")
    assert "Bring ? mallets & B♭" in words_of(page_texts(content)[0])
    assert metadata(content)["/Title"] == "A ?"
    assert all(name.partition("+")[2].startswith("Handbook") for name in fonts_embedded(content))


@pytest.mark.parametrize("word", [ADDRESS, "Multipurpose" * 12, f"https://{ADDRESS}/a/b/c/d"])
@pytest.mark.parametrize(
    "around", ["<p>{}</p>", "<h1>{}</h1>", "<table><tr><td>{}</td><td>Row</td></tr></table>"]
)
def test_a_word_longer_than_a_line_ends_on_the_paper_and_is_copied_whole(
    word: str, around: str
) -> None:
    content = pdf_of(around.format(f"Write to <b>{word}</b> today"))
    margin = 15 / 25.4 * 72
    for run in runs(content):
        if run.text.strip():
            assert run.x >= margin - 1
            # On the average letters are wider than 0.4 of their size.
            assert run.x + len(run.text.strip()) * run.points * 0.4 < 8.5 * 72 - margin, run
    assert word in "".join(page_texts(content)[0].split())


@pytest.mark.parametrize("language", ["vi", "ar", "es"])
def test_other_languages_are_set_in_the_typefaces_of_the_site(language: str) -> None:
    words = {"vi": "Buổi hòa nhạc mùa đông", "ar": "حفل الشتاء", "es": "¿Qué llevar? Ñandú"}[
        language
    ]
    content = pdf_of(
        f"<h1>{words}</h1><p>{words}</p>",
        language=language,
        spoken=language,
        languages=("en", language),
    )
    fonts = {name.partition("+")[2] for name in fonts_embedded(content)}
    assert all(name.startswith("Handbook") for name in fonts)
    serif = {name for name in fonts if "naskh" in name or "Title" in name or "fraunces" in name}
    assert {name for name in fonts - serif if "Regular" in name}  # texts are in the face of texts
    assert metadata(content)["{http://purl.org/dc/elements/1.1/}language"] == f"{{'{language}'}}"


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("vi", "Chỗ xe buýt đến, buổi diễn của cả đội"),
        ("ar", "حفل الشتاء موقف حافلات المدرسة لأن الأحد نوفمبر"),
    ],
)
def test_each_letter_is_said_once_to_who_copies_it(language: str, words: str) -> None:
    """A letter that is drawn in parts would be said once for each of them.

    The reader gives words from right to left in the order in which they lie on the page.
    """
    content = pdf_of(
        f"<h1>{words}</h1><p>{words}</p>",
        language=language,
        spoken=language,
        languages=("en", language),
    )
    said = page_texts(content)[0].split()
    for word in words.split():
        assert sum(word in one for one in said) >= 2, word


def test_a_sheet_keeps_the_number_of_the_publication_that_first_said_so() -> None:
    sheet, zone = sheet_of(WHOLE), ZoneInfo("America/Chicago")
    first, second = datetime(2026, 11, 20, 3, tzinfo=UTC), datetime(2026, 11, 24, tzinfo=UTC)
    words = words_digest(sheet)
    history = History(
        publications=(Publication(1, first, "a"),),
        pages={sheet.path: PageRecord(words, first)},
        coming=Publication(2, second, ""),
    )
    # 03:00 UTC is the evening before in Chicago (6 hours behind in November).
    assert imprint_of(sheet.path, words, SITE, history, zone) == Imprint(
        SITE, 1, date(2026, 11, 19)
    )
    new = words_digest(sheet_of(WHOLE.replace("Bus", "Van")))
    assert imprint_of(sheet.path, new, SITE, history, zone) == Imprint(SITE, 2, date(2026, 11, 23))
    assert imprint_of(sheet.path, words, SITE) == Imprint(SITE)


PARTS = """
<h1>A</h1>
<section><h2>Call</h2><p>Be at the bus</p></section>
<section class="gives-2"><h2>The day</h2>{day}<p class="instead">the day is elsewhere</p></section>
<section class="gives-1"><h2>Program</h2>{program}<p class="instead">the program is elsewhere</p></section>
"""


@pytest.mark.parametrize(
    ("day", "program", "gone"),
    [(5, 5, ()), (5, 60, ("program",)), (60, 5, ("program", "day")), (60, 60, ("program", "day"))],
)
def test_parts_give_way_in_order_and_say_so(day: int, program: int, gone: tuple[str, ...]) -> None:
    html = PARTS.format(
        day="".join(f"<p>Step {n}</p>" for n in range(day)),
        program="".join(f"<p>Piece {n}</p>" for n in range(program)),
    )
    (said,) = page_texts(pdf_of(html))
    for part, line in (("day", "Step 4"), ("program", "Piece 4")):
        assert (f"the {part} is elsewhere" in said) is (part in gone)
        assert (line in said) is (part not in gone)
    for heading in ("Call", "The day", "Program"):
        assert heading in said


def test_what_never_gives_way_goes_on_another_page_whole() -> None:
    html = PARTS.format(day="<p>Step 0</p>", program="<p>Piece 0</p>").replace(
        "<p>Be at the bus</p>", "".join(f"<p>Line {n}</p>" for n in range(80))
    )
    said = " ".join(page_texts(pdf_of(html)))
    assert "Line 79" in said
    assert "Step 0" in said
    assert "elsewhere" not in said


def test_what_stands_beside_a_time_begins_at_one_place() -> None:
    html = (
        '<h1>A</h1><ol class="times"><li><b class="num">9:00 pm</b> <span>First</span></li>'
        '<li><b class="num">by 10:30 pm</b> <span>Second</span></li></ol>'
    )
    content = pdf_of(html)
    starts = {run.text.strip(): run.x for run in runs(content)}
    assert starts["First"] == pytest.approx(starts["Second"], abs=0.01)
    assert starts["by 10:30 pm"] == pytest.approx(starts["9:00 pm"], abs=0.01)
    kinds = [one.kind for one in structure(content).walk()]
    assert (kinds.count("L"), kinds.count("LI")) == (1, 2)
