"""MkDocs as the engine: the only module that knows MkDocs, its pages and its theme.

Pages come ready as HTML, so MkDocs reads no Markdown, draws no navigation and renders
one small frame a page. Of the theme Material only the name is left: our frame stands in
its place, and none of its scripts, styles and icons is published.
"""

from __future__ import annotations

import logging
import os
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from handbook.engines.model import FRAME, SiteFacts, file_of, frame_folder, framed
from handbook.outputs.model import RenderedPage

# Set before MkDocs loads the theme: a director is not to read upstream's notices.
os.environ["NO_MKDOCS_2_WARNING"] = "1"

from mkdocs.commands.build import build
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page


class BuildFaultError(Exception):
    """MkDocs refused or warned: a fault of ours, since authors' mistakes are found before."""


class MkDocsEngine:
    """Lets MkDocs finish the pages in one build, and takes them before they are written."""

    name = "mkdocs"

    def finish(self, pages: Sequence[RenderedPage], site: SiteFacts) -> Mapping[str, bytes]:
        """Build exactly those pages. Raises BuildFaultError."""
        taking = _Taking(pages, site)
        with tempfile.TemporaryDirectory(prefix="handbook-") as empty, _warnings_as_faults():
            build(_config(site, taking, Path(empty)))
        return taking.finished


class ReadyPage(Page):
    """A page whose HTML is there already: nothing to read, nothing to render."""

    def __init__(
        self, ready: RenderedPage, file: File, config: MkDocsConfig, site: SiteFacts
    ) -> None:
        super().__init__(ready.title, file, config)
        facts = framed(ready, site)
        self.ready, self.direction, self.canonical = ready, facts.direction, facts.canonical

    def read_source(self, config: MkDocsConfig) -> None:  # noqa: ARG002 - MkDocs's signature
        """Leave the source empty; ask for our frame."""
        self.markdown, self.meta = "", {"template": FRAME}

    def render(self, config: MkDocsConfig, files: Files) -> None:  # noqa: ARG002 - MkDocs's signature
        """Take the body as it is."""
        self.content = self.ready.body


class HandbookPlugin(BasePlugin):  # type: ignore[no-untyped-call,type-arg]
    """The plugin that a mkdocs.yml names."""

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:  # noqa: ARG002 - MkDocs's signature
        """Refuse."""
        raise PluginError(
            "the plugin `cycle-handbook` is run by `handbook build`, not by `mkdocs build`"
        )


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
            "theme": {"name": "material"},
            "plugins": [],
        }
    )
    errors, warnings = config.validate()
    if errors or warnings:
        raise BuildFaultError("; ".join(f"{key}: {text}" for key, text in (*errors, *warnings)))
    _leave_only_our_frame(config)
    config.plugins["cycle-handbook"] = taking
    return config


def _leave_only_our_frame(config: MkDocsConfig) -> None:
    """Take the theme's own templates away, with the ten thousand icons that MkDocs would list."""
    config.theme.dirs[:] = [str(frame_folder())]
    config.theme.static_templates.clear()


def _page_file(page: RenderedPage, config: MkDocsConfig, site: SiteFacts) -> File:
    file = File.generated(
        config, f"{page.path}index.md", content="", inclusion=InclusionLevel.NOT_IN_NAV
    )
    ReadyPage(page, file, config, site)  # attaches itself to the file
    return file


class _Kept(logging.Handler):
    """Keeps what MkDocs warns of."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


@contextmanager
def _warnings_as_faults() -> Iterator[None]:
    """Keep MkDocs silent, and raise what it warned of once it is done."""
    logger, kept = logging.getLogger("mkdocs"), _Kept()
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
