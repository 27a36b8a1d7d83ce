"""The whole site as values: every page, its styles, fonts and scripts, the search index."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from html import unescape
from itertools import starmap
from pathlib import Path
from typing import cast
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from markupsafe import Markup

from handbook.domain.history import NO_HISTORY, History
from handbook.outputs import addresses
from handbook.outputs.components.free_pages import language_of
from handbook.outputs.evenings import evening_files
from handbook.outputs.faces import faces_for, faces_of, letters_of
from handbook.outputs.feeds import calendar_events, feed_files, lost_rehearsals
from handbook.outputs.html.environment import Once, page_environment
from handbook.outputs.html.frame import CycleMenu, Frame, cycle_menu, make_frame
from handbook.outputs.html.partly import partly
from handbook.outputs.html.prose import led
from handbook.outputs.html.school_style import school_style
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.i18n.languages import direction, spoken
from handbook.outputs.i18n.other_language import bare, told
from handbook.outputs.i18n.scripts import script_words
from handbook.outputs.i18n.speaking import speaking, speech
from handbook.outputs.model import OutputFile, RenderedPage, Site
from handbook.outputs.page import Context, Page
from handbook.outputs.pages import OF_CYCLES, OF_ENSEMBLES, WHOLE, WholeKind
from handbook.outputs.search.entry import SearchEntry
from handbook.outputs.search.index import Row, rows_text, search_index, search_part
from handbook.outputs.search.spellings import spellings
from handbook.outputs.search.synonyms import synonyms
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import MadeSheet
from handbook.outputs.sheets.typesetting import imprint_of, typeset, words_digest
from handbook.outputs.web_address import web_address
from handbook.plan.concert_model import ConcertDay
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan
from handbook.records import dataclass
from handbook.resources import templates_folder

_ASSET_SUFFIXES = frozenset({".css", ".js", ".woff2", ".svg", ".png", ".txt"})
_DIGEST_LETTERS = 10
_FIRST_SCRIPT = f"{addresses.ASSETS}first.js"
_LINK = re.compile(r' (?:href|src)="([^"]*)')
# Who asks for a day with a concert on it mostly means the concert.
_CONCERT_WEIGHTS = {"": 2, "call": 1.5, "pick-up": 1.5}
_PLACE_IN_PART_WEIGHT = 0.5  # a piece stands before what its many parts say of it


@dataclass(frozen=True, slots=True)
class MadePage:
    """A page without its frame: itself, less the view; its HTML; its rows for search; its sheets."""

    page: Page
    middle: str
    rows: tuple[Row, ...]
    sheets: tuple[MadeSheet, ...] = ()


@dataclass(frozen=True, slots=True)
class CycleOutput:
    """What is made of one cycle as a whole: pages, and shares in those about the whole handbook."""

    pages: tuple[MadePage, ...]
    shares: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class MovedView:
    """A page that only leads on."""

    title: str
    language: str
    turned: str
    to: str
    canonical: str
    style: str


class Renderer:
    """Makes pages of plans; nothing that it gives depends on what it made before.

    Contexts are as `without_cycles` gives them, so that a page shows of the cycles only what
    it is made of.
    """

    def __init__(self, templates: Path | None = None) -> None:
        folder = templates or templates_folder()
        joined = {file.path: file.content for file in _joined(folder / "joined")}
        self._first = joined.pop(_FIRST_SCRIPT)
        with speaking(SOURCE):
            first = self._first_script()
        others = starmap(OutputFile, joined.items())
        self.assets = (*_assets(folder / "assets"), first, *others)
        self._versions = {Path(file.path).name: _versioned(file) for file in self.assets}
        self._environment, self._once = page_environment(folder), Once()
        self._environment.globals["once"] = self._once
        self._environment.globals["versions"] = self._versions

    def cycle(self, context: Context, cycle: CyclePlan) -> CycleOutput:
        """Make what one cycle gives as a whole."""
        ends = cycle.last.isoformat()
        return CycleOutput(
            pages=tuple(
                self._page(context, page, ends)
                for kind in OF_CYCLES
                for page in kind(context, cycle)
            ),
            shares={kind.name: kind.share(context, cycle) for kind in WHOLE},
        )

    def ensemble(
        self, context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
    ) -> tuple[MadePage, ...]:
        """Make an ensemble's own pages; `cycle` is as `alone` gives it."""
        ends = cycle.last.isoformat()
        made = tuple(
            self._page(context, page, ends)
            for kind in OF_ENSEMBLES
            for page in kind(context, cycle, ensemble)
        )
        self._once.forget()
        return made

    def whole(
        self, context: Context, kind: WholeKind, shares: Sequence[object]
    ) -> tuple[MadePage, ...]:
        """Make the pages of one kind about the whole handbook, of the shares of all cycles."""
        return tuple(self._page(context, page) for page in kind.pages(context, shares))

    def frame(
        self, context: Context, cycles: Sequence[CycleMenu], drafts: Sequence[str] = ()
    ) -> Frame:
        """Make the frame of all pages; `cycles` are the menus of cycles in order, `drafts` ids of some."""
        school = school_style(context)
        versions = self._versions | {
            Path(file.path).name: _versioned(file) for file in (school, self._first_script())
        }
        return make_frame(context, self._environment, versions, cycles, drafts)

    def own_scripts(self) -> tuple[OutputFile, ...]:
        """Make what the language of our own words has for scripts; the assets have that of English."""
        return () if speech().code == SOURCE else (self._first_script(),)

    def _first_script(self) -> OutputFile:
        """Make the script that runs first, with the words of all scripts before it."""
        code, messages = speech().code, speech().messages
        folder = "" if code == SOURCE else f"{code.lower()}/"
        path = f"{addresses.ASSETS}{folder}{Path(_FIRST_SCRIPT).name}"
        return OutputFile(path, script_words(code, messages).encode() + self._first)

    def part(self, name: str, view: object, root: str) -> str:
        """Make a part of a page, that is set in when the page is finished."""
        template = self._environment.get_template(f"history/{name}.html.j2")
        return template.render(view=view, root=root)

    def not_found(self, context: Context, frame: Frame) -> OutputFile:
        """Make the page for lost readers, whose links hold wherever it is shown."""
        name, top = bare(context.say(context.plan.program.name)), _root_address(context.plan)
        root = f"{top}{context.tree}"
        head, body = frame.lost(self._lost(context, top), root, top)
        page = self._environment.get_template("pages/_lost.html.j2").render(
            name=name,
            language=context.language,
            direction=direction(context.language),
            spoken=spoken(context.language) if context.tree else context.language,
            head=Markup(head),  # noqa: S704 - made by templates, as is the body
            body=Markup(body),  # noqa: S704
        )
        return OutputFile(f"{context.tree}404.html", page.encode())

    def _lost(self, context: Context, top: str) -> str:
        """Say that there is no page; above all languages in each of them, of which a script leaves one."""
        template = self._environment.get_template("pages/404.html.j2")
        languages = context.plan.languages
        if context.tree or len(languages) == 1:
            return template.render(root=f"{top}{context.tree}")
        parts = list[str]()
        for language in languages:
            other = replace(context, language=language)
            with other.speaking():
                said = template.render(root=f"{top}{other.tree}")
            own = spoken(language) if other.tree else language
            parts.append(
                f'<section data-lost="{other.tree}" lang="{own}" dir="{direction(own)}">{said}</section>\n'
            )
        return "".join(parts)

    def moved(self, context: Context) -> Iterator[OutputFile]:
        """Make a page at each address that a free page had before its language had pages of its own."""
        languages = context.plan.languages
        site = web_address(context.plan.program.address)
        template = self._environment.get_template("pages/_moved.html.j2")
        for page in context.plan.pages:
            language, name = language_of(page.slug, languages)
            if not language:
                continue
            old = addresses.free_page(page.slug)
            new = f"{addresses.tree(language, languages)}{addresses.free_page(name)}"
            top, turned = addresses.root_of(old), direction(language)
            view = MovedView(
                title=page.title,
                language=language,
                turned="" if turned == "ltr" else turned,
                to=f"{top}{new}",
                canonical=f"{site}{new}" if site else "",
                style=f"{top}{self._versions['handbook.css']}",
            )
            yield OutputFile(f"{old}index.html", template.render(page=view).encode())

    def _page(self, context: Context, page: Page, cycle_ends: str = "") -> MadePage:
        template = self._environment.get_template(f"pages/{page.kind}.html.j2")
        root = addresses.root_of(page.path)
        top = addresses.root_of(f"{context.tree}{page.path}")
        middle = template.render(view=page.view, say=context.say, root=root, top=top)
        shown = told(led(middle, root, top, context.plan.languages), context.language)
        note = partly(context, self._environment, "pages/_partly.html.j2", shown.languages)
        entries = tuple(map(_bare, page.search)) if context.tree else page.search
        return MadePage(
            page=replace(page, view=None, search=entries, sheets=()),
            middle=f"{note}\n{shown.html}" if note else shown.html,
            rows=tuple(_search_row(page, entry, cycle_ends) for entry in entries),
            sheets=tuple(made_sheet(context, self._environment, page, one) for one in page.sheets),
        )


