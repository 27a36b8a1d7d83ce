"""One publication, up to the question whether to publish: what it would change, and what speaks against it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from handbook.audit import Finding, audit
from handbook.domain.calendar_records import records_of
from handbook.domain.facts import FactChange, compare
from handbook.domain.history import History, PageRecord, Publication
from handbook.engines.model import Engine
from handbook.ledger.places import FOLDER
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.outputs.addresses import is_sheet
from handbook.outputs.facts import facts_of
from handbook.outputs.feeds import calendar_events, lost_rehearsals, not_any_more
from handbook.outputs.html.formatting import clock, short_day
from handbook.outputs.model import SiteFile
from handbook.outputs.page import Context
from handbook.pipeline import Outcome, has_errors, load_plan
from handbook.plan.model import Plan
from handbook.publishing import NotPublishedError
from handbook.publishing.forgotten import forgotten, told_number
from handbook.publishing.publication import known_history, most_named
from handbook.publishing.standing import site_digest, standing_site
from handbook.publishing.target import real_place, usable_target
from handbook.publishing.workplace import work_folder
from handbook.records import dataclass
from handbook.store import Store

_TITLE = re.compile(rb"<title>([^<]*)</title>")
_HOME = "index.html"
_COUNTS_ON = (
    "`--anyway` publishes without it: readers are not told what changed, and what is kept here is"
    " put aside."
)
_CLOCKS_APART = timedelta(minutes=10)  # of two computers that publish in turn


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why it should not be published without a thought: a sentence, and what it is about, line by line."""

    sentence: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PageCounts:
    """How many pages have other words than before, are new, or are gone."""

    changed: int
    new: int
    gone: int

    def values(self) -> dict[str, int]:
        """Give them by their names."""
        return {"changed": self.changed, "new": self.new, "gone": self.gone}


@dataclass(frozen=True, slots=True)
class Ready:
    """A publication that is made but not put in place.

    `before` is the ledger as it is, `after` as it will be. Without `changes` and with
    `is_same` there is nothing to publish. `findings` are those of the look at the finished
    site; `doubts` stop it unless the director goes on anyway.
    """

    plan: Plan
    outcome: Outcome
    before: History
    after: History
    site: FinishedSite
    changes: tuple[FactChange, ...]
    pages: PageCounts
    findings: tuple[Finding, ...]
    doubts: tuple[Doubt, ...]
    is_same: bool

    @property
    def is_first(self) -> bool:
        """Whether nothing that stands was published before, so that all is new."""
        return not self.before.standing


def prepare(
    content: Path,
    target: Path,
    store: Store,
    engine: Callable[[], Engine],
    now: datetime,
) -> Ready | Outcome:
    """Check, build in memory and look through a publication; nothing is written but the store.

    Gives all problems of content that has an error. `now` is the moment of the publication.
    Raises RefusedTargetError for a target that cannot be one, NotPublishedError for a ledger
    that cannot be read, and what `build` raises.
    """
    outcome = load_plan(content)
    if outcome.plan is None or has_errors(outcome.problems):
        return outcome
    plan = outcome.plan
    before = known_history(content, target)
    hosts = frozenset(plan.program.host_files)
    usable_target(target, content, hosts)

    context = Context(plan, plan.languages[0])
    facts = facts_of(plan)
    with context.speaking():
        entries, lost, gone = calendar_events(context), lost_rehearsals(context), not_any_more()
    changes = compare(before.facts, facts) if before.standing else ()
    name = str(plan.program.name.read(context.language))
    coming = Publication(before.next_number, _instant(now, before), "", changes)
    known = replace(before, coming=coming)
    # With nothing coming, content that is as it was gives the very site that stands.
    site = None if changes else _site(content, store, engine, before)
    is_same = site is not None and _stands(site, before, target)
    if site is None or not is_same:
        site = _site(content, store, engine, known)
    after = History(
        publications=(*before.publications, replace(coming, site=_digest(site))),
        facts=facts,
        pages=_page_records(site.page_digests, known),
        events=records_of(entries, known, lost, gone),
        program=name,
        zone=plan.program.time_zone,
    )
    doubts = (
        *_of_clock(now, before, ZoneInfo(plan.program.time_zone)),
        *_of_program(name, before),
        *(tuple(_of_target(target, before, site.files)) or _of_forgotten(target, content, before)),
    )
    return Ready(
        plan=plan,
        outcome=outcome,
        before=before,
        after=after,
        site=site,
        changes=changes,
        pages=_page_counts(before.pages, after.pages),
        findings=audit(site.files, plan, content),
        doubts=doubts,
        is_same=is_same,
    )


