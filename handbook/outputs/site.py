"""The whole site as values: every page, its styles, fonts and scripts, the search index."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import urlsplit

from jinja2 import Environment

from handbook.outputs import addresses
from handbook.outputs.html.environment import page_environment
from handbook.outputs.html.frame import Frame, make_frame
from handbook.outputs.model import OutputFile, RenderedPage, SearchEntry, Site
from handbook.outputs.page import Context, Page
from handbook.outputs.pages import PAGES
from handbook.outputs.search.index import Row, search_files
from handbook.outputs.search.spellings import day_in
from handbook.outputs.search.synonyms import synonyms
from handbook.plan.model import Plan
from handbook.resources import templates_folder

_ASSET_SUFFIXES = frozenset({".css", ".js", ".woff2", ".svg", ".png", ".txt"})
_DIGEST_LETTERS = 10
_CONCERT_WEIGHT = 2  # who asks for a day with a concert on it mostly means the concert
_PART_WEIGHT = 0.5  # a piece stands before its many parts, unless the instrument is named
# Kinds whose search entries may be about one day; a cycle's own entry is about many.
_DATED_KINDS = frozenset({"ensemble", "concert"})


@dataclass(frozen=True, slots=True)
class _Made:
    """A page without its frame: its draft, less the view; its HTML; its rows for search."""

    draft: Page
    middle: str
    rows: tuple[Row, ...]


def render_site(plan: Plan, templates: Path | None = None) -> Site:
    """Render a plan; the same plan gives the same bytes on any day and machine."""
    folder = templates or templates_folder()
    context = Context(plan, plan.languages[0])
    environment = page_environment(folder)
    assets = tuple(_assets(folder / "assets"))
    versions = {Path(file.path).name: _versioned(file) for file in assets}
    environment.globals["versions"] = versions
    ends = {cycle.id: cycle.last.isoformat() for cycle in plan.cycles}
    made = [_one(environment, draft, ends) for kind in PAGES for draft in kind(context)]
    index = search_files(((page.draft.path, page.rows) for page in made), plan.cycles)
    frame = make_frame(context, environment, versions)
    site_name = context.say(plan.program.name)
    not_found = environment.get_template("pages/404.html.j2").render(
        name=site_name, root=_root_address(plan), language=context.language
    )
    return Site(
        pages=tuple(_page(page, frame, site_name, context) for page in made),
        files=(*assets, *index, OutputFile("404.html", not_found.encode())),
        media=tuple(sorted(_media(plan))),
    )


def _one(environment: Environment, draft: Page, ends: Mapping[str, str]) -> _Made:
    template = environment.get_template(f"pages/{draft.kind}.html.j2")
    cycle_ends = ends.get(draft.path.partition("/")[0], "")
    return _Made(
        draft=replace(draft, view=None),
        middle=template.render(view=draft.view, root=addresses.root_of(draft.path)),
        rows=tuple(_search_row(draft, entry, cycle_ends) for entry in draft.search),
    )


def _page(made: _Made, frame: Frame, site_name: str, context: Context) -> RenderedPage:
    draft = made.draft
    trail = [link.title for link in reversed(draft.crumbs)]
    return RenderedPage(
        path=draft.path,
        title=" · ".join((draft.title, *trail, site_name)),
        description=draft.description,
        language=context.language,
        head=frame.head_of(draft),
        body=frame.body(draft, made.middle),
        search=draft.search,
    )


def _search_row(draft: Page, entry: SearchEntry, cycle_ends: str) -> Row:
    named = f"{entry.title} {entry.keywords} {entry.text if draft.kind == 'concert' else ''}"
    row: Row = {
        "u": draft.path + (f"#{entry.anchor}" if entry.anchor else ""),
        "t": entry.title,
        "x": " ".join(entry.text.split()),
        "k": " ".join(filter(None, (entry.keywords, synonyms(named)))),
        "p": " · ".join(link.title for link in draft.crumbs),
        "d": day_in(entry.keywords) if draft.kind in _DATED_KINDS else "",
        "e": cycle_ends,
        "w": _weight(draft, entry),
    }
    return {key: value for key, value in row.items() if value or key in "utxkp"}


def _weight(draft: Page, entry: SearchEntry) -> float:
    """Weigh an entry beside others: 0 for as much as any."""
    if draft.kind == "part":
        return _PART_WEIGHT
    return _CONCERT_WEIGHT if draft.kind == "concert" and not entry.anchor else 0


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
    named |= {
        piece.item.recording
        for cycle in plan.cycles
        for ensemble in cycle.ensembles
        for piece in ensemble.pieces
    }
    return {path.removeprefix("media/") for path in named if path}


def _root_address(plan: Plan) -> str:
    """Give the path at which the site stands, `/` or `/bands/`, for the page of lost readers.

    Without the host, so that a copy under another name asks nothing of the first one.
    """
    path = urlsplit(plan.program.address or "").path
    return f"/{path.strip('/')}/" if path.strip("/") else "/"
