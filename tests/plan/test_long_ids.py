"""Ids as long as they may be make no name that is too long."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.pipeline import load_plan
from handbook.schema.site_names import MOST_LETTERS
from tests.content_folders import base_files, write_folder


@pytest.mark.parametrize(
    "name", ["hall", "band-room", "lantern", "button-comets", "build", "opening"]
)
def test_an_id_may_be_as_long_as_an_address_allows(name: str, tmp_path: Path) -> None:
    files = {file: text.replace(name, "b" * MOST_LETTERS) for file, text in base_files().items()}
    outcome = load_plan(write_folder(tmp_path, files))
    assert outcome.problems == ()
    assert outcome.plan is not None
