"""Watching, making and serving, put together; nothing is written."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING, TypeAlias
from urllib.parse import urlsplit

from handbook.engines.plain import PlainEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.publishing import NotPublishedError
from handbook.records import dataclass
from handbook.serving.problem_page import problem_page, sentence_page
from handbook.serving.server import HOST_6, PreviewServer
from handbook.serving.versions import OnDisk, Preview, Shown
from handbook.serving.watching import Fingerprint, changes, fingerprint
from handbook.source.links import MEDIA
from handbook.store import Store

if TYPE_CHECKING:
    from handbook.pipeline import Outcome

_DOUBT = 0.25  # seconds: an error may be that of a file which is only half saved
_NO_SITE = "The site could not be made"


Round: TypeAlias = "FinishedSite | Outcome | NotPublishedError"
"""What came of the content: a site, or problems, or why a site was not sound."""


@dataclass(frozen=True, slots=True)
class Listener:
    """Who is told: the address once pages can be asked for, each round, each fault of ours.

    `failed` gives the sentence that the browser is to show.
    """

    announce: Callable[[str], None]
    made: Callable[[Round], None]
    failed: Callable[[Exception], str]


class PortError(Exception):
    """The port cannot be had; the text is a sentence."""


def serve(content: Path, listener: Listener, *, port: int, stop: Event | None = None) -> None:
    """Show the site of `content` at this computer's `port` until interrupted, or `stop` is set.

    A fault of ours does not end it: the next change may avoid it. Raises PortError.
    """
    ended = stop or Event()
    first = Shown(
        page=sentence_page("One moment", "The pages are being made, and come up by themselves.")
    )
    preview = Preview(first)
    with _serving(preview, port) as address:
        known = fingerprint(content)
        rounds = _Rounds(content, preview, listener, ended)
        rounds.make(known)
        listener.announce(address)
        for now in changes(content, ended, known):
            rounds.make(now)


class _Rounds:
    """Makes one site after another, each shown at once as a whole, so that no page is half old."""

    def __init__(self, content: Path, preview: Preview, listener: Listener, ended: Event) -> None:
        self.content, self.preview, self.listener, self.ended = content, preview, listener, ended
        self.folder = content.name or content.resolve().name
        self.store, self.engine = Store(), PlainEngine()
        self.digests: tuple[tuple[str, str], ...] | None = None  # of the site that is shown

    def make(self, seen: Fingerprint) -> None:
        """Read the content, `seen` just before, show what came of it, and tell."""
        try:
            made = self._round()
            if not isinstance(made, FinishedSite) and self._goes_on_changing(seen):
                return  # the next round is to tell
            self._show(made)
            self.listener.made(made)
        except Exception as fault:  # noqa: BLE001 - shown, kept in a file, and survived
            sentence = self.listener.failed(fault)
            self._show_page(sentence_page(_NO_SITE, sentence))

    def _goes_on_changing(self, seen: Fingerprint) -> bool:
        return not self.ended.wait(_DOUBT) and fingerprint(self.content) != seen

    def _round(self) -> Round:
        try:
            return build(
                self.content, self.store, lambda: self.engine, lambda site: site, drafts=True
            )
        except NotPublishedError as refusal:
            return refusal

    def _show(self, made: Round) -> None:
        if isinstance(made, FinishedSite):
            self._show_site(made)
        elif isinstance(made, NotPublishedError):
            self._show_page(sentence_page(_NO_SITE, str(made), made.findings))
        else:
            self._show_page(problem_page(self.folder, made.problems, made.sources))

    def _show_page(self, page: bytes) -> None:
        self.digests = None
        self.preview.show(Shown(page=page))

    def _show_site(self, made: FinishedSite) -> None:
        """Show a site, unless it is the one that is shown: no page need be loaded anew."""
        digests = tuple((file.path, file.digest) for file in made.files)
        if digests == self.digests:
            return
        media = self.content / MEDIA
        files = {
            file.path: OnDisk(self.content / file.path, media)
            if file.path.startswith(f"{MEDIA}/")
            else file.read()
            for file in made.files
        }
        self.preview.show(Shown(files, base=_base(made.address)))
        self.digests = digests


def _base(address: str | None) -> str:
    """Give the path at which the site will stand, with a slash at both ends."""
    path = urlsplit(address or "").path.strip("/")
    return f"/{path}/" if path else "/"


@contextmanager
def _serving(preview: Preview, port: int) -> Iterator[str]:
    """Listen at both of this computer's own addresses, since `localhost` may mean either."""
    with ExitStack() as open_servers:
        server = _opened(preview, port)
        open_servers.enter_context(_running(server))
        with suppress(OSError):  # a computer without IPv6, or another program is there
            open_servers.enter_context(_running(PreviewServer(preview, server.server_port, HOST_6)))
        open_servers.callback(preview.end)
        yield server.address


def _opened(preview: Preview, port: int) -> PreviewServer:
    try:
        return PreviewServer(preview, port)
    except PermissionError:
        raise PortError(
            f"port {port} may not be used: try one above 1023, or 0 for any free one"
        ) from None
    except OSError:
        raise PortError(f"port {port} is taken: try another, or 0 for any free one") from None


@contextmanager
def _running(server: PreviewServer) -> Iterator[None]:
    thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    try:
        yield
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
