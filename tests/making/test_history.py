"""What a site tells of earlier publications, from one publication to the next."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from handbook.domain.calendar_records import records_of
from handbook.domain.facts import compare
from handbook.domain.history import NO_HISTORY, History, PageRecord, Publication
from handbook.engines.plain import PlainEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.outputs.facts import facts_of
from handbook.outputs.feeds import calendar_events
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.store import Store

ONE_BAND = Path(__file__).parents[1] / "sites/one-band/content"
FIRST = datetime(2027, 2, 1, 21, 0, tzinfo=UTC)
SECOND = datetime(2027, 3, 2, 1, 30, tzinfo=UTC)  # still Monday, March 1, in the program's New York
Bytes = Mapping[str, bytes]


class Ledger:
    """Publishes in memory as the command does, and keeps what it keeps."""

    def __init__(self, content: Path, store: Store | None = None) -> None:
        self.content, self.store, self.history = content, store or Store(), NO_HISTORY

    def publish(self, instant: datetime) -> Bytes:
        plan = load_plan(self.content).plan
        assert plan is not None
        facts, before = facts_of(Context(plan, plan.languages[0])), self.history
        changes = compare(before.facts, facts) if before.standing else ()
        coming = Publication(before.next_number, instant, "", changes)
        site = self._site(replace(before, coming=coming))
        pages = {}
        for path, digest in site.page_digests.items():
            changed = replace(before, coming=coming).page_changed(path, digest)
            assert changed is not None
            pages[path] = PageRecord(digest, changed)
        records = records_of(
            calendar_events(Context(plan, plan.languages[0])), replace(before, coming=coming)
        )
        self.history = History((*before.publications, coming), facts, pages, records)
        return _bytes(site)

    def build(self) -> Bytes:
        return _bytes(self._site(self.history))

    def _site(self, history: History) -> FinishedSite:
        site = build(self.content, self.store, PlainEngine, lambda site: site, history)
        assert isinstance(site, FinishedSite)
        return site


def _bytes(site: FinishedSite) -> Bytes:
    return {file.path: file.read() for file in site.files}


def _one_band(folder: Path) -> Path:
    for file in ONE_BAND.rglob("*.*"):
        copy = folder / file.relative_to(ONE_BAND)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(file.read_bytes())
    return folder


def test_a_site_that_was_never_published_tells_nothing(tmp_path: Path) -> None:
    files = Ledger(_one_band(tmp_path)).build()
    assert not any(b"Last changed" in content for content in files.values())


def test_each_page_says_when_its_own_words_last_changed(tmp_path: Path) -> None:
    content = _one_band(tmp_path)
    ledger = Ledger(content)
    first = ledger.publish(FIRST)
    page = content / "pages/attendance.md"
    page.write_text(page.read_text("utf-8") + "\nOne sentence more.\n", "utf-8")
    second = ledger.publish(SECOND)

    pages = {path for path in second if path.endswith("index.html")}
    dated = pages - {"changes/index.html"}  # all of which is dated
    assert all(b"Last changed Feb 1, 2027." in first[path] for path in dated)
    changed = {path for path in pages if b"Last changed Mar 1, 2027." in second[path]}
    # The list of pages shows the first sentences of each.
    assert changed == {"families/attendance/index.html", "families/index.html"}
    assert date(2027, 3, 1) == SECOND.astimezone(ZoneInfo("America/New_York")).date()


def test_a_build_after_a_publication_has_its_bytes(tmp_path: Path) -> None:
    ledger = Ledger(_one_band(tmp_path))
    published = ledger.publish(FIRST)
    assert ledger.build() == published
    anew = Ledger(tmp_path)
    anew.history = ledger.history
    assert anew.build() == published


def test_calendars_count_on_from_one_publication_to_the_next(tmp_path: Path) -> None:
    """Unchanged content gives the same bytes; of a change only its own entries tell."""
    ledger = Ledger(_one_band(tmp_path))
    first = ledger.publish(FIRST)
    calendars = {path for path in first if path.endswith(".ics")}
    assert {"calendar/all.ics", "calendar/concerts.ics", "calendar/band/millrace.ics"} < calendars
    again = ledger.publish(SECOND)
    assert {path: again[path] for path in calendars} == {path: first[path] for path in calendars}
    concert = tmp_path / "cycles/spring/concert.yaml"
    concert.write_text(
        re.sub("(?m)^name: .*", "name: Renamed", concert.read_text("utf-8")), "utf-8"
    )
    changed = ledger.publish(SECOND + timedelta(days=1))
    assert changed["calendar/all.ics"].count(b"SEQUENCE:1\r\n") == 1
    unpublished = Ledger(tmp_path).build()["calendar/all.ics"]
    assert set(re.findall(rb"SEQUENCE:\d+", unpublished)) == {b"SEQUENCE:0"}
    assert ledger.build() == changed
