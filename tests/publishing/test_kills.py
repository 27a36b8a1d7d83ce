"""Wherever a publication or its undoing is cut off: the site is whole, and the ledger tells of it.

Common practice, no source: as in tests/test_publishing_kills.py each step that changes the
disk fails in turn, and from then on nothing works any more.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from pathlib import Path
from shutil import copytree

import pytest

from handbook.ledger import read_ledger
from handbook.publishing import put_right
from handbook.publishing.publication import put_back
from tests.published_sites import holds
from tests.publishing.numbered import facts, names, publish_version, stands, version
from tests.test_publishing_kills import KINDS, WAYS, Machine, be_of_kind, killed

HOSTS = ("CNAME",)


def publish_third(work: Path) -> None:
    publish_version(work, 3, hosts=HOSTS)


def undo(work: Path) -> None:
    put_back(work / "site", content=work / "content")


DEEDS: dict[str, tuple[Callable[[Path], None], int]] = {
    "publish": (publish_third, 3),
    "undo": (undo, 1),
}


@pytest.fixture(params=["usual", "share without locks"])
def _kind(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    be_of_kind(KINDS[request.param], monkeypatch)


def agrees(work: Path, number: int) -> bool:
    """Whether a site stands and the ledger, as any command reads it, tells of it."""
    host = work / "site" / "CNAME"
    if not host.exists() or host.read_text() != "bands.example.org":
        return False
    aside = host.rename(work / "CNAME")
    try:
        whole = holds(work / "site", version(number))
    finally:
        aside.rename(host)
    return whole and read_ledger(work / "content").history.facts == facts(number)


@pytest.mark.usefixtures("_kind")
@pytest.mark.parametrize("every", [3, pytest.param(1, marks=pytest.mark.weekly)])
@pytest.mark.parametrize("name", DEEDS)
def test_it_may_be_cut_off_anywhere(tmp_path: Path, name: str, every: int) -> None:
    deed, after = DEEDS[name]
    start, ends = tmp_path / "start", 0
    publish_version(start, 1, hosts=HOSTS)
    (start / "site" / "CNAME").write_text("bands.example.org")
    publish_version(start, 2, hosts=HOSTS)
    for last in count(1, every):
        for way in WAYS:
            machine = Machine(last, way)
            work = tmp_path / f"{last}-{way}"
            copytree(start, work)
            killed(lambda: deed(work), machine)  # noqa: B023 - called at once
            if not machine.ended:
                assert agrees(work, after)
                assert ends >= 80 // every
                return
            if way == "half" and machine.steps[-1] != "write":
                continue
            ends += 1
            told = (last, way, machine.steps[-1])
            put_right(work / "site")
            assert agrees(work, 2) or agrees(work, after), told
            publish_version(work, 4, hosts=HOSTS)
            assert agrees(work, 4), told
            (work / "site" / "CNAME").unlink()
            assert stands(work, 4), told
            work_folder = work / ".handbook" / "site"
            assert names(work_folder) == {"kept", "ledger.json"}, told
            assert names(work / "content" / ".published") == {"ledger.json"}, told
