"""Where history stands on a page, and what stands there."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from zoneinfo import ZoneInfo

from handbook.domain.history import History
from handbook.outputs.html import formatting
from handbook.records import dataclass

Inset = Mapping[str, str]
"""HTML by the place before which it stands: one of the texts below, as the templates have them."""

IN_FOOT = '<p class="small">All times are'


@dataclass(frozen=True, slots=True)
class Insets:
    """What is set into the pages of one site; `paths` are the addresses of all of them."""

    history: History
    zone: ZoneInfo
    paths: Collection[str]

    def of_page(self, path: str, digest: str) -> Inset:
        """Give what is set into a page, whose own words have the `digest`."""
        changed = self.history.page_changed(path, digest)
        if changed is None:
            return {}
        day = formatting.month_day_year(changed.astimezone(self.zone).date())
        return {IN_FOOT: f'<p class="small">Last changed {day}.</p>\n'}


def set_in(page: str, inset: Inset) -> str:
    """Set HTML into a page; raises ValueError if it has not each of the places once at least.

    The frame's own place is the last of its kind, since it follows all that authors write.
    """
    for place, html in inset.items():
        before, found, after = page.rpartition(place)
        if not found:
            raise ValueError(f"no place {place} on the page")
        page = f"{before}{html}{place}{after}"
    return page
