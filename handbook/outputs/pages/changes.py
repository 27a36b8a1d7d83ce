"""Changes: what became new since the handbook was first published; set in when the page is finished."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.outputs import addresses
from handbook.outputs.i18n import gettext, gettext_noop, pgettext
from handbook.outputs.page import Context, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan

_ABOUT = gettext_noop("What is new, publication by publication, by ensemble.")


def share(_context: Context, _cycle: CyclePlan) -> None:
    """Give nothing: changes are known of publications alone."""


def pages(context: Context, _cycles: Sequence[None]) -> Iterator[Page]:
    """Make the page, without its changes; search leads to it once there are some."""
    title, about = pgettext("page", "Changes"), gettext(_ABOUT)
    entry = SearchEntry(title, about, keywords="news new changed moved updates since")
    yield Page(
        path=addresses.CHANGES,
        kind="changes",
        title=title,
        description=about,
        section="changes",
        view=None,
        search=(entry,) if context.published else (),
    )
