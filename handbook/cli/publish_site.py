"""The publication itself, as the director sees it: what is told, what is new, the question, what was done."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import nullcontext
from datetime import UTC, datetime
from pathlib import Path

import click

from handbook.audit import finding_lines
from handbook.cli.change_lines import change_lines, how_many, reader_names
from handbook.cli.exit_codes import Exit
from handbook.cli.messages import as_typed, tell_problems
from handbook.cli.sites import answered_yes, mkdocs, tell_left, told_moment
from handbook.domain.history import Publication
from handbook.making.publication import Ready, prepare
from handbook.publishing import Published
from handbook.publishing.publication import publish_numbered
from handbook.publishing.zip_copy import zip_copy
from handbook.store import user_store


def publish_site(
    content: Path, place: Path, zip_file: Path | None, *, yes: bool, every: bool, anyway: bool
) -> int:
    """Publish, unless something speaks against it or the director says no; gives how the command ends."""
    begun = time.perf_counter()
    ready = prepare(content, place, user_store(content), mkdocs, now())
    outcome = ready.outcome if isinstance(ready, Ready) else ready
    if outcome.problems:
        tell_problems(outcome, content)
    if not isinstance(ready, Ready):
        return Exit.PROBLEMS
    seconds = time.perf_counter() - begun
    _tell_doubts(ready)
    refused = [one for one in ready.findings if one.refuses]
    for line in finding_lines(ready.findings, content.as_posix()):
        click.echo(line, err=True)
    if refused or (ready.doubts and not anyway):
        click.echo("handbook: nothing was published", err=True)
        return Exit.PROBLEMS

    if ready.is_same:
        last = ready.before.standing[0]
        click.echo(f"Nothing has changed since publication {last.number} of {_day(ready, last)}.")
        if zip_file:
            with zip_copy(ready.site.files, zip_file):
                pass
            click.echo(f"A copy to unpack and open: {zip_file}")
        return Exit.CLEAN
    for line in _news(ready, every=every):
        click.echo(line)
    if not yes and not answered_yes(f"Publish to {place}?", "Nothing was published."):
        return Exit.CLEAN
    with zip_copy(ready.site.files, zip_file) if zip_file else nullcontext():
        done = _put(ready, content, place)
    _tell_done(ready, done, place, zip_file, seconds)
    if not ready.is_first:
        click.echo(f"`{as_typed('publish --undo', content)}` takes it back.")
    return Exit.CLEAN


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


def _tell_doubts(ready: Ready) -> None:
    for doubt in ready.doubts:
        click.echo(f"handbook: {doubt.sentence}", err=True)
        for line in doubt.lines:
            click.echo(f"  {line}", err=True)


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


def _tell_done(
    ready: Ready, done: Published, place: Path, zip_file: Path | None, seconds: float
) -> None:
    tell_left(done)
    number = ready.after.publications[-1].number
    click.echo(f"Publication {number}, {done.pages} pages in {seconds:.1f} s: {place}")
    if zip_file:
        click.echo(f"A copy to unpack and open: {zip_file}")


def _day(ready: Ready, publication: Publication) -> str:
    return told_moment(publication.instant, ready.plan.program.time_zone)
