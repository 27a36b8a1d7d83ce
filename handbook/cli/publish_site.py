"""The publication itself, as the director sees it: what is told, what is new, the question, what was done."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from contextlib import nullcontext
from datetime import UTC, datetime
from pathlib import Path

import click

from handbook.audit import finding_lines
from handbook.cli.change_lines import change_lines, change_values, how_many, reader_names
from handbook.cli.exit_codes import Exit
from handbook.cli.messages import as_typed, tell_problems
from handbook.cli.sites import answered_yes, mkdocs, tell_left, told_moment
from handbook.cli.untold_lines import untold_lines
from handbook.domain.history import Publication
from handbook.making.publication import Ready, prepare
from handbook.publishing import Published
from handbook.publishing.publication import publish_numbered
from handbook.publishing.zip_copy import zip_copy
from handbook.records import dataclass
from handbook.store import user_store

FORMAT = 1


@dataclass(frozen=True, slots=True)
class Wish:
    """What the director asks for: where the site is to go, and the options by their names."""

    place: Path
    zip_file: Path | None
    yes: bool
    every: bool
    anyway: bool
    as_json: bool

    def say(self, line: str) -> None:
        """Print a line for people; beside JSON it goes to the error stream."""
        click.echo(line, err=self.as_json)


def publish_site(content: Path, wish: Wish) -> int:
    """Publish, unless something speaks against it or the director says no; gives how the command ends."""
    begun = time.perf_counter()
    ready = prepare(content, wish.place, user_store(content), mkdocs, now())
    outcome = ready.outcome if isinstance(ready, Ready) else ready
    if outcome.problems:
        tell_problems(outcome, content)
    if not isinstance(ready, Ready):
        return Exit.PROBLEMS
    seconds = time.perf_counter() - begun
    if _is_stopped(ready, content, anyway=wish.anyway):
        return Exit.PROBLEMS

    if ready.is_same:
        last = ready.before.standing[0]
        wish.say(f"Nothing has changed since publication {last.number} of {_day(ready, last)}.")
        with zip_copy(ready.site.files, wish.zip_file) if wish.zip_file else nullcontext():
            done = None
    else:
        for line in (*_news(ready, every=wish.every), *_untold(ready)):
            wish.say(line)
        if not wish.yes and not answered_yes(f"Publish to {wish.place}?", "Nothing was published."):
            return Exit.CLEAN
        with zip_copy(ready.site.files, wish.zip_file) if wish.zip_file else nullcontext():
            done = _put(ready, content, wish.place)
        tell_left(done)
        number = ready.after.publications[-1].number
        wish.say(f"Publication {number}, {done.pages} pages in {seconds:.1f} s: {wish.place}")
    if wish.zip_file:
        wish.say(f"A copy to unpack and open: {wish.zip_file}")
    if done and not ready.is_first:
        wish.say(f"`{as_typed('publish --undo', content)}` takes it back.")
    if wish.as_json:
        click.echo(_json(ready, wish, published=done is not None).encode())
    return Exit.CLEAN


def _json(ready: Ready, wish: Wish, *, published: bool) -> str:
    """Give the document, `"format": 1`: no `publication` if nothing had changed; fields are added, never renamed."""
    made = ready.after.publications[-1]
    document = {
        "format": FORMAT,
        "publication": made.number if published else None,
        "instant": made.instant.isoformat() if published else None,
        "folder": wish.place.as_posix(),
        "zip": wish.zip_file.as_posix() if wish.zip_file else None,
        "pages": ready.pages.values(),
        "changes": change_values(ready.changes),
    }
    return json.dumps(document, indent=2, ensure_ascii=False)


def now() -> datetime:
    """Give the moment of the publication, in whole seconds."""
    return datetime.now(UTC).replace(microsecond=0)


def _put(ready: Ready, content: Path, place: Path) -> Published:
    return publish_numbered(
        ready.site.files,
        place,
        content=content,
        hosts=ready.site.hosts,
        before=ready.before,
        after=ready.after,
    )


def _is_stopped(ready: Ready, content: Path, *, anyway: bool) -> bool:
    """Tell all that speaks against it, and whether that stops it."""
    for doubt in ready.doubts:
        click.echo(f"handbook: {doubt.sentence}", err=True)
        for line in doubt.lines:
            click.echo(f"  {line}", err=True)
    for line in finding_lines(ready.findings, content.as_posix()):
        click.echo(line, err=True)
    refused = any(one.refuses for one in ready.findings) or (ready.doubts and not anyway)
    if refused:
        click.echo("handbook: nothing was published", err=True)
    return bool(refused)


def _news(ready: Ready, *, every: bool) -> Iterator[str]:
    """Say what is new since the last publication, for whom, and on how many pages."""
    if ready.is_first:
        yield f"This is the first publication: {ready.site.pages} pages, all of them new."
        return
    last = ready.before.standing[0]
    yield f"Since publication {last.number} of {_day(ready, last)}:"
    yield ""
    names = reader_names(ready.plan)
    yield from change_lines(ready.changes, names, every=every, all_by="--all lists them")
    pages = ready.pages
    counts = (
        (pages.changed, "other words on {} page{}"),
        (pages.new, "{} new page{}"),
        (pages.gone, "{} page{} less"),
    )
    told = [words.format(count, "s"[: count != 1]) for count, words in counts if count]
    if ready.changes:
        told.insert(0, how_many(ready.changes))
    if told:
        sentence = ", ".join(told)
        yield f"{sentence[0].upper()}{sentence[1:]}."


def _untold(ready: Ready) -> Iterator[str]:
    """Say which lines plan anew what was published already."""
    if not ready.is_first:
        last = ready.before.standing[0].instant.astimezone(ready.plan.zone).date()
        yield from untold_lines(ready.outcome, ready.before.facts, ready.changes, last)


def _day(ready: Ready, publication: Publication) -> str:
    return told_moment(publication.instant, ready.plan.program.time_zone)
