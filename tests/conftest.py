"""Options and fixtures that all tests share."""

from __future__ import annotations

import gc
import os

import pytest
from hypothesis import settings

from tests.chromium import find_chromium
from tests.shared import share_in

# As in a command: to look for rings after every 700 records, as Python does, takes a third of the
# time in which tests are read and a tenth of that in which they run.
gc.set_threshold(100_000)

# CI is to end within a quarter of an hour, and a busy machine is no fault.
settings.register_profile("daily", parent=settings(), max_examples=60, deadline=None)
settings.load_profile("daily")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--rewrite",
        action="store_true",
        help="write expected files anew from what is made now; review the difference like code",
    )
    parser.addoption(
        "--weekly",
        action="store_true",
        help="run the long tests, marked weekly, and only those",
    )


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Parts the long tests from the others: an ordinary run has none of them."""
    wanted = bool(config.getoption("--weekly"))
    parted: dict[bool, list[pytest.Item]] = {True: [], False: []}
    for item in items:
        weekly = item.get_closest_marker("weekly") is not None
        parted[weekly is wanted].append(item)
    config.hook.pytest_deselected(items=parted[False])
    items[:] = parted[True]


@pytest.fixture
def rewrite(request: pytest.FixtureRequest) -> bool:
    """Whether expected files are to be written anew."""
    return bool(request.config.getoption("--rewrite"))


@pytest.fixture(scope="session")
def chromium() -> str:
    """The browser to drive: where there is none CI fails, and others skip."""
    found = find_chromium()
    if found:
        return found
    if os.environ.get("CI") == "true":
        pytest.fail("no Chromium: apt-get install chromium")
    pytest.skip("no Chromium")


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Keeps results of builds out of the cache folder of whoever runs the tests."""
    os.environ["XDG_CACHE_HOME"] = str(tmp_path_factory.mktemp("cache"))


@pytest.fixture(scope="session", autouse=True)
def _shared_folder(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Names a folder of this run that all its workers see."""
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "shared"
    folder.mkdir(exist_ok=True)
    share_in(folder)
