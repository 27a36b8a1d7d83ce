"""One small content folder and its binder, made once for all tests that only look at them."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.binder.assemble import binder_files, new_binder
from handbook.binder.model import Binder, BinderFile
from handbook.pipeline import load_plan
from tests.content_folders import base_files, write_folder


@pytest.fixture(scope="session")
def small_content(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the shared whole content folder, alone in its parent."""
    return write_folder(tmp_path_factory.mktemp("small") / "content", base_files())


@pytest.fixture(scope="session")
def small_binder(small_content: Path) -> Binder:
    """Lay ready a binder of the small content."""
    return binder_of(small_content)


@pytest.fixture(scope="session")
def small_files(small_binder: Binder) -> tuple[BinderFile, ...]:
    """Make all files of the small binder."""
    return binder_files(small_binder)


def binder_of(content: Path) -> Binder:
    """Lay ready a binder of a content folder."""
    found = load_plan(content)
    binder = new_binder(found, content)
    assert binder is not None, found.problems
    return binder
