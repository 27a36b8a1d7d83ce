"""From a plan to a published site in one go: what kept builds are compared with."""

from __future__ import annotations

from pathlib import Path

from handbook.engines.model import Engine, SiteFacts, facts_of
from handbook.engines.plain import PlainEngine
from handbook.making.media import known_media, media_files
from handbook.outputs.model import Site, SiteFile
from handbook.pipeline import render
from handbook.plan.model import Plan
from handbook.publishing import (
    Published,
    publish,
    with_sitemap,
)
from handbook.source.links import MEDIA
from handbook.store import Store
from tests.published_sites import finished_file


def make_site(
    plan: Plan, content: Path, target: Path, *, engine: Engine | None = None
) -> Published:
    """Render a plan and publish it into the folder `target`; the plain engine if none is given.

    Raises what `publish` and the engine raise.
    """
    return publish_site(render(plan), plan, content, target, engine=engine)


def publish_site(
    rendered: Site, plan: Plan, content: Path, target: Path, *, engine: Engine | None = None
) -> Published:
    """Publish what was rendered of a plan, as `make_site` does."""
    facts = facts_of(plan)
    site = with_sitemap(rendered, facts.address)
    files = site_files(site, facts, engine=engine or PlainEngine(), media=content / MEDIA)
    return publish(files, target, content=content)


def site_files(
    site: Site, facts: SiteFacts, *, engine: Engine, media: Path
) -> tuple[SiteFile, ...]:
    """Finish the pages of `site`; give all its files.

    `media` is the folder that `site.media` is relative to. Raises NotPublishedError if
    one of them cannot be published.
    """
    contents = {
        **engine.finish(site.pages, facts),
        **{file.path: file.content for file in site.files},
    }
    finished = (finished_file(path, content) for path, content in contents.items())
    return (*finished, *media_files(site.media, known_media(media, site.media, Store()), media))
