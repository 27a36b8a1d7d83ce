"""MkDocs as the engine: the only module that knows MkDocs, its pages and its theme.

Pages come ready as HTML, so MkDocs reads no Markdown, draws no navigation and renders
one small frame a page. Of the theme Material only the name is left: our frame stands in
its place, and none of its scripts, styles and icons is published.
"""

from __future__ import annotations

import logging
import os
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handbook.engines.hosted import Hosted, NotHostedError, find_content, hosted
from handbook.engines.model import FRAME, SiteFacts, file_of, frame_folder, framed
from handbook.loader.media_files import published_bytes
from handbook.outputs.model import RenderedPage
from handbook.publishing import NotPublishedError, temporary_folder_sentence
from handbook.publishing.verify_links import link_facts, link_findings
from handbook.source.links import MEDIA

# Set before MkDocs loads the theme: a director is not to read upstream's notices.
os.environ["NO_MKDOCS_2_WARNING"] = "1"

from mkdocs.commands.build import build
from mkdocs.config import config_options as options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

if TYPE_CHECKING:
    from mkdocs.livereload import LiveReloadServer  # brings a web server and a watcher of files

PLUGIN = "cycle-handbook"
_LINKING = frozenset({".html", ".css"})
_log = get_plugin_logger(PLUGIN)


class BuildFaultError(Exception):
    """MkDocs refused or warned: a fault of ours, since authors' mistakes are found before."""


class MkDocsEngine:
    """Lets MkDocs finish the pages in one build, and takes them before they are written."""

    def finish(self, pages: Sequence[RenderedPage], site: SiteFacts) -> Mapping[str, bytes]:
        """Build exactly those pages.

        Raises BuildFaultError, and NotPublishedError if the system has no room for an empty
        folder, which MkDocs needs to start from.
        """
        taking = _Taking(pages, site)
        with _empty_folder() as empty, _warnings_as_faults():
            build(_config(site, taking, Path(empty)))
        taking.pages = ()  # MkDocs holds on to its last plugins
        return taking.finished


def _empty_folder() -> tempfile.TemporaryDirectory[str]:
    try:
        return tempfile.TemporaryDirectory(prefix="handbook-")
    except OSError as error:
        raise NotPublishedError(temporary_folder_sentence(error)) from error


class ReadyPage(Page):
    """A page whose HTML is there already: nothing to read, nothing to render."""

    def __init__(
        self, ready: RenderedPage, file: File, config: MkDocsConfig, site: SiteFacts
    ) -> None:
        super().__init__(ready.title, file, config)
        facts = framed(ready, site)
        self.ready, self.direction, self.canonical = ready, facts.direction, facts.canonical

    def read_source(self, config: MkDocsConfig) -> None:  # noqa: ARG002 - MkDocs's signature
        """Leave the source empty; ask for our frame, and keep out of the theme's own search."""
        self.markdown, self.meta = "", {"template": FRAME, "search": {"exclude": True}}

    def render(self, config: MkDocsConfig, files: Files) -> None:  # noqa: ARG002 - MkDocs's signature
        """Take the body as it is."""
        self.content = self.ready.body


class _Options(Config):  # type: ignore[no-untyped-call]
    """What a mkdocs.yml may say of the handbook."""

    content = options.Optional(options.Type(str))
    """The content folder, counted from the mkdocs.yml."""

    folder = options.Type(str, default="")
    """Where in the site the handbook stands; the whole site if empty."""


