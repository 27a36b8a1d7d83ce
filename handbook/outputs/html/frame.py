"""The frame of all pages: header, navigation, footer, rendered once for the whole site.

Only three things differ from page to page: the way to the root and the current entry,
which are put in by replacing marks, and the middle, which no mark is looked for in.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from jinja2 import Environment
from markupsafe import Markup, escape

from handbook.outputs import addresses
from handbook.outputs.html.theme import frame_words, icon
from handbook.outputs.page import Context, Link, Page, section_of
from handbook.page_kinds import KINDS, PageKind
from handbook.records import dataclass
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cycle
from handbook.schema.program import Ensemble

_ROOT, _MIDDLE, _CRUMBS = "\x02root\x03", "\x02middle\x03", "\x02crumbs\x03"


@dataclass(frozen=True, slots=True)
class NavItem:
    """An entry of the navigation; `section` is what pages name as theirs."""

    title: str
    path: str
    section: str


@dataclass(frozen=True, slots=True)
class FrameView:
    """What the frame shows."""

    name: str
    school: str
    nav: tuple[NavItem, ...]
    contact: str
    email: str
    phone: str
    zone: str
    script: str
    style: str
    search_index: str
    feed: str
    root: Markup
    middle: Markup
    crumbs: Markup


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame `before` and `after` the middle, with marks in place of what differs."""

    before: str
    after: str
    head: str

    def body(self, page: Page, middle: str) -> str:
        """Set a page's middle into the frame."""
        root, section = addresses.root_of(page.path), f' data-section="{page.section}"'
        before, after = (
            part.replace(section, ' aria-current="page"').replace(_ROOT, root)
            for part in (self.before.replace(_CRUMBS, _crumbs(page.crumbs)), self.after)
        )
        return f"{before}{middle}{after}"

    def head_of(self, page: Page) -> str:
        """Give what goes into a page's head."""
        return self.head.replace(_ROOT, addresses.root_of(page.path))


def make_frame(
    context: Context,
    environment: Environment,
    versions: dict[str, str],
    newest: tuple[NavItem, ...],
) -> Frame:
    """Render the frame; `versions` maps asset names to their addresses, `newest` is of the newest cycle."""
    program = context.plan.program
    view = FrameView(
        name=context.say(program.name),
        school=context.say(program.school),
        nav=navigation(context, newest),
        contact=context.say(program.contact.role),
        email=program.contact.email or "",
        phone=program.contact.phone or "",
        zone=context.plan.zone.key,
        script=versions["handbook.js"],
        style=versions["handbook.css"],
        # Without a version: a changed row is not to change every page of the site.
        search_index=addresses.SEARCH_INDEX,
        feed=addresses.CHANGES_FEED if context.published else "",
        root=Markup(_ROOT),  # noqa: S704 - marks of our own, replaced below
        middle=Markup(_MIDDLE),  # noqa: S704
        crumbs=Markup(_CRUMBS),  # noqa: S704
    )
    html = environment.get_template("pages/_frame.html.j2").render(
        view=view, versions=versions, icon=icon, words=frame_words(context.language)
    )
    before, _, after = html.partition(_MIDDLE)
    return Frame(
        before=before,
        after=after,
        head=environment.get_template("pages/_head.html.j2").render(view=view, versions=versions),
    )


def cycle_menu(
    context: Context,
    cycle_id: str,
    cycle: Cycle,
    ensembles: Iterable[Ensemble],
    concerts: Sequence[tuple[str, Concert]],
) -> tuple[NavItem, ...]:
    """List what the menu leads to in a cycle, if it is the newest; several concerts by name."""
    items = [NavItem(context.say(cycle.name), addresses.cycle(cycle_id), "cycle")]
    items += [
        NavItem(
            context.say(ensemble.name),
            addresses.ensemble(cycle_id, ensemble.id),
            f"ensemble-{ensemble.id}",
        )
        for ensemble in ensembles
    ]
    items += [
        NavItem(
            context.say(concert.name) if len(concerts) > 1 else "Concert",
            addresses.concert(cycle_id, concert_id),
            section_of(concert_id),
        )
        for concert_id, concert in concerts
    ]
    return tuple(items)


def navigation(context: Context, newest: tuple[NavItem, ...]) -> tuple[NavItem, ...]:
    """List what the menu leads to: the first page, the newest cycle's, then what stands by itself."""
    first, *others = (
        NavItem(kind.menu, f"{kind.folder}/" if kind.folder else addresses.TODAY, kind.name)
        for kind in KINDS
        if kind.menu and not _is_empty(context, kind)
    )
    return (first, *newest, *others)


def _is_empty(context: Context, kind: PageKind) -> bool:
    """Whether a handbook has no page of a kind, or nothing on it."""
    if kind.name == "changes":
        return not context.published
    if kind.name == "events":
        return not context.plan.events
    found = context.plan.fundamentals
    return kind.name == "fundamentals" and not (found.strands or found.habits or found.warm_ups)


def _crumbs(crumbs: tuple[Link, ...]) -> str:
    if not crumbs:
        return ""
    links = "".join(
        f'<li><a href="{_ROOT}{escape(link.path)}">{escape(link.title)}</a></li>' for link in crumbs
    )
    return f'<nav class="crumbs" aria-label="Where you are"><ol>{links}</ol></nav>'
