"""Watching, making and serving, put together."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Event, Thread

from handbook.engines.making import make_site
from handbook.pipeline import Outcome, load_plan
from handbook.publishing import NotPublishedError, Published
from handbook.serving.problem_page import findings_page, problem_page
from handbook.serving.server import Preview, PreviewServer, Shown
from handbook.serving.watching import changes, fingerprint

_KEPT = 2  # sites: the one shown, and the one before it, which a browser may still be reading


@dataclass(frozen=True, slots=True)
class Round:
    """What came of the content: a site, or problems, or a site that was not sound."""

    outcome: Outcome
    published: Published | None = None
    refusal: NotPublishedError | None = None


@dataclass(frozen=True, slots=True)
class Listener:
    """Who is told: the address once pages can be asked for, each round, each fault of ours.

    `failed` gives the sentence that the browser is to show.
    """

    announce: Callable[[str], None]
    made: Callable[[Round], None]
    failed: Callable[[Exception], str]


def serve(content: Path, listener: Listener, *, port: int, stop: Event | None = None) -> None:
    """Show the site of `content` at this computer's `port` until interrupted, or `stop` is set.

    A fault of ours does not end it: the next change may avoid it. Raises OSError if the
    port is taken.
    """
    ended, preview = stop or Event(), Preview()
    with (
        tempfile.TemporaryDirectory(prefix="handbook-preview-") as work,
        _serving(preview, port) as address,
    ):
        known = fingerprint(content)
        rounds = _Rounds(content, Path(work), preview, listener)
        rounds.make()
        listener.announce(address)
        for _ in changes(content, ended, known):
            rounds.make()


class _Rounds:
    """Makes one site after another, each in its own folder, so that no page is half old."""

    def __init__(self, content: Path, work: Path, preview: Preview, listener: Listener) -> None:
        self.content, self.work, self.preview, self.listener = content, work, preview, listener
        self.folder = content.name or content.resolve().name
        self.sites: list[Path] = []

    def make(self) -> None:
        """Read the content, show what came of it, and tell."""
        try:
            made = self._round()
        except Exception as fault:  # noqa: BLE001 - shown, kept in a file, and survived
            sentence = self.listener.failed(fault)
            self.preview.show(Shown(page=findings_page(sentence)))
            return
        self.preview.show(self._shown(made))
        self.listener.made(made)
        for old in self.sites[:-_KEPT]:
            shutil.rmtree(old, ignore_errors=True)

    def _round(self) -> Round:
        outcome = load_plan(self.content)
        if outcome.plan is None:
            return Round(outcome)
        self.sites.append(self.work / f"site-{len(self.sites)}")
        try:
            return Round(outcome, make_site(outcome.plan, self.content, self.sites[-1]))
        except NotPublishedError as refusal:
            return Round(outcome, refusal=refusal)

    def _shown(self, made: Round) -> Shown:
        if made.published:
            return Shown(site=made.published.target)
        if made.refusal:
            return Shown(page=findings_page(str(made.refusal), made.refusal.findings))
        problems, sources = made.outcome.problems, made.outcome.sources
        return Shown(page=problem_page(self.folder, problems, sources))


@contextmanager
def _serving(preview: Preview, port: int) -> Iterator[str]:
    server = PreviewServer(preview, port)
    thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    try:
        yield server.address
    finally:
        server.shutdown()
        server.server_close()
