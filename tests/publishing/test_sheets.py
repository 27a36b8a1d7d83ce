"""Sheets to print over several publications: their numbers, which are made again, what is said of them."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from shutil import copytree

import pytest

from handbook.audit import audit
from handbook.audit.concerns import CONCERNS
from handbook.cli import publish_site
from handbook.cli.main import main
from handbook.making import kept_sheets
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.typesetting import Printed, printed
from handbook.pipeline import load_plan
from tests.outputs.sheets.making import pdf_of
from tests.outputs.sheets.reading import page_texts
from tests.outputs.sheets.small_plan import CONTENT
from tests.publications import edit
from tests.published_sites import finished_file

FIRST, SECOND = datetime(2026, 11, 20, 18, tzinfo=UTC), datetime(2026, 12, 1, 18, tzinfo=UTC)
Publish = Callable[..., tuple[set[str], str]]


@pytest.fixture
def publish(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> Publish:
    """Publish a site of two bands in two languages; give which sheets were typeset, and what was said."""
    monkeypatch.chdir(tmp_path)
    copytree(CONTENT, "content")
    made = set[str]()

    def counted(sheet: MadeSheet, imprint: Imprint) -> Printed:
        made.add(sheet.path)
        return printed(sheet, imprint)

    monkeypatch.setattr(kept_sheets, "printed", counted)

    def command(moment: datetime, *options: str) -> tuple[set[str], str]:
        made.clear()
        monkeypatch.setattr(publish_site, "now", lambda: moment)
        with pytest.raises(SystemExit) as ended:
            main(["publish", "content", "--yes", *options])
        out, err = capfd.readouterr()
        assert ended.value.code == 0
        assert not [code for code in CONCERNS if f"explain {code})" in err]
        return set(made), out

    return command


def standing() -> dict[str, bytes]:
    site = Path("published")
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in site.rglob("*.pdf")
        if "media" not in path.parts
    }


def number(sheet: bytes) -> str:
    # In Spanish the number is "N.º", whose sign a reader may give as "°".
    found = re.search(r"N[o.]*[º°]?\.? ?(\d+),", page_texts(sheet)[0])
    return found[1] if found else ""


def test_a_sheet_keeps_number_and_bytes_until_it_says_something_else(publish: Publish) -> None:
    made, said = publish(FIRST)
    first = standing()
    assert made == first.keys()
    families = {path for path in first if "/concert/winter-family-" in f"/{path}"}
    assert len(families) == 4  # two bands in two languages
    assert {number(first[path]) for path in families} == {"1"}
    pages = sum(1 for _ in Path("published").rglob("index.html"))
    assert said.startswith(f"This is the first publication: {pages} pages, all of them new.")

    edit(
        Path("content/cycles/winter/concert.yaml"),
        "attire: [White shirt, Black shoes]",
        "attire: [White shirt, Dark shoes]",
    )
    made, said = publish(SECOND, "--json")
    assert made == families
    second = standing()
    assert second.keys() == first.keys()
    assert {path for path in first if first[path] != second[path]} == families
    assert {number(second[path]) for path in families} == {"2"}
    # The concert's page in both languages; sheets are no pages.
    assert json.loads(said)["pages"] == {"changed": 2, "new": 0, "gone": 0}


def test_the_audit_asks_nothing_about_a_sheet_but_reads_documents_of_the_director() -> None:
    plan = load_plan(CONTENT).plan
    assert plan is not None
    sheet = pdf_of("<h1>Trip</h1><p>Call 555-0199</p>")
    assert (
        audit([finished_file("winter/concert/winter-family-ferry-en.pdf", sheet)], plan, CONTENT)
        == ()
    )
    found = audit([finished_file("media/trip.pdf", sheet)], plan, CONTENT)
    assert "phone-number" in [one.concern.code for one in found]
