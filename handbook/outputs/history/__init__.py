"""What a site tells of earlier publications; set into finished pages, so that none is made anew because of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from handbook.domain.history import History
from handbook.outputs.history.feed import changes_feed
from handbook.outputs.history.insets import inset_of, set_in
from handbook.outputs.history.page_words import words_digest
from handbook.outputs.history.told_changes import ToldChanges, told_in_tree
from handbook.outputs.history.told_site import ToldCycle, told_site
from handbook.outputs.model import OutputFile, RenderedPage, Site
from handbook.outputs.page import Context
from handbook.outputs.site import Renderer
from handbook.plan.model import Plan


def told_in(site: Site, plan: Plan, history: History, address: str | None) -> Site:
    """Set the history of a plan's site into it; `address` is where it will stand, if that is known."""
    if not history.standing:
        return site
    renderer, pages, feeds = Renderer(), list[RenderedPage](), list[OutputFile]()
    for language in plan.languages:
        context = Context(plan, language)
        with context.speaking():
            own = [page for page in site.pages if page.language == language]
            told = _told(context, own, history, address)
            pages += (_set_in(page, context.tree, told, renderer) for page in own)
            feeds.append(changes_feed(told))
    return replace(site, pages=tuple(pages), files=(*site.files, *feeds))


def _told(
    context: Context, pages: Sequence[RenderedPage], history: History, address: str | None
) -> ToldChanges:
    cycles = [
        ToldCycle(context.say(cycle.item.name), cycle.first, cycle.last)
        for cycle in context.plan.cycles
    ]
    words = {page.path: words_digest(page.body.encode()) for page in pages}
    return told_in_tree(history, told_site(context, cycles, address), words, context.tree)


def _set_in(page: RenderedPage, tree: str, told: ToldChanges, renderer: Renderer) -> RenderedPage:
    inset = inset_of(page.path.removeprefix(tree), told, renderer.part)
    return replace(page, body=set_in(page.body, inset))
