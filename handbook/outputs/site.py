"""The whole site as values: every page, its styles, fonts and scripts, the search index."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

from jinja2 import Environment

from handbook.outputs.base import OutputFile, RenderedPage, SearchEntry, Site
from handbook.outputs.pages import PAGES, addresses
from handbook.outputs.pages.draft import Context, PageDraft
from handbook.outputs.pages.environment import page_environment
from handbook.outputs.pages.frame import Frame, make_frame
from handbook.outputs.pages.spellings import day_in
from handbook.outputs.pages.synonyms import synonyms
from handbook.outputs.second_process import begun_elsewhere
from handbook.plan.model import Plan
from handbook.resources import templates_folder

_ASSET_SUFFIXES = frozenset({".css", ".js", ".woff2", ".svg", ".png", ".txt"})
_DIGEST_LETTERS = 10
_SHARE_HERE = 0.4  # of the pages; the search index is made here too
_CONCERT_WEIGHT = 2  # who asks for a day with a concert on it mostly means the concert
_PART_WEIGHT = 0.5  # a piece stands before its many parts, unless the instrument is named
# Kinds whose search entries may be about one day; a cycle's own entry is about many.
_DATED_KINDS = frozenset({"ensemble", "concert"})


def render_site(plan: Plan, templates: Path | None = None) -> Site:
    """Render a plan; the same plan gives the same bytes on any day and machine."""
    folder = templates or templates_folder()
    context = Context(plan, plan.languages[0])
    environment = page_environment(folder)
    drafts = [draft for kind in PAGES for draft in kind(context)]
    assets = tuple(_assets(folder / "assets"))
    versions = {Path(file.path).name: _versioned(file) for file in assets}
    environment.globals["versions"] = versions
    here = round(len(drafts) * _SHARE_HERE)
    others = begun_elsewhere(partial(_middles, environment), drafts[here:])
    index = OutputFile(addresses.SEARCH_INDEX, _search_index(drafts, plan))
    versions = {**versions, Path(index.path).name: _versioned(index)}
    frame = make_frame(context, environment, versions)
    site_name = context.say(plan.program.name)
    middles = [*_middles(environment, drafts[:here]), *others()]
    pages = tuple(
        _page(draft, frame, middle, site_name, context)
        for draft, middle in zip(drafts, middles, strict=True)
    )
    not_found = environment.get_template("pages/404.html.j2").render(
        name=site_name, root=_root_address(plan), language=context.language
    )
    return Site(
        pages=pages,
        files=(*assets, index, OutputFile("404.html", not_found.encode())),
        media=tuple(sorted(_media(plan))),
    )


def _middles(environment: Environment, drafts: Sequence[PageDraft]) -> list[str]:
    """Render what stands between the frame's parts, page by page."""
    return [
        environment.get_template(f"pages/{draft.kind}.html.j2").render(
            view=draft.view, root=addresses.root_of(draft.path)
        )
        for draft in drafts
    ]


def _page(
    draft: PageDraft, frame: Frame, middle: str, site_name: str, context: Context
) -> RenderedPage:
    trail = [link.title for link in reversed(draft.crumbs)]
    return RenderedPage(
        path=draft.path,
        title=" · ".join((draft.title, *trail, site_name)),
        description=draft.description,
        language=context.language,
        head=frame.head_of(draft),
        body=frame.body(draft, middle),
        search=draft.search,
    )


def _search_index(drafts: Iterable[PageDraft], plan: Plan) -> bytes:
    """Write the entries as a script, since a page opened from a folder may load nothing else.

    Each row holds `u` address, `t` title, `x` text, `k` other spellings, `p` page and, where
    there is one, `d` the day it is about, `e` the last day of its cycle, `w` its weight.
    """
    ends = {cycle.id: cycle.last.isoformat() for cycle in plan.cycles}
    rows = [
        _search_row(draft, entry, ends.get(draft.path.partition("/")[0], ""))
        for draft in drafts
        for entry in draft.search
    ]
    text = json.dumps(rows, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return f"globalThis.handbookSearchRows={text};\n".encode()


def _search_row(draft: PageDraft, entry: SearchEntry, cycle_ends: str) -> dict[str, str | float]:
    named = f"{entry.title} {entry.keywords} {entry.text if draft.kind == 'concert' else ''}"
    row: dict[str, str | float] = {
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


def _weight(draft: PageDraft, entry: SearchEntry) -> float:
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
