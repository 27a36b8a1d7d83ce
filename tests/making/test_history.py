"""What a site tells of earlier publications, from one publication to the next."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from handbook.engines.model import facts_of as site_facts
from handbook.engines.plain import PlainEngine
from handbook.outputs.history import told_in
from handbook.pipeline import load_plan, render
from handbook.publishing.verify_links import link_facts, link_findings
from tests.publications import Bytes, MemoryLedger, copied, edit

ONE_BAND = Path(__file__).parents[1] / "sites/one-band/content"
DEMO = Path(__file__).parents[2] / "content"
TREES = ("", "es/")
TELL_OF_ALL = {
    *(
        f"{tree}{file}"
        for tree in TREES
        for file in ("index.html", "changes/index.html", "changes/feed.xml")
    ),
}
FIRST = datetime(2027, 2, 1, 21, 0, tzinfo=UTC)
SECOND = datetime(2027, 3, 2, 1, 30, tzinfo=UTC)  # still Monday, March 1, in the program's New York


def _one_band(folder: Path) -> Path:
    return copied(ONE_BAND, folder)


def _unlike(before: Bytes, after: Bytes) -> set[str]:
    return {path for path in before.keys() | after.keys() if before.get(path) != after.get(path)}


def _main(page: bytes) -> bytes:
    return page.partition(b"<main")[2].partition(b"</main>")[0]


def test_a_site_that_was_never_published_tells_nothing(tmp_path: Path) -> None:
    files = MemoryLedger(_one_band(tmp_path)).build()
    assert not any(b"Last changed" in content for content in files.values())


def test_each_page_says_when_its_own_words_last_changed(tmp_path: Path) -> None:
    content = _one_band(tmp_path)
    ledger = MemoryLedger(content)
    first = ledger.publish(FIRST)
    edit(content / "pages/attendance.md", "is missed.", "is missed. One sentence more.")
    second = ledger.publish(SECOND)

    pages = {path for path in second if path.endswith("index.html") and path[:3] != "es/"}
    dated = pages - {"changes/index.html"}
    assert all(b"Last changed Feb 1, 2027." in first[path] for path in dated)
    changed = {path for path in pages if b"Last changed Mar 1, 2027." in second[path]}
    # The list of pages shows the first sentences of each.
    assert changed == {"families/attendance/index.html", "families/index.html"}
    assert date(2027, 3, 1) == SECOND.astimezone(ZoneInfo("America/New_York")).date()


def test_a_build_after_a_publication_has_its_bytes(tmp_path: Path) -> None:
    ledger = MemoryLedger(_one_band(tmp_path))
    published = ledger.publish(FIRST)
    assert ledger.build() == published
    anew = MemoryLedger(tmp_path)
    anew.history = ledger.history
    assert anew.build() == published
    made, kept = (anew.site(ledger.history).page_digests for _ in range(2))
    assert made == kept == {path: page.digest for path, page in ledger.history.pages.items()}


def test_a_new_frame_is_no_change_of_a_page(tmp_path: Path) -> None:
    ledger = MemoryLedger(_one_band(tmp_path))
    ledger.publish(FIRST)
    edit(tmp_path / "program.yaml", "role: Band office,", "role: Office,")
    second = ledger.publish(SECOND)
    page = second["words/index.html"]
    assert b"Office" in page
    assert b"Last changed Feb 1, 2027." in page
    assert b"Last changed" not in second["changes/index.html"]  # all of which is dated


def test_calendars_count_on_from_one_publication_to_the_next(tmp_path: Path) -> None:
    """Unchanged content gives the same bytes; of a change only its own entries tell."""
    ledger = MemoryLedger(_one_band(tmp_path))
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
    for path in ("calendar/all.ics", "calendar/once/spring/concert/all.ics"):
        assert changed[path].count(b"SEQUENCE:1\r\n") == 1
    unpublished = MemoryLedger(tmp_path, ledger.store).build()["calendar/all.ics"]
    assert set(re.findall(rb"SEQUENCE:\d+", unpublished)) == {b"SEQUENCE:0"}
    assert ledger.build() == changed


@pytest.mark.parametrize(
    ("content", "day"),
    [
        (ONE_BAND, "2027-03-22"),
        pytest.param(DEMO, "2026-12-03", marks=pytest.mark.weekly),
    ],
    ids=["one band", "demo"],
)
def test_a_lost_day_changes_no_file_whose_words_it_does_not(
    content: Path, day: str, tmp_path: Path
) -> None:
    """Two publications differ in the files in which two plain builds do, and in those that tell of all."""
    year = copied(content, tmp_path) / "years/2026-27.yaml"
    ledger = MemoryLedger(tmp_path)
    built, published = ledger.build(), ledger.publish(FIRST)
    closed = f"closures:\n  - {{name: Snow day, date: {day}}}"
    edit(year, "\nclosures:", f"\n{closed}")
    built_anew, published_anew = (
        MemoryLedger(tmp_path, ledger.store).build(),
        ledger.publish(SECOND),
    )

    changed = _unlike(built, built_anew)
    assert changed < built.keys()
    pages = {path for path in changed if path.endswith("index.html")}
    assert all(_main(built[path]) != _main(built_anew[path]) for path in pages)
    calendars = {path for path in published_anew if path.endswith(".ics")}
    assert _unlike(published, published_anew) - calendars == (changed | TELL_OF_ALL) - calendars


def test_the_days_after_it_nothing_changes(tmp_path: Path) -> None:
    """A third publication of the same content touches only what names the newest one."""
    ledger = MemoryLedger(_one_band(tmp_path))
    ledger.publish(FIRST)
    edit(tmp_path / "cycles/spring/concert.yaml", "White shirt", "Black shirt")
    second = ledger.publish(SECOND)
    assert b"now Black shirt, before White shirt" in second["spring/concert/index.html"]
    third = ledger.publish(SECOND + timedelta(days=30))
    assert _unlike(second, third) == TELL_OF_ALL


def test_a_build_that_someone_else_leads_tells_the_same(tmp_path: Path) -> None:
    ledger = MemoryLedger(_one_band(tmp_path))
    ledger.publish(FIRST)
    published, plan = ledger.build(), load_plan(tmp_path).plan
    assert plan is not None
    facts = site_facts(plan)
    site = told_in(render(plan, ledger.history), plan, ledger.history, facts.address)
    finished = PlainEngine().finish(site.pages, facts)
    assert {**finished, **{file.path: file.content for file in site.files}} == published


def test_links_that_are_set_in_lead_somewhere_in_each_language(tmp_path: Path) -> None:
    """They are set in after the site's own links were looked at; each language has a feed."""
    ledger = MemoryLedger(_one_band(tmp_path))
    ledger.publish(FIRST)
    edit(tmp_path / "cycles/spring/concert.yaml", "White shirt", "Black shirt")
    second = ledger.publish(SECOND)
    assert link_findings({path: link_facts(path, raw) for path, raw in second.items()}) == ()
    feeds = [second[f"{tree}changes/feed.xml"].decode() for tree in TREES]
    ids = [re.findall("<id>(.*?)</id>", feed) for feed in feeds]
    assert len(ids[0]) == len(ids[1]) == 3  # its own, and those of two entries
    assert not {*ids[0]} & {*ids[1]}
    assert [re.findall('xml:lang="(.*?)"', feed) for feed in feeds] == [["en"], ["es"]]
