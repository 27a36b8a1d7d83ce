"""From a plan to a published site, by whichever engine."""

from __future__ import annotations

import shutil
from pathlib import Path

from handbook.engines.model import Engine, SiteFacts
from handbook.engines.plain import PlainEngine
from handbook.outputs.model import Site
from handbook.pipeline import render
from handbook.plan.model import Plan
from handbook.publishing import MEDIA_FOLDER, Published, publish, web_address, with_sitemap


def make_site(
    plan: Plan, content: Path, target: Path, *, engine: Engine | None = None
) -> Published:
    """Render a plan and publish it into the folder `target`; the plain engine if none is given.

    Raises what `publish` and the engine raise.
    """
    facts = facts_of(plan)
    site = with_sitemap(render(plan), facts.address)

    def build_into(folder: Path) -> None:
        write_site(
            site, folder, facts, engine=engine or PlainEngine(), media=content / MEDIA_FOLDER
        )

    return publish(site, target, content=content, build=build_into, address=facts.address)


def facts_of(plan: Plan) -> SiteFacts:
    """Give what pages say of the whole site."""
    program, language = plan.program, plan.languages[0]
    return SiteFacts(program.name.read(language), web_address(program.address), language)


def write_site(site: Site, folder: Path, facts: SiteFacts, *, engine: Engine, media: Path) -> None:
    """Finish the pages of `site` and write all its files into `folder`.

    `media` is the folder that `site.media` is relative to.
    """
    contents = {
        **engine.finish(site.pages, facts),
        **{file.path: file.content for file in site.files},
    }
    for path, content in contents.items():
        place = folder / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)
    for path in site.media:
        place = folder / MEDIA_FOLDER / path
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(media / path, place)
