"""One line of content changes only the files that show it."""

from __future__ import annotations

from pathlib import Path

from handbook.outputs.model import Site
from handbook.outputs.site import render_site
from tests.content_folders import base_files, changed
from tests.plan.planning import MUSIC, planned


def _files(site: Site) -> dict[str, object]:
    return {
        **{page.path: page for page in site.pages},
        **{file.path: file.content for file in site.files},
    }


def test_a_goal_tempo_changes_only_its_bands_pages_today_and_the_search(tmp_path: Path) -> None:
    before = _files(render_site(planned(tmp_path / "before").plan))
    edit = changed(base_files(), MUSIC, "goal: dotted quarter = 80", "goal: dotted quarter = 76")
    after = _files(render_site(planned(tmp_path / "after", {MUSIC: edit[MUSIC]}).plan))
    assert before.keys() == after.keys()
    altered = {name for name in before if before[name] != after[name]}
    bands_own = {name for name in altered if name.startswith("winter/lantern/")}
    assert bands_own
    assert altered - bands_own <= {"", "search/cycles/winter.js"}