def render_site(plan: Plan, templates: Path | None = None, history: History = NO_HISTORY) -> Site:
    """Render a plan; the same plan and history give the same bytes on any day and machine.

    Of the `history` only the menu and the calendars tell here; pages are told of it later.
    """
    renderer = Renderer(templates)
    trees = [
        _tree(renderer, Context(plan, language, bool(history.standing)), history)
        for language in plan.languages
    ]
    first = Context(plan, plan.languages[0], bool(history.standing))
    with first.speaking():
        calendars = tuple(
            feed_files(first, calendar_events(first), history, lost_rehearsals(first))
        )
    look = plan.program.look
    emblem = [look.emblem] if look and look.emblem else []
    return Site(
        pages=tuple(page for tree in trees for page in tree.pages),
        files=(*renderer.assets, *calendars, *(file for tree in trees for file in tree.files)),
        media=tuple(sorted({*emblem, *(name for tree in trees for name in tree.media)})),
    )


def _tree(renderer: Renderer, context: Context, history: History) -> Site:
    """Render all that there is in one language."""
    with context.speaking():
        plan = context.plan
        made, own_files = _made(renderer, context)
        frame = renderer.frame(context, menus_of(context, plan.cycles))
        pages = tuple(framed(page, frame, context) for page in made)
        return Site(
            pages=pages,
            files=(
                school_style(context),
                *(() if context.tree else renderer.moved(context)),
                *renderer.own_scripts(),
                *_faces(context, pages),
                *_typeset(context, made, history),
                *in_tree(context, own_files),
                *in_tree(context, _search_files(made, plan)),
                renderer.not_found(context, frame),
                *in_tree(
                    context,
                    (
                        file
                        for cycle in plan.cycles
                        for ensemble in cycle.ensembles
                        for file in evening_files(context, cycle, ensemble)
                    ),
                ),
            ),
            media=tuple(addresses.media_in(_addresses(page.middle for page in made))),
        )


