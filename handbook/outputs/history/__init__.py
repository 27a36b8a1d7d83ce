"""What a site tells of earlier publications; set into finished pages, so that none is made anew because of it."""

from __future__ import annotations

from dataclasses import replace

from handbook.domain.history import History
from handbook.outputs.history.feed import changes_feed
from handbook.outputs.history.insets import inset_of, set_in
from handbook.outputs.history.page_words import words_digest
from handbook.outputs.history.told_changes import ToldChanges
from handbook.outputs.history.told_site import ToldCycle, told_site
from handbook.outputs.model import Site
from handbook.outputs.page import Context
from handbook.outputs.site import Renderer
from handbook.plan.model import Plan


def told_in(site: Site, plan: Plan, history: History, address: str | None) -> Site:
    """Set the history of a plan's site into it; `address` is where it will stand, if that is known."""
    if not history.standing:
        return site
    context, renderer = Context(plan, plan.languages[0]), Renderer()
    cycles = [
        ToldCycle(context.say(cycle.item.name), cycle.first, cycle.last) for cycle in plan.cycles
    ]
    words = {page.path: words_digest(page.body.encode()) for page in site.pages}
    told = ToldChanges(history, told_site(context, cycles, address), words)
    pages = tuple(
        replace(page, body=set_in(page.body, inset_of(page.path, told, renderer.part)))
        for page in site.pages
    )
    return replace(site, pages=pages, files=(*site.files, changes_feed(told)))
