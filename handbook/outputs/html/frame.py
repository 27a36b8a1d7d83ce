"""The frame of all pages: header, navigation, footer, rendered once for the whole site.

Only a few things differ from page to page: the way to the root, the page's own address and
the current entry, which are put in by replacing marks, and the middle, which no mark is looked
for in. Which cycle the menu leads into is for the reader's day to say: the frame names the
newest of them with their days, and a script shows what is in the one that is on.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from datetime import date
from urllib.parse import quote

from jinja2 import Environment
from markupsafe import Markup, escape

from handbook.outputs import addresses
from handbook.outputs.faces import STYLE as FACES_STYLE
from handbook.outputs.faces import faces_of, first_fonts
from handbook.outputs.html import formatting
from handbook.outputs.html.school_style import NAME as SCHOOL_STYLE
from handbook.outputs.html.theme import frame_words, icon
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.i18n.languages import direction, own_name
from handbook.outputs.i18n.other_language import bare, told
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.web_address import LEFT_IN_ADDRESSES, web_address
from handbook.page_kinds import KINDS, PageKind
from handbook.records import dataclass
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cycle
from handbook.schema.program import Ensemble

_ROOT, _TOP = "\x02root\x03", "\x02top\x03"
_MIDDLE, _CRUMBS = "\x02middle\x03", "\x02crumbs\x03"
_HERE, _THERE = "\x02here\x03", "\x02there\x03"
_OF_CYCLE = "of "  # no kind of page has a space in its name

_EXAMPLE_DAY = date(2026, 12, 17)  # of what search may be asked for

CYCLES_IN_MENU = 8
"""Of so many of the newest cycles a menu can show what is in them: those of one or two years."""


@dataclass(frozen=True, slots=True)
class NavItem:
    """An entry of the navigation; `section` is what pages name as theirs, `cycle` its id if it is of one.

    `concerts` are names and addresses of the cycle's, for readers without scripts.
    """

    title: str
    path: str
    section: str
    cycle: str = ""
    concerts: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class CycleMenu:
    """What a menu leads to in a cycle, and the days on which it does.

    `ensembles` are names and addresses, `concerts` names with the addresses of their page and
    of the one for their crew.
    """

    id: str
    name: str
    first: date
    last: date
    ensembles: tuple[tuple[str, str], ...]
    concerts: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class LanguageChoice:
    """A language in which the site can be read, by its own name; `folder` is where.

    `turned` is its direction, if it is not that of the page.
    """

    code: str
    name: str
    folder: str
    turned: str
    is_own: bool


@dataclass(frozen=True, slots=True)
class FrameView:
    """What the frame shows; `languages` are there if the site has several.

    `faces` is the style sheet of typefaces that the language needs beside the site's own, if it
    does, `fonts` are those of them that most pages need.
    """

    language: str
    languages: tuple[LanguageChoice, ...]
    tree: str
    name: str
    school: str
    nav: tuple[NavItem, ...]
    cycles: Markup
    contact: str
    email: str
    phone: str
    zone: str
    script: str
    style: str
    school_style: str
    faces: str
    fonts: tuple[str, ...]
    emblem: str
    search_index: str
    feed: str
    example_day: str
    root: Markup
    top: Markup
    here: Markup
    there: Markup
    middle: Markup
    crumbs: Markup


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame `before` and `after` the middle, with marks in place of what differs.

    On the pages of `drafts`, which are ids of cycles, `draft_note` stands before the middle.
    `tree` is the folder of the pages' `language`, one of the site's `languages`; `address` is
    where the site will stand, with a slash at its end, if that is known.
    """

    before: str
    after: str
    head: str
    tree: str = ""
    language: str = SOURCE
    languages: tuple[str, ...] = ()
    address: str = ""
    draft_note: str = ""
    drafts: frozenset[str] = frozenset()

    def body(self, page: Page, middle: str) -> str:
        """Set a page's middle into the frame."""
        before, after = (
            self._led(part, page).replace(_HERE, page.path)
            for part in (
                self._before(page).replace(_CRUMBS, _crumbs(page.crumbs, self.language)),
                self.after,
            )
        )
        note = self.draft_note if page.path.partition("/")[0] in self.drafts else ""
        return f"{before}{note}{middle}{after}"

    def _led(self, part: str, page: Page) -> str:
        """Lead links of the frame from where a page stands."""
        there = addresses.FAMILIES if page.languages else page.path
        return (
            part.replace(_ROOT, addresses.root_of(page.path))
            .replace(_TOP, addresses.root_of(f"{self.tree}{page.path}"))
            .replace(_THERE, there)
        )

    def _before(self, page: Page) -> str:
        """Mark the entry that leads to a page, or to what the page is below."""
        cycle, below, _ = page.path.partition("/")
        marked, before = ' aria-current="true"', self.before
        for section in (page.section, f"{_OF_CYCLE}{cycle}" if below else ""):
            own = f'{_ROOT}{page.path}" data-section="{section}"'
            before = before.replace(own, f'{_ROOT}{page.path}" aria-current="page"')
            before = before.replace(f' data-section="{section}"', marked)
        return before

    def lost(self, middle: str, root: str, top: str) -> tuple[str, str]:
        """Give head and body of the page that has no place of its own, of which `root` leads everywhere."""
        before = self.before.replace(_CRUMBS, "").replace(_HERE, "")
        head = self.head.replace(f' data-here="{_THERE}"', "")
        head, before, after = (
            part.replace(_ROOT, root).replace(_TOP, top).replace(_THERE, "")
            for part in (head, before, self.after)
        )
        return head, f"{before}{middle}{after}"

    def head_of(self, page: Page) -> str:
        """Give what goes into a page's head."""
        return f"{self._led(self.head, page)}{self._alternates(page)}"

    def _alternates(self, page: Page) -> str:
        """Name the same page in each language, and in which it is for readers of any other.

        With their whole addresses, as those who look for them ask; nothing if these are not known.
        """
        if not self.address or page.languages or len(self.languages) == 1:
            return ""
        places = [
            (code, f"{self.address}{addresses.tree(code, self.languages)}{quote(page.path)}")
            for code in self.languages
        ]
        return "".join(
            f'\n<link rel="alternate" hreflang="{code}" href="{escape(place)}">'
            for code, place in (*places, ("x-default", places[0][1]))
        )