def _typeset(context: Context, pages: Iterable[MadePage], history: History) -> Iterator[OutputFile]:
    """Make the sheets of pages."""
    program = context.plan.program
    site, zone = web_address(program.address), ZoneInfo(program.time_zone)
    for page in pages:
        for sheet in page.sheets:
            imprint = imprint_of(sheet.path, words_digest(sheet), site, history, zone)
            yield OutputFile(sheet.path, typeset(sheet, imprint))


def _faces(context: Context, pages: Iterable[RenderedPage]) -> tuple[OutputFile, ...]:
    """Make the typefaces of a language whose letters the site's own lack."""
    if faces_of(context.language) is None:
        return ()
    whole = (f"{page.title}{page.description}{page.head}{page.body}" for page in pages)
    letters = {letter for page in whole for letter in letters_of(page)}
    return faces_for(context.language, letters, f"{addresses.ASSETS}{context.tree}")


def in_tree(context: Context, files: Iterable[OutputFile]) -> Iterator[OutputFile]:
    """Put files that are named from the root of their language into its folder."""
    return (replace(file, path=f"{context.tree}{file.path}") for file in files)


def made_pages(renderer: Renderer, plan: Plan, *, published: bool = False) -> tuple[MadePage, ...]:
    """Make all pages of a plan, without their frames: the first page, the cycles', the others."""
    return _made(renderer, Context(plan, plan.languages[0], published))[0]


def _made(
    renderer: Renderer, whole: Context
) -> tuple[tuple[MadePage, ...], tuple[OutputFile, ...]]:
    """Make all pages, and the files that go with them."""
    plan, context = whole.plan, without_cycles(whole)
    outputs = [renderer.cycle(context, cycle) for cycle in plan.cycles]
    first, *others = (
        page
        for kind in WHOLE
        for page in renderer.whole(context, kind, [one.shares[kind.name] for one in outputs])
    )
    own: list[MadePage] = []
    for cycle, output in zip(plan.cycles, outputs, strict=True):
        own += output.pages
        for ensemble in cycle.ensembles:
            own += renderer.ensemble(context, alone(cycle, ensemble), ensemble)
    files = (
        file
        for kind in WHOLE
        if kind.files
        for output in outputs
        for file in kind.files(output.shares[kind.name])
    )
    return (first, *own, *others), tuple(files)


def alone(cycle: CyclePlan, ensemble: EnsemblePlan) -> CyclePlan:
    """Leave in a cycle only what an ensemble's own pages may look at.

    That is the ensemble, those whose pieces it joins, and of each concert all but its day.
    """
    hosts = {joined.host.id for joined in ensemble.joined}
    return replace(
        cycle,
        ahead=(),
        ensembles=(
            ensemble,
            *(one for one in cycle.ensembles if one.item.id in hosts and one is not ensemble),
        ),
        concerts=tuple(
            replace(
                one,
                appearances=(),
                day=cast("ConcertDay", None),
                rain=one.rain and replace(one.rain, day=None, conflicts=()),
            )
            for one in cycle.concerts
        ),
    )


