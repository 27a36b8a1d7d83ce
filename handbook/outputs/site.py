"""The whole site as values: every page, its styles, fonts and scripts, the search index."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from pathlib import Path

from jinja2 import Template

from handbook.outputs.base import OutputFile, RenderedPage, Site
from handbook.outputs.pages import PAGES, addresses
from handbook.outputs.pages.draft import Context, PageDraft
from handbook.outputs.pages.environment import page_environment
from handbook.outputs.pages.frame import Frame, make_frame
from handbook.plan.model import Plan
from handbook.resources import templates_folder

_ASSET_SUFFIXES = frozenset({".css", ".js", ".woff2", ".svg", ".png", ".txt"})
_DIGEST_LETTERS = 10


def render_site(plan: Plan, templates: Path | None = None) -> Site:
    """Render a plan; the same plan gives the same bytes on any day and machine."""
    folder = templates or templates_folder()
    context = Context(plan, plan.languages[0])
    environment = page_environment(folder)
    drafts = [draft for kind in PAGES for draft in kind(context)]
    index = OutputFile(addresses.SEARCH_INDEX, _search_index(drafts))
    assets = tuple(_assets(folder / "assets"))
    versions = {Path(file.path).name: _versioned(file) for file in (*assets, index)}
    frame = make_frame(context, environment, versions)
    site_name = context.say(plan.program.name)
    pages = tuple(
        _page(
            draft,
            frame,
            environment.get_template(f"pages/{draft.kind}.html.j2"),
            site_name,
            context,
        )
        for draft in drafts
    )
    not_found = environment.get_template("pages/404.html.j2").render(
        name=site_name, root=_root_address(plan), language=context.language
    )
    return Site(
        pages=pages,
        files=(*assets, index, OutputFile("404.html", not_found.encode())),
        media=tuple(sorted(_media(plan))),
    )


def _page(
    draft: PageDraft, frame: Frame, template: Template, site_name: str, context: Context
) -> RenderedPage:
    root = addresses.root_of(draft.path)
    middle = template.render(view=draft.view, root=root)
    return RenderedPage(
        path=draft.path,
        title=f"{draft.title} · {site_name}",
        description=draft.description,
        language=context.language,
        head=frame.head_of(draft),
        body=frame.body(draft, middle),
        search=draft.search,
    )


def _search_index(drafts: Iterable[PageDraft]) -> bytes:
    """Write the entries as JSON: `u` address, `t` title, `x` text, `k` other spellings, `p` page."""
    rows = [
        {
            "u": draft.path + (f"#{entry.anchor}" if entry.anchor else ""),
            "t": entry.title,
            "x": " ".join(entry.text.split()),
            "k": entry.keywords,
            "p": " · ".join(link.title for link in draft.crumbs),
        }
        for draft in drafts
        for entry in draft.search
    ]
    return json.dumps(rows, ensure_ascii=False, separators=(",", ":"), sort_keys=True).encode()


def _assets(folder: Path) -> Iterable[OutputFile]:
    for path in sorted(folder.rglob("*")):
        if path.is_file() and path.suffix in _ASSET_SUFFIXES:
            yield OutputFile(
                f"{addresses.ASSETS}{path.relative_to(folder).as_posix()}", path.read_bytes()
            )


def _versioned(file: OutputFile) -> str:
    """Give an address that changes with the content, so that no old copy is shown."""
    return f"{file.path}?v={hashlib.sha256(file.content).hexdigest()[:_DIGEST_LETTERS]}"


def _media(plan: Plan) -> Iterable[str]:
    named = {
        exercise.media for strand in plan.fundamentals.strands for exercise in strand.exercises
    }
    named |= {warm_up.media for warm_up in plan.fundamentals.warm_ups}
    return {path.removeprefix("media/") for path in named if path}


def _root_address(plan: Plan) -> str:
    address = plan.program.address or "/"
    return address if address.endswith("/") else f"{address}/"