def make_frame(
    context: Context,
    environment: Environment,
    versions: dict[str, str],
    cycles: Sequence[CycleMenu],
    drafts: Iterable[str] = (),
) -> Frame:
    """Render the frame; `versions` maps asset names to their addresses, `cycles` are all in order.

    `drafts` are the ids of those that are shown though they are not to be published.
    """
    program = context.plan.program
    languages = context.plan.languages
    own, folder = direction(context.language), f"{addresses.ASSETS}{context.tree}"
    view = FrameView(
        language=context.language,
        languages=tuple(
            LanguageChoice(
                code,
                own_name(code),
                addresses.tree(code, languages),
                "" if direction(code) == own else direction(code),
                code == context.language,
            )
            for code in (languages if len(languages) > 1 else ())
        ),
        tree=context.tree,
        name=context.say(program.name),
        school=context.say(program.school),
        nav=navigation(context, cycles),
        cycles=_as_attribute(cycles[-CYCLES_IN_MENU:]),
        contact=context.say(program.contact.role),
        email=program.contact.email or "",
        phone=program.contact.phone or "",
        zone=context.plan.zone.key,
        script=versions["handbook.js"],
        style=versions["handbook.css"],
        school_style=versions[SCHOOL_STYLE],
        # Without a version, as the search index: a new letter is not to change every page.
        faces=f"{folder}{FACES_STYLE}" if faces_of(context.language) else "",
        fonts=tuple(f"{folder}{font}" for font in first_fonts(context.language)),
        emblem=_emblem(context),
        # Without a version: a changed row is not to change every page of the site.
        search_index=addresses.SEARCH_INDEX,
        feed=addresses.CHANGES_FEED if context.published else "",
        example_day=formatting.month_day(_EXAMPLE_DAY),
        root=Markup(_ROOT),  # noqa: S704 - marks of our own, replaced below
        top=Markup(_TOP),  # noqa: S704
        here=Markup(_HERE),  # noqa: S704
        there=Markup(_THERE),  # noqa: S704
        middle=Markup(_MIDDLE),  # noqa: S704
        crumbs=Markup(_CRUMBS),  # noqa: S704
    )
    html = environment.get_template("pages/_frame.html.j2").render(
        view=view, versions=versions, icon=icon, words=frame_words(context.language)
    )
    before, _, after = told(html, context.language).html.partition(_MIDDLE)
    return Frame(
        before=before,
        after=after,
        head=environment.get_template("pages/_head.html.j2").render(view=view, versions=versions),
        tree=context.tree,
        language=context.language,
        languages=languages,
        address=quote(web_address(program.address) or "", safe=LEFT_IN_ADDRESSES),
        draft_note=environment.get_template("pages/_draft.html.j2").render(),
        drafts=frozenset(drafts),
    )