def without_cycles(context: Context) -> Context:
    """Leave out the cycles of a context's plan."""
    return Context(replace(context.plan, cycles=()), context.language, context.published)


def menus_of(context: Context, cycles: Iterable[CyclePlan]) -> tuple[CycleMenu, ...]:
    """List what the menu leads to in each cycle."""
    return tuple(
        cycle_menu(
            context,
            cycle.id,
            cycle.item,
            cycle.last,
            [ensemble.item for ensemble in cycle.ensembles],
            [(one.id, one.item) for one in cycle.concerts],
        )
        for cycle in cycles
    )


def framed(made: MadePage, frame: Frame, context: Context) -> RenderedPage:
    """Set a page into the frame."""
    page = made.page
    trail = [link.title for link in reversed(page.crumbs)]
    title = " · ".join((page.title, *trail, context.say(context.plan.program.name)))
    return RenderedPage(
        path=f"{context.tree}{page.path}",
        title=bare(title),
        description=bare(page.description),
        language=context.language,
        head=frame.head_of(page),
        body=frame.body(page, made.middle),
        search=page.search,
        spoken=spoken(context.language) if context.tree else "",
    )


def _search_files(pages: Iterable[MadePage], plan: Plan) -> Iterable[OutputFile]:
    """Part the rows of all pages by the cycles that they are of."""
    by_cycle: Mapping[str, list[Row]] = {cycle.id: [] for cycle in plan.cycles}
    common: list[Row] = []
    for made in pages:
        by_cycle.get(made.page.path.partition("/")[0], common).extend(made.rows)
    yield search_index([rows_text(common)], [(cycle.id, cycle.last) for cycle in plan.cycles])
    yield from (search_part(cycle_id, [rows_text(rows)]) for cycle_id, rows in by_cycle.items())


def _bare(entry: SearchEntry) -> SearchEntry:
    """Take the marks out of what is found, which a list of results shows as text."""
    return replace(
        entry,
        title=bare(entry.title),
        text=bare(entry.text),
        keywords=bare(entry.keywords),
        answer=bare(entry.answer),
    )


def _search_row(page: Page, entry: SearchEntry, cycle_ends: str) -> Row:
    more = synonyms(entry.text) if page.kind == "concert" else ""
    known = (entry.keywords, spellings(entry), synonyms(f"{entry.title} {entry.keywords}"))
    row: Row = {
        "u": page.path + (f"#{entry.anchor}" if entry.anchor else ""),
        "t": entry.title,
        "x": " ".join(entry.text.split()),
        "k": " ".join(filter(None, (*known, more and f"| {more}"))),
        "p": bare(" · ".join(link.title for link in page.crumbs)),
        "a": entry.answer,
        "d": entry.day.isoformat() if entry.day else "",
        "e": cycle_ends,
        "w": _weight(page, entry),
    }
    return {key: value for key, value in row.items() if value or key in "utxkp"}


def _weight(page: Page, entry: SearchEntry) -> float:
    """Weigh an entry beside others: 0 for as much as any."""
    if page.kind == "part":
        return _PLACE_IN_PART_WEIGHT if entry.anchor else 0
    return _CONCERT_WEIGHTS.get(entry.anchor, 0) if page.kind == "concert" else 0


def _assets(folder: Path) -> Iterable[OutputFile]:
    for path in sorted(folder.rglob("*")):
        if path.is_file() and path.suffix in _ASSET_SUFFIXES:
            yield OutputFile(
                f"{addresses.ASSETS}{path.relative_to(folder).as_posix()}", path.read_bytes()
            )


def _joined(folder: Path) -> Iterable[OutputFile]:
    """Give each style or script that lies in parts, one part after the other by their names."""
    for parts in sorted(folder.iterdir()):
        content = b"".join(part.read_bytes() for part in sorted(parts.glob(f"*{parts.suffix}")))
        yield OutputFile(f"{addresses.ASSETS}{parts.name}", content)


def _versioned(file: OutputFile) -> str:
    """Give an address that changes with the content, so that no old copy is shown."""
    return f"{file.path}?v={hashlib.sha256(file.content).hexdigest()[:_DIGEST_LETTERS]}"


def _addresses(pages: Iterable[str]) -> Iterator[str]:
    return (unescape(link) for page in pages for link in _LINK.findall(page))


def _root_address(plan: Plan) -> str:
    """Give the path at which the site stands, `/` or `/bands/`, for the page of lost readers.

    Without the host, so that a copy under another name asks nothing of the first one.
    """
    path = urlsplit(plan.program.address or "").path
    return f"/{path.strip('/')}/" if path.strip("/") else "/"