def _site(
    content: Path, store: Store, engine: Callable[[], Engine], history: History
) -> FinishedSite:
    site = build(content, store, engine, lambda finished: finished, history)
    if not isinstance(site, FinishedSite):
        raise NotPublishedError("the content was changed while it was read: publish again")
    return site


def _stands(site: FinishedSite, before: History, target: Path) -> bool:
    """Whether the last publication stands in the target, and the site would be the same."""
    stands = standing_site(real_place(target))
    last = before.standing[0].site if before.standing else ""
    return stands is not None and not stands.changed and stands.digest == last == _digest(site)


def _digest(site: FinishedSite) -> str:
    return site_digest((file.path, file.digest) for file in site.files)


def _instant(now: datetime, before: History) -> datetime:
    """Give the moment of a publication, which is later than the last one's."""
    last = max((one.instant for one in before.publications), default=None)
    return now if last is None or now > last else last + timedelta(seconds=1)


def _page_records(digests: Mapping[str, str], known: History) -> dict[str, PageRecord]:
    found = {path: (digest, known.page_changed(path, digest)) for path, digest in digests.items()}
    return {path: PageRecord(digest, when) for path, (digest, when) in found.items() if when}


def _page_counts(old: Mapping[str, PageRecord], new: Mapping[str, PageRecord]) -> PageCounts:
    # Sheets to print have records too, so that they keep their number; they are no pages.
    old, new = (
        {path: one for path, one in known.items() if not is_sheet(path)} for known in (old, new)
    )
    both = old.keys() & new.keys()
    changed = sum(old[path].digest != new[path].digest for path in both)
    return PageCounts(changed, len(new) - len(both), len(old) - len(both))


def _of_clock(now: datetime, before: History, zone: ZoneInfo) -> Iterator[Doubt]:
    last = max((one.instant for one in before.publications), default=now)
    if now < last - _CLOCKS_APART:
        yield Doubt(
            f"this computer's clock says {_moment(now, zone)}, but the last publication was made at"
            f" {_moment(last, zone)}: set the clock right",
            ("If it is right now, and was wrong then, `--anyway` goes on.",),
        )


def _of_program(name: str, before: History) -> Iterator[Doubt]:
    if before.program and before.program != name:
        yield Doubt(
            f"what was published from this folder is another program: {before.program}, and now"
            f" it is {name}",
            (
                "If only the name has changed, `--anyway` goes on.",
                "If the folder is a copy of another program's, delete .published in it: your",
                "publications then count from 1.",
            ),
        )


def _of_target(target: Path, before: History, files: tuple[SiteFile, ...]) -> Iterator[Doubt]:
    """Tell of a site in the target that is not what was published there."""
    site = standing_site(real_place(target))
    if site is None:
        return
    if site.changed:
        yield Doubt(
            f"files in {target} were changed since they were put there",
            (
                *most_named(site.changed),
                "Take over into the content what is to stay. `--anyway` replaces them.",
            ),
        )
    if site.digest not in {one.site for one in before.publications}:
        names = [_name_of(files), _name_of(site.files)]
        if names[0] != names[1]:
            yield Doubt(
                f"in {target} stands the site of another program: {names[1] or 'one without a name'}",
                ("Choose another folder with `--to`. `--anyway` replaces it.",),
            )


def _of_forgotten(target: Path, content: Path, before: History) -> Iterator[Doubt]:
    """Tell of publications that were made there, and that the ledger does not know."""
    real = real_place(target)
    lost, site = forgotten(work_folder(real), before), standing_site(real)
    if lost:
        yield Doubt(lost.sentence(), (lost.way_back(content), _COUNTS_ON))
    elif site and (number := told_number(site)) >= before.next_number:
        yield Doubt(
            f"in {target} stands publication {number}, and the content folder does not remember it:"
            f" {FOLDER} was lost, or is an old one",
            (
                f"Get {FOLDER} from the computer that published last, or from a backup.",
                _COUNTS_ON,
            ),
        )


def _name_of(files: tuple[SiteFile, ...]) -> str:
    """Give the name of the program of a site, by the title of its first page."""
    home = next((file for file in files if file.path == _HOME), None)
    title = _TITLE.search(home.read()) if home else None
    return title[1].decode(errors="replace").rpartition("·")[2].strip() if title else ""


def _moment(moment: datetime, zone: ZoneInfo) -> str:
    local = moment.astimezone(zone)
    return f"{short_day(local.date())}, {local.year}, {clock(local)}"
