"""A sheet is made anew where only what stands at its foot is new."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

from handbook.domain.history import NO_HISTORY
from handbook.making.sheets import sheet_files
from handbook.store import Store
from tests.outputs.sheets.making import sheet_of


def test_with_another_address_of_the_site_a_sheet_has_other_bytes(tmp_path: Path) -> None:
    """Its foot says where the site is, though its own words are the same."""
    sheet, store = sheet_of("<h1>Same</h1>", path="same.pdf"), Store(tmp_path)
    batch: Any = SimpleNamespace(
        batch=SimpleNamespace(sheets=[("same.pdf", "words", "made of")]), sheet=lambda _: sheet
    )

    def digest(address: str) -> str:
        facts = SimpleNamespace(address=address)
        content: Any = SimpleNamespace(
            shared=lambda: SimpleNamespace(facts=facts, zone="America/Chicago"),
            program="program",
            store=store,
        )
        ((file,), _) = sheet_files(content, [batch], NO_HISTORY)
        return file.digest

    first, second = digest("https://one.example.org/"), digest("https://two.example.org/")
    assert first != second
    assert digest("https://one.example.org/") == first
