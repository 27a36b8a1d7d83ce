"""The demo, built once through the real pipeline and opened in the system's Chromium."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from handbook.plan.model import Plan
from tests.browser.policy import POLICY
from tests.browser.served import serving
from tests.demo import demo_folder, demo_kinds, once_of_each_kind
from tests.demo import demo_plan as plan_of_demo

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
IN_SPANISH = "es/families/attendance/"  # Arabic has no such pages of its own


@pytest.fixture(scope="session")
def browser(chromium: str) -> Iterator[Browser]:
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium, args=list(FLAGS))
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def demo_plan() -> Plan:
    return plan_of_demo()


@pytest.fixture(scope="session")
def demo() -> Path:
    """The folder of the built site."""
    return demo_folder()


@pytest.fixture(scope="session")
def site(demo: Path) -> Iterator[str]:
    """The address of the served site."""
    with serving(demo) as address:
        yield address


@pytest.fixture(scope="session")
def guarded(demo: Path) -> Iterator[str]:
    """The address of the site as a host serves it that allows nothing but the site itself."""
    with serving(demo, {"Content-Security-Policy": POLICY}) as address:
        yield address


@pytest.fixture(scope="session")
def paths(demo: Path) -> list[str]:
    """Every page's address below the site's; of other languages one of most kinds in Arabic.

    Pages that only lead on are left out.
    """
    found = [
        file.relative_to(demo).as_posix().removesuffix("index.html")
        for file in sorted(demo.rglob("*.html"))
        if b'http-equiv="refresh"' not in file.read_bytes()
    ]
    assert {*found} >= {IN_SPANISH, "404.html", "ar/404.html"}
    found = [*once_of_each_kind(found, "ar"), IN_SPANISH]
    assert len(found) > 50
    return found


@pytest.fixture(scope="session")
def varied(paths: list[str]) -> list[str]:
    """Every page, but of the many players' parts only the last of each instrument.

    Of those in other languages all are left, since there are few.
    """
    parts = {
        (path.startswith("ar/"), path.rstrip("/").rpartition("/")[2]): path
        for path in paths
        if "/part/" in path
    }
    return [path for path in paths if "/part/" not in path] + list(parts.values())


@pytest.fixture(scope="session")
def kinds(demo_plan: Plan, demo: Path) -> dict[str, str]:
    """The fullest page of each kind in the newest cycle: kind to address."""
    pages = demo_kinds()
    past = tuple(f"{cycle.id}/" for cycle in demo_plan.cycles[:-1])

    def weight(path: str) -> tuple[bool, int]:
        return not path.startswith(past), (demo / path / "index.html").stat().st_size

    fullest = {
        name: max((path for path, kind in pages.items() if kind == name), key=weight)
        for name in dict.fromkeys(pages.values())
    }
    return fullest | {"free_page_es": IN_SPANISH, "404": "404.html"}
