"""A server with a small site, and a content folder to serve."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.serving.server import PreviewServer
from handbook.serving.versions import Preview, Shown
from tests.serving.asking import SITE, answering


@pytest.fixture
def preview() -> Preview:
    return Preview(Shown(SITE))


@pytest.fixture
def server(preview: Preview) -> Iterator[PreviewServer]:
    with answering(preview) as running:
        yield running


@pytest.fixture
def content(tmp_path: Path) -> Path:
    folder = tmp_path / "my-band"
    write_starter(folder, *starter_dates(date(2026, 11, 25)))
    return folder
