"""Publications of small sites in a folder, and what is to be seen of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from handbook.domain.facts import Fact, Topic, compare
from handbook.domain.history import History, Publication
from handbook.ledger import read_ledger
from handbook.ledger.places import LEDGER
from handbook.outputs.model import SiteFile
from handbook.publishing import Published
from handbook.publishing.publication import publish_numbered
from handbook.publishing.standing import site_digest
from tests.published_sites import finished_file, holds

BEGAN = datetime(2026, 11, 20, 18, 0, tzinfo=UTC)


def version(number: int) -> list[SiteFile]:
    """Give a site of which one page says its number, one stays, and one has a place of its own."""
    return [
        finished_file("index.html", f"<p>Site {number}</p>".encode()),
        finished_file("fall/index.html", b"<p>The same</p>"),
        finished_file(f"page-{number}/index.html", b"<p>Only here</p>"),
    ]


def facts(number: int) -> tuple[Fact, ...]:
    """Give the one fact of a site."""
    return (Fact("winter/concert/call", (), Topic.CALL, "Call", f"{number}:00 pm"),)


def next_history(before: History, files: Sequence[SiteFile], told: int) -> History:
    """Give the ledger once a site is published whose fact says `told`."""
    new = facts(told)
    number = before.next_number
    made = Publication(
        number,
        BEGAN + timedelta(days=number),
        site_digest((file.path, file.digest) for file in files),
        compare(before.facts, new) if before.publications else (),
    )
    return History((*before.publications, made), new, program="Cedar Hollow Bands")


def publish_version(
    work: Path, number: int, *, hosts: Sequence[str] = (), target: str = "site"
) -> Published:
    """Publish the site of a number from `work`/content into `work`/site."""
    content = work / "content"
    content.mkdir(parents=True, exist_ok=True)
    before = read_ledger(content).history
    return publish_numbered(
        version(number),
        work / target,
        content=content,
        hosts=frozenset(hosts),
        before=before,
        after=next_history(before, version(number), number),
    )


def names(folder: Path) -> set[str]:
    """Give the names of what lies in a folder."""
    return {path.name for path in folder.iterdir()}


def stands(work: Path, number: int) -> bool:
    """Whether a site stands, and the ledger tells of it, in its own place."""
    content = work / "content"
    history = read_ledger(content).history
    return (
        holds(work / "site", version(number))
        and (content / LEDGER).exists()
        and not (content / ".published" / "coming.json").exists()
        and history.facts == facts(number)
        and history.standing[0].site
        == site_digest((file.path, file.digest) for file in version(number))
    )
