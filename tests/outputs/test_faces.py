"""Typefaces of languages whose letters the site's own lack."""

from __future__ import annotations

import re
import subprocess
import sys
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from handbook.outputs.faces import faces_for, faces_of, first_fonts, letters_of
from handbook.outputs.model import OutputFile
from handbook.resources import templates_folder

# The 134 letters that Vietnamese has beside those of ASCII, in the order of RFC 1456 (VISCII),
# lower case; the capitals are theirs.
VIETNAMESE = "àảãáạằẳẵắặầẩẫấậèẻẽéẹềểễếệìỉĩíịòỏõóọồổỗốộờởỡớợùủũúụừửữứựỳỷỹýỵăâđêôơư"
# The letters of Arabic as in the block "Based on ISO 8859-6" of the Unicode code charts.
ARABIC = "ءآأؤإئابةتثجحخدذرزسشصضطظعغفقكلمنهوىي"
PUNCTUATION = "،؛؟"
OWN = templates_folder() / "assets" / "fonts" / "atkinson-hyperlegible-next.woff2"


def rules(files: tuple[OutputFile, ...]) -> list[tuple[str, str, frozenset[str]]]:
    """Give family, place and letters of each typeface in the style sheet."""
    style = files[0].content.decode()
    found = re.findall(
        r'@font-face{font-family:"([^"]+)";src:url\(([^)]+)\).*?unicode-range:([^}]+)}', style
    )
    return [(family, place, _in_ranges(ranges)) for family, place, ranges in found]


def _in_ranges(ranges: str) -> frozenset[str]:
    letters = set[str]()
    for one in ranges.split(","):
        first, _, last = one.removeprefix("U+").partition("-")
        letters |= {chr(code) for code in range(int(first, 16), int(last or first, 16) + 1)}
    return frozenset(letters)


def of_family(files: tuple[OutputFile, ...], family: str) -> set[str]:
    return {letter for own, _, letters in rules(files) for letter in letters if own == family}


def fonts(files: tuple[OutputFile, ...]) -> dict[str, bytes]:
    return {
        file.path.removeprefix("assets/"): file.content
        for file in files
        if file.path.endswith(".woff2")
    }


def test_a_vietnamese_page_has_every_letter_in_text_and_titles() -> None:
    files = faces_for("vi", "")
    both = {*VIETNAMESE, *VIETNAMESE.upper()}
    assert len(both) == 134
    beyond = {letter for letter in both if ord(letter) > 0xFF}
    assert beyond <= of_family(files, "Handbook More")
    assert beyond <= of_family(files, "Handbook More Title")


def test_an_arabic_page_has_every_letter_and_the_forms_that_join() -> None:
    files = faces_for("ar", "")
    for family in ("Handbook More", "Handbook More Title"):
        assert {*ARABIC, *PUNCTUATION} <= of_family(files, family)
    for content in fonts(files).values():
        font = TTFont(BytesIO(content))
        features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}
        # OpenType 1.9, "Developing OpenType Fonts for Arabic Script": these are required.
        assert {"init", "medi", "fina", "rlig"} <= features


@pytest.mark.parametrize(
    ("language", "letters"),
    [("pl", "ąćęłńóśźż"), ("tr", "ğıİşç"), ("ru", "абвгёэюя"), ("uk", "їієґ")],
)
def test_other_alphabets_have_their_letters(language: str, letters: str) -> None:
    # From each language's alphabet in the Unicode CLDR, exemplar characters.
    own = {*map(chr, TTFont(OWN).getBestCmap())}
    assert {*letters} <= own | of_family(faces_for(language, ""), "Handbook More")


@pytest.mark.parametrize("language", ["en", "es", "ht", "fr", "zh-Hans", "ja", "sr-Latn"])
def test_other_languages_pay_nothing(language: str) -> None:
    assert faces_of(language) is None
    assert faces_for(language, "ếمب中") == ()
    assert first_fonts(language) == ()


def test_a_build_without_such_a_language_does_not_read_fonts() -> None:
    code = (
        "import sys; from handbook.outputs.faces import *; faces_for('es', 'x');"
        "first_fonts('vi'); import handbook.outputs.site; print('fontTools' in sys.modules)"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "False"


@pytest.mark.parametrize("language", ["vi", "ar", "pl", "ru"])
def test_each_font_has_just_the_letters_that_it_is_asked_for(language: str) -> None:
    files = faces_for(language, "ặپ中")
    made = fonts(files)
    assert {place for _, place, _ in rules(files)} == set(made)
    for _, place, letters in rules(files):
        assert {chr(code) for code in TTFont(BytesIO(made[place])).getBestCmap()} == letters


@pytest.mark.parametrize("language", ["vi", "ar", "pl", "ru"])
def test_what_each_page_loads_is_small_and_asked_for_at_once(language: str) -> None:
    made = fonts(faces_for(language, ""))
    assert set(first_fonts(language)) == set(made)
    assert sum(map(len, made.values())) < 60_000


def test_letters_of_the_pages_are_there_beside_the_alphabet() -> None:
    assert "پ" not in of_family(faces_for("ar", ""), "Handbook More")  # a letter of Persian
    assert "پ" in of_family(faces_for("ar", "پ"), "Handbook More")


def test_the_same_letters_give_the_same_bytes_in_any_order() -> None:
    assert faces_for("ar", "پچ") == faces_for("ar", "چپ")


def test_each_license_goes_with_its_fonts() -> None:
    files = {file.path: file.content for file in faces_for("ar", [], "assets/ar/")}
    told = [content for path, content in files.items() if path.endswith("-OFL.txt")]
    assert len(told) == 2
    assert all(b"SIL Open Font License, Version 1.1" in text for text in told)
    assert all(path.startswith("assets/ar/") for path in files)


def test_the_letters_of_two_faces_are_of_one_height() -> None:
    own = TTFont(OWN)
    for source in ("vietnamese", "cyrillic"):
        other = TTFont(templates_folder() / "faces" / f"noto-sans.{source}.woff2")
        size = float(re.findall(r"size-adjust:([\d.]+)%", _style("vi"))[0]) / 100
        assert own["OS/2"].sxHeight == pytest.approx(other["OS/2"].sxHeight * size, abs=1)


def _style(language: str) -> str:
    return faces_for(language, "")[0].content.decode()


def test_letters_are_told_once() -> None:
    assert letters_of("Đường đến trường · née") == "".join(sorted({*"Đườđế"}))
