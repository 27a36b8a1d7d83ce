"""A piece that is no longer rehearsed says so, and asks nothing more of anyone."""

from __future__ import annotations

from pathlib import Path

from tests.content_folders import base_files
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import MUSIC, planned

ANOTHER = """  - id: stone-soup
    title: Stone Soup
    ensemble: lantern
    form: [{name: Whole, measures: 1-24, meter: 4/4, tempo: quarter = 92}]
    passages: [{id: stir, name: Stir the pot, measures: 1-24, goal: quarter = 92}]
"""
SINCE = "Mon, Nov 16"


def pages(folder: Path, another: str) -> dict[str, str]:
    files = {**base_files(), MUSIC: base_files()[MUSIC] + another}
    return {page.path: main_of(page) for page in site_of(planned(folder, files).plan).pages}


def test_it_is_told_on_its_page_and_on_the_bands(tmp_path: Path) -> None:
    dropped = ANOTHER.replace(
        "    ensemble: lantern\n", "    ensemble: lantern\n    dropped: Mon 2026-11-16\n"
    )
    told, kept = pages(tmp_path / "a", dropped), pages(tmp_path / "b", ANOTHER)
    assert f"Not rehearsed since {SINCE}." in told["winter/lantern/stone-soup/"]
    assert f"not rehearsed since {SINCE}" in told["winter/lantern/"]
    for page in kept.values():
        assert "ot rehearsed since" not in page
    assert 'data-from="2026-11-16"' in kept["winter/lantern/stone-soup/"]
    assert 'data-from="2026-11-16"' not in told["winter/lantern/stone-soup/"]
