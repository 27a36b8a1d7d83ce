"""Publications made in memory, as the command makes them."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from shutil import copytree

from handbook.domain.calendar_records import records_of
from handbook.domain.facts import compare
from handbook.domain.history import NO_HISTORY, History, PageRecord, Publication
from handbook.engines.plain import PlainEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.outputs.facts import facts_of
from handbook.outputs.feeds import calendar_events, lost_rehearsals
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.store import Store

Bytes = Mapping[str, bytes]


class MemoryLedger:
    """Publishes in memory as the command does, and keeps what it keeps."""

    def __init__(self, content: Path, store: Store | None = None) -> None:
        self.content, self.store, self.history = content, store or Store(), NO_HISTORY

    def publish(self, instant: datetime) -> Bytes:
        plan = load_plan(self.content).plan
        assert plan is not None
        facts, before = facts_of(plan), self.history
        changes = compare(before.facts, facts) if before.standing else ()
        coming = Publication(before.next_number, instant, "", changes)
        site = self.site(replace(before, coming=coming))
        pages = {}
        for path, digest in site.page_digests.items():
            changed = replace(before, coming=coming).page_changed(path, digest)
            assert changed is not None
            pages[path] = PageRecord(digest, changed)
        records = records_of(
            calendar_events(Context(plan, plan.languages[0])),
            replace(before, coming=coming),
            lost_rehearsals(Context(plan, plan.languages[0])),
        )
        self.history = History((*before.publications, coming), facts, pages, records)
        return _bytes(site)

    def build(self) -> Bytes:
        return _bytes(self.site(self.history))

    def site(self, history: History) -> FinishedSite:
        """Make the site with a history."""
        site = build(self.content, self.store, PlainEngine, lambda site: site, history)
        assert isinstance(site, FinishedSite)
        return site


def copied(content: Path, folder: Path) -> Path:
    """Give a copy of a content folder in `folder`."""
    copytree(content, folder, dirs_exist_ok=True)
    return folder


def edit(file: Path, old: str, new: str) -> None:
    """Write something else in one place of a file."""
    text = file.read_text("utf-8")
    assert text.count(old) == 1, old
    file.write_text(text.replace(old, new), "utf-8")


def _bytes(site: FinishedSite) -> Bytes:
    contents = {file.path: file.read() for file in site.files}
    digests = {path: hashlib.sha256(content).hexdigest() for path, content in contents.items()}
    assert digests == {file.path: file.digest for file in site.files}
    return contents