class HandbookPlugin(BasePlugin[_Options]):  # type: ignore[no-untyped-call]
    """The plugin that a mkdocs.yml names: it makes the handbook within MkDocs's own build.

    Every event of MkDocs is sent for our pages as for any other, so that other plugins see
    them. An address in mkdocs.yml goes before the one in program.yaml.
    """

    found: Hosted
    content: Path

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read and render the content, and make our frame known to the theme.

        Raises PluginError, which MkDocs tells without a traceback.
        """
        try:
            self.content = _content(config, self.config.content)
            self.found = hosted(self.content, folder=self.config.folder, address=config.site_url)
        except NotHostedError as refusal:
            raise PluginError(str(refusal)) from None
        for warning in self.found.warnings:
            _log.warning(warning)
        if self.found.folder:
            config.theme.dirs.append(str(frame_folder()))
        else:
            config.site_url = config.site_url or self.found.facts.address
            _leave_only_our_frame(config)
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the pages and files of the handbook to those of the site around it.

        Files of the content folder are never published as they are, wherever it lies.
        """
        kept = [file for file in files if not _is_in(file.abs_src_path, self.content)]
        ours = list(self._ours(config))
        taken = {file.dest_uri for file in ours}
        clash = next((file for file in kept if file.dest_uri in taken), None)
        page = next((file for file in kept if file.is_documentation_page()), None)
        if page and not self.found.folder:
            raise PluginError(
                f"{page.src_uri} is a page of your own, and the handbook is the whole site: give"
                " the plugin a folder for the handbook, such as `folder: band`"
            )
        if clash:
            raise PluginError(
                f"{clash.src_uri} stands where a file of the handbook goes: rename it, or give the"
                " plugin another `folder`"
            )
        return Files([*kept, *ours])

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Warn of each link on our pages that leads nowhere, of which MkDocs reads none."""
        root = Path(config.site_dir)
        paths = {path.relative_to(root).as_posix(): path for path in root.rglob("*")}
        linked = {
            name: link_facts(name, path.read_bytes() if path.suffix in _LINKING else b"")
            for name, path in paths.items()
            if path.is_file()
        }
        for finding in link_findings(linked, config.site_url):
            if finding.startswith(self.found.folder):
                _log.warning(finding)

    def on_serve(
        self,
        server: LiveReloadServer,
        /,
        *,
        config: MkDocsConfig,  # noqa: ARG002 - MkDocs's signature
        builder: Callable[..., None],  # noqa: ARG002
    ) -> LiveReloadServer:
        """Build anew whenever the content changes."""
        server.watch(str(self.content))
        return server

    def _ours(self, config: MkDocsConfig) -> Iterator[File]:
        site, folder, facts = self.found.site, self.found.folder, self.found.facts
        for page in site.pages:
            yield _page_file(page, config, facts, folder)
        for file in site.files:
            yield _generated(config, f"{folder}{file.path}", content=file.content)
        for path in site.media:
            yield _generated(
                config,
                f"{folder}{MEDIA}/{path}",
                content=published_bytes(self.found.media / path),
            )


def _content(config: MkDocsConfig, given: str | None) -> Path:
    content = find_content(given, Path(config.config_file_path or "mkdocs.yml").resolve().parent)
    if _is_in(config.site_dir, content):
        raise NotHostedError(
            "the site cannot be built inside the content folder: in mkdocs.yml, set `site_dir` to"
            f" a folder outside {content}"
        )
    return content


class _Taking(BasePlugin):  # type: ignore[no-untyped-call,type-arg]
    """Gives MkDocs the pages, and takes each as soon as it is finished."""

    def __init__(self, pages: Sequence[RenderedPage], site: SiteFacts) -> None:
        super().__init__()
        self.pages, self.site = pages, site
        self.finished: dict[str, bytes] = {}

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:  # noqa: ARG002 - there are none
        """Offer the pages alone."""
        return Files([_page_file(page, config, self.site) for page in self.pages])

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:  # noqa: ARG002 - MkDocs's signature
        """Keep the page; nothing is left to write."""
        if isinstance(page, ReadyPage):
            self.finished[file_of(page.ready)] = output.encode(errors="xmlcharrefreplace")
            # MkDocs's pages and files hold one another, so the bodies would stay for long.
            page.content = None
            del page.ready
        return ""


def _config(site: SiteFacts, taking: _Taking, empty: Path) -> MkDocsConfig:
    """Make the configuration that a mkdocs.yml would hold."""
    config = MkDocsConfig()
    docs = empty / "docs"
    docs.mkdir()
    config.load_dict(
        {
            "site_name": site.name or "Handbook",
            "site_url": site.address,
            "docs_dir": str(docs),
            "site_dir": str(empty / "site"),
            "theme": {"name": None, "custom_dir": str(frame_folder())},
            "plugins": [],
        }
    )
    errors, warnings = config.validate()
    if errors or warnings:
        raise BuildFaultError("; ".join(f"{key}: {text}" for key, text in (*errors, *warnings)))
    _leave_only_our_frame(config)
    config.plugins[PLUGIN] = taking
    return config


def _leave_only_our_frame(config: MkDocsConfig) -> None:
    """Take the theme's own templates away, with the ten thousand icons that MkDocs would list."""
    config.theme.dirs[:] = [str(frame_folder())]
    config.theme.static_templates.clear()


def _page_file(page: RenderedPage, config: MkDocsConfig, site: SiteFacts, folder: str = "") -> File:
    file = _generated(config, f"{folder}{page.path}index.md", content="")
    ReadyPage(page, file, config, site)  # attaches itself to the file
    return file


def _generated(config: MkDocsConfig, path: str, **source: Any) -> File:
    return File.generated(config, path, inclusion=InclusionLevel.NOT_IN_NAV, **source)


def _is_in(path: str | None, folder: Path) -> bool:
    return path is not None and Path(path).resolve().is_relative_to(folder.resolve())


class _KeptWarnings(logging.Handler):
    """Keeps what MkDocs warns of."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


@contextmanager
def _warnings_as_faults() -> Iterator[None]:
    """Keep MkDocs silent, and raise what it warned of once it is done."""
    logger, kept = logging.getLogger("mkdocs"), _KeptWarnings()
    before = logger.propagate, logger.level
    logger.addHandler(kept)
    logger.propagate, logger.level = False, logging.WARNING
    try:
        yield
    finally:
        logger.removeHandler(kept)
        logger.propagate, logger.level = before
    if kept.messages:
        raise BuildFaultError("; ".join(kept.messages))
