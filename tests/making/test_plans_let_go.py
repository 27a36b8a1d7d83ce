"""Once a cycle's pages are finished its plan is let go: those of many years weigh more than pages."""

from __future__ import annotations

import gc
from pathlib import Path

from handbook.engines.mkdocs import MkDocsEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.outputs.model import RenderedPage
from handbook.plan.model import CyclePlan
from handbook.store import Store
from tests.content_folders import base_files, write_folder


def test_neither_plans_nor_pages_that_are_finished_are_held(tmp_path: Path) -> None:
    write_folder(tmp_path, base_files())

    def held(site: FinishedSite) -> tuple[int, list[str]]:
        left = [
            type(one).__name__
            for one in gc.get_objects()
            if isinstance(one, CyclePlan | RenderedPage)
        ]
        return len(site.files), left

    gc.collect()
    before = sum(isinstance(one, CyclePlan | RenderedPage) for one in gc.get_objects())
    gc.disable()  # what only a look for rings would free is held as well
    try:
        done = build(tmp_path, Store(), MkDocsEngine, held)
    finally:
        gc.enable()
    assert isinstance(done, tuple)
    count, left = done
    assert count > 20
    assert left[before:] == []
