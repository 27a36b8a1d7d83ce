"""The site, made by MkDocs: the only module that knows MkDocs, its pages and its theme.

Pages come ready as HTML, so MkDocs reads no Markdown, draws no navigation and renders
one small frame a page. Of the theme Material only the name is left: our frame stands in
its place, and none of its scripts, styles and icons is published.
"""

from __future__ import annotations

import logging
import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from babel import Locale, UnknownLocaleError

from handbook.outputs.model import OutputFile, RenderedPage, Site
from handbook.pipeline import render
from handbook.plan.model import Plan
from handbook.publishing import MEDIA_FOLDER, Published, publish, web_address, with_sitemap
from handbook.resources import templates_folder

# Set before MkDocs loads the theme: a director is not to read upstream's notices.
os.environ["NO_MKDOCS_2_WARNING"] = "1"

from mkdocs.commands.build import build
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

PLUGIN = "cycle-handbook"


class BuildFaultError(Exception):
    """MkDocs refused or warned: a fault of ours, since authors' mistakes are found before."""


class ReadyPage(Page):
    """A page whose HTML is there already: nothing to read, nothing to render."""

    def __init__(self, ready: RenderedPage, file: File, config: MkDocsConfig) -> None:
        super().__init__(ready.title, file, config)
        self.ready = ready
        self.direction = _direction(ready.language)

    def read_source(self, config: MkDocsConfig) -> None:  # noqa: ARG002 - MkDocs's signature
        """Leave the source empty."""
        self.markdown, self.meta = "", {}

    def render(self, config: MkDocsConfig, files: Files) -> None:  # noqa: ARG002 - MkDocs's signature
        """Take the body as it is."""
        self.content = self.ready.body


class HandbookPlugin(BasePlugin):  # type: ignore[no-untyped-call,type-arg]
    """Hands a finished site to MkDocs as generated files."""

    site: Site | None = None
    media: Path = Path()

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Leave only our frame in the theme; runs first in a build.

        The theme's own folder holds over ten thousand icons that MkDocs would list.
        """
        if self.site is None:
            raise PluginError(
                "the plugin `cycle-handbook` is run by `handbook build`, not by `mkdocs build`"
            )
        config.theme.dirs[:] = [str(_frame_folder())]
        config.theme.static_templates.clear()
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:  # noqa: ARG002 - the theme's files are dropped
        """Replace whatever MkDocs found by the files of the site."""
        site = self.site or Site((), ())
        listed = [_page_file(page, config) for page in site.pages]
        listed += [_output_file(file, config) for file in site.files]
        listed += [_media_file(path, self.media, config) for path in site.media]
        return Files(listed)


def make_site(plan: Plan, content: Path, target: Path) -> Published:
    """Render a plan and publish it into the folder `target`.

    Raises what `publish` raises, and BuildFaultError.
    """
    program, media = plan.program, content / MEDIA_FOLDER
    address = web_address(program.address)
    site = with_sitemap(render(plan), address)
    build_into = builder(site, name=str(program.name), media=media, address=address)
    return publish(site, target, content=content, build=build_into, address=address)


def builder(
    site: Site, *, name: str, media: Path, address: str | None = None
) -> Callable[[Path], None]:
    """Give the function that builds `site` into an empty folder.

    `name` is the program's; `media` is the folder that `site.media` is relative to;
    `address` is where the site will stand, for the canonical links. The function raises
    BuildFaultError.
    """

    def build_into(folder: Path) -> None:
        with tempfile.TemporaryDirectory(prefix="handbook-") as empty, _warnings_as_faults():
            build(_config(site, name=name, address=address, media=media, docs=empty, to=folder))

    return build_into


def _config(
    site: Site, *, name: str, address: str | None, media: Path, docs: str, to: Path
) -> MkDocsConfig:
    """Make the configuration that a mkdocs.yml would hold."""
    config = MkDocsConfig()
    config.load_dict(
        {
            "site_name": name or "Handbook",
            "site_url": address,
            "docs_dir": docs,
            "site_dir": str(to),
            "theme": {"name": "material", "custom_dir": str(_frame_folder())},
            "plugins": [],
        }
    )
    errors, warnings = config.validate()
    if errors or warnings:
        raise BuildFaultError("; ".join(f"{key}: {text}" for key, text in (*errors, *warnings)))
    plugin = HandbookPlugin()
    plugin.site, plugin.media = site, media
    config.plugins[PLUGIN] = plugin
    return config


def _frame_folder() -> Path:
    return templates_folder() / "theme"


def _page_file(page: RenderedPage, config: MkDocsConfig) -> File:
    file = File.generated(
        config, f"{page.path}index.md", content="", inclusion=InclusionLevel.NOT_IN_NAV
    )
    ReadyPage(page, file, config)  # attaches itself to the file
    return file


def _output_file(output: OutputFile, config: MkDocsConfig) -> File:
    return File.generated(
        config, output.path, content=output.content, inclusion=InclusionLevel.NOT_IN_NAV
    )


def _media_file(path: str, media: Path, config: MkDocsConfig) -> File:
    return File.generated(
        config,
        f"{MEDIA_FOLDER}/{path}",
        abs_src_path=str(media / path),
        inclusion=InclusionLevel.NOT_IN_NAV,
    )


@cache
def _direction(language: str) -> str:
    """Give `rtl` or `ltr`; a language that Babel does not know runs left to right."""
    try:
        return Locale.parse(language, sep="-").text_direction
    except (UnknownLocaleError, ValueError):
        return "ltr"


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