def _emblem(context: Context) -> str:
    """Give the address of the program's emblem; empty if it has none."""
    look = context.plan.program.look
    return addresses.media(look.emblem if look else None)


def cycle_menu(
    context: Context,
    cycle_id: str,
    cycle: Cycle,
    last: date,
    ensembles: Iterable[Ensemble],
    concerts: Iterable[tuple[str, Concert]],
) -> CycleMenu:
    """List what the menu leads to in a cycle, if that is the one it shows."""
    return CycleMenu(
        id=cycle_id,
        name=context.say(cycle.name),
        first=cycle.starts,
        last=last,
        ensembles=tuple(
            (context.say(ensemble.name), addresses.ensemble(cycle_id, ensemble.id))
            for ensemble in ensembles
        ),
        concerts=tuple(
            (
                context.say(concert.name),
                addresses.concert(cycle_id, concert_id),
                addresses.crew(cycle_id, concert_id),
            )
            for concert_id, concert in concerts
        ),
    )


def navigation(context: Context, cycles: Sequence[CycleMenu]) -> tuple[NavItem, ...]:
    """List what the menu leads to: the first page, the newest cycles, then what stands by itself."""
    first, *others = (
        NavItem(
            pgettext("menu", kind.menu),
            f"{kind.folder}/" if kind.folder else addresses.TODAY,
            kind.name,
        )
        for kind in KINDS
        if kind.menu and not _is_empty(context, kind)
    )
    own = (
        NavItem(
            cycle.name,
            addresses.cycle(cycle.id),
            f"{_OF_CYCLE}{cycle.id}",
            cycle.id,
            tuple((name, path) for name, path, _ in cycle.concerts),
        )
        for cycle in cycles[-CYCLES_IN_MENU:]
    )
    return (first, *own, *others)


def _as_attribute(cycles: Sequence[CycleMenu]) -> Markup:
    """Write what is in cycles as data for a script, to stand between single quotes."""
    data = [
        {
            "id": cycle.id,
            "name": bare(cycle.name),
            "first": cycle.first.isoformat(),
            "last": cycle.last.isoformat(),
            "ensembles": [(bare(name), path) for name, path in cycle.ensembles],
            "concerts": [(bare(name), *paths) for name, *paths in cycle.concerts],
        }
        for cycle in cycles
    ]
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for sign, written in (("&", "&amp;"), ("'", "&#39;"), ("<", "&lt;"), (">", "&gt;")):
        text = text.replace(sign, written)
    return Markup(text)  # noqa: S704 - escaped for where it stands


def _is_empty(context: Context, kind: PageKind) -> bool:
    """Whether a handbook has no page of a kind, or nothing on it."""
    if kind.name == "changes":
        return not context.published
    if kind.name == "events":
        return not context.plan.events
    found = context.plan.fundamentals
    return kind.name == "fundamentals" and not (found.strands or found.habits or found.warm_ups)


def _crumbs(crumbs: tuple[Link, ...], language: str) -> str:
    if not crumbs:
        return ""
    links = "".join(
        f'<li><a href="{_ROOT}{escape(link.path)}">{escape(link.title)}</a></li>' for link in crumbs
    )
    where = escape(gettext("Where you are"))
    return f'<nav class="crumbs" aria-label="{where}"><ol>{told(links, language).html}</ol></nav>'
