"""Sheets whose letters are the machine's: with other fonts on it they are made anew, and a build goes on."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest

from handbook.cli import main
from handbook.making import kept_sheets
from handbook.making.kept_sheets import WantedSheet, fonts_of, sheets_as_files
from handbook.outputs.sheets import typesetting
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.typesetting import Printed
from handbook.store import Store
from tests.outputs.sheets.making import PUBLISHED, sheet_of
from tests.outputs.sheets.reading import page_texts, words_of
from tests.outputs.sheets.small_plan import CONTENT
from tests.publications import edit

PLAIN, FOREIGN = (
    sheet_of("<h1>Plain</h1>", path="plain.pdf"),
    sheet_of("<h1>აბგ</h1>", path="a.pdf"),
)


def wanted(sheet: MadeSheet, number: int) -> WantedSheet:
    return WantedSheet(sheet.path, f"{number:064}", lambda: (sheet, PUBLISHED))


WANTED = [wanted(PLAIN, 0), wanted(FOREIGN, 1)]


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Gather what is typeset."""
    paths = list[str]()

    def counted(sheet: MadeSheet, imprint: Imprint) -> Printed:
        paths.append(sheet.path)
        return typesetting.printed(sheet, imprint)

    monkeypatch.setattr(kept_sheets, "printed", counted)
    return paths


@pytest.fixture
def other_fonts(monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """Take the machine's fonts away."""

    def taking() -> None:
        monkeypatch.setattr(typesetting, "_is_lent", lambda _: False)
        for module in (typesetting, kept_sheets):
            monkeypatch.setattr(module, "machine_fonts", lambda: "none")

    return taking


def test_only_a_sheet_with_letters_of_the_machine_hangs_on_its_fonts(
    tmp_path: Path, made: list[str], other_fonts: Callable[[], None]
) -> None:
    first = sheets_as_files(WANTED, Store(tmp_path))
    assert made == ["plain.pdf", "a.pdf"]
    assert fonts_of(WANTED, Store(tmp_path)) == typesetting.machine_fonts()
    assert not fonts_of(WANTED[:1], Store(tmp_path))
    made.clear()
    assert [one.digest for one in sheets_as_files(WANTED, Store(tmp_path))] == [
        one.digest for one in first
    ]
    assert made == []

    other_fonts()
    second = sheets_as_files(WANTED, Store(tmp_path))
    assert made == ["a.pdf"]
    assert first[0].digest == second[0].digest
    assert first[1].digest != second[1].digest
    for one in second:
        assert hashlib.sha256(one.read()).hexdigest() == one.digest


def test_a_digest_that_turns_out_wrong_is_not_believed_again(tmp_path: Path) -> None:
    """As after a change that nothing tells of: the build after this one goes on."""
    store = Store(tmp_path)
    store.put(WANTED[0].key, "0" * 64)
    (wrong,) = sheets_as_files(WANTED[:1], store)
    digest = hashlib.sha256(wrong.read()).hexdigest()
    assert wrong.digest != digest
    assert [one.digest for one in sheets_as_files(WANTED[:1], Store(tmp_path))] == [digest]


def test_a_build_goes_on_when_the_machine_has_other_fonts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, other_fonts: Callable[[], None]
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    content = copytree(CONTENT, tmp_path / "band" / "content")
    edit(content / "cycles" / "winter" / "concert.yaml", "White shirt", "აბგ shirt")

    def said(site: str) -> str:
        with pytest.raises(SystemExit) as ended:
            main(["build", str(content), "--site", str(tmp_path / site / "site")])
        assert ended.value.code == 0
        file = "winter/concert/winter-family-ferry-en.pdf"
        return words_of(page_texts((tmp_path / site / "site" / file).read_bytes())[0])

    assert "აბგ shirt" in said("first")
    other_fonts()
    assert "??? shirt" in said("second")
