"""The search index: a script whose rows lead to places that exist."""

from __future__ import annotations

import json
import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from handbook.outputs.model import Site
from handbook.outputs.site import _weight, render_site
from tests.outputs.rendering import site_of
from tests.plan.planning import planned

Row = dict[str, str | int]
_COMMON = re.compile(
    r"globalThis\.handbookSearchRows=(\[.*\]);\nglobalThis\.handbookSearchParts=(\[.*\]);\n"
)
_PART = re.compile(r"globalThis\.handbookSearchRows\.push\(\.\.\.(\[.*\])\);\n")


@pytest.fixture
def site(tmp_path: Path) -> Site:
    plan = planned(tmp_path).plan
    assert plan is not None
    return site_of(plan)


@pytest.fixture
def rows(site: Site) -> list[Row]:
    scripts = {
        file.path: file.content.decode() for file in site.files if file.path.startswith("search/")
    }
    found = _COMMON.fullmatch(scripts["search/index.js"])
    assert found
    loaded: list[Row] = json.loads(found[1])
    for part in json.loads(found[2]):
        rows = _PART.fullmatch(scripts[part["u"]])
        assert rows
        loaded += json.loads(rows[1])
    return loaded


def test_rows_of_a_cycle_stand_in_its_own_part(site: Site) -> None:
    parts = {file.path: file.content.decode() for file in site.files if "/cycles/" in file.path}
    assert list(parts) == ["search/cycles/winter.js"]
    found = _PART.fullmatch(parts["search/cycles/winter.js"])
    assert found
    assert {str(row["u"]).partition("/")[0] for row in json.loads(found[1])} == {"winter"}
    common = next(file.content.decode() for file in site.files if file.path == "search/index.js")
    assert '"u":"winter/' not in common


def test_every_page_is_in_it(site: Site, rows: list[Row]) -> None:
    listed = {str(row["u"]).partition("#")[0] for row in rows}
    # Changes are found, as in the menu, once something is published.
    assert listed == {page.path for page in site.pages} - {"changes/"}


def test_every_place_exists(site: Site, rows: list[Row]) -> None:
    ids = {page.path: set(re.findall(r'\sid="([^"]+)"', page.body)) for page in site.pages}
    lost = [
        row["u"]
        for row in rows
        for path, _, anchor in [str(row["u"]).partition("#")]
        if anchor and anchor not in ids[path]
    ]
    assert lost == []


def test_rows_have_words_and_no_waste(rows: list[Row]) -> None:
    for row in rows:
        assert set("utxkp") <= row.keys() <= set("utxkpdewa")
        assert row["t"]
        assert "<" not in str(row["t"])
        assert "  " not in str(row["x"])


def test_rehearsals_and_concerts_carry_their_day(rows: list[Row]) -> None:
    dated = {str(row["u"]): str(row["d"]) for row in rows if "d" in row}
    assert dated
    for address, day in dated.items():
        assert re.fullmatch(r"\d{4}-\d{2}-\d{2}", day)
        assert re.search(rf"#([a-z-]+-)?{day}", address) or "/concert/" in address


def test_rows_of_a_cycle_carry_its_end(rows: list[Row]) -> None:
    ends = {row.get("e") for row in rows if str(row["u"]).startswith("winter/")}
    assert len(ends) == 1
    assert {row.get("e") for row in rows if str(row["u"]).startswith("words/")} == {None}


def test_a_passage_answers_for_each_of_its_measures(site: Site, rows: list[Row]) -> None:
    for row in rows:
        span = re.match(r"mm\. (\d+)–(\d+) goal", str(row["x"]))
        if span:
            wanted = {f"m{measure}" for measure in range(int(span[1]), int(span[2]) + 1)}
            assert wanted <= set(str(row["k"]).split()), row["t"]


def test_a_second_rendering_gives_the_same_bytes(tmp_path: Path, site: Site) -> None:
    plan = planned(tmp_path).plan
    assert plan is not None
    assert render_site(plan).files == site.files


def test_places_in_parts_and_what_is_asked_first_of_a_concert_are_weighed_otherwise() -> None:
    def weight(kind: str, anchor: str = "") -> float:
        page: Any = SimpleNamespace(kind=kind)
        entry: Any = SimpleNamespace(anchor=anchor)
        return _weight(page, entry)

    assert weight("calendar") == weight("concert", "times") == weight("part") == 0  # as any
    assert weight("concert") > weight("concert", "pick-up") == weight("concert", "call") > 1
    assert 0 < weight("part", "tuning") < 1
