"""Links are counted as their author counts: files from the file, addresses from the page.

Relative addresses go by RFC 3986, 5.2.
"""

from __future__ import annotations

import pytest

from handbook.source.links import Leads, Target, target_of


@pytest.mark.parametrize(
    ("link", "slug", "target"),
    [
        ("https://x.example/a.md", None, Target(Leads.ELSEWHERE)),
        ("HTTPS://x.example", "rules", Target(Leads.ELSEWHERE)),
        ("//x.example/media/a.pdf", "rules", Target(Leads.ELSEWHERE)),
        ("webcal://x.example/a.ics", None, Target(Leads.ELSEWHERE)),
        ("ftp://x.example", None, Target(Leads.UNSAFE)),
        ("data:image/png;base64,x", None, Target(Leads.UNSAFE)),
        ("java\nscript:x", "rules", Target(Leads.UNSAFE)),
        ("pages/es/rules.md#noise", None, Target(Leads.PAGE, "es/rules", "noise")),
        ("./pages/rules.md", None, Target(Leads.PAGE, "rules")),
        ("rules.md", None, Target(Leads.ODD)),
        ("rules.md", "trip", Target(Leads.PAGE, "rules")),
        ("../rules.md#a", "es/trip", Target(Leads.PAGE, "rules", "a")),
        (".md", "trip", Target(Leads.ODD)),
        ("...md", "trip", Target(Leads.ODD)),
        ("rules.md?x", "trip", Target(Leads.ODD)),
        ("../rules/", "trip", Target(Leads.PAGE, "rules")),
        ("media/a%20b.pdf", None, Target(Leads.MEDIA, "a b.pdf")),
        ("../media/sub/a.pdf", "trip", Target(Leads.MEDIA, "sub/a.pdf")),
        ("../../media/a.pdf", "es/trip", Target(Leads.MEDIA, "a.pdf")),
        ("../../media/a.pdf", "trip", Target(Leads.MEDIA, "a.pdf")),
        ("media/a.pdf", "trip", Target(Leads.ODD)),
        ("media/a.pdf#page=2", None, Target(Leads.ODD)),
        ("media/", None, Target(Leads.HANDBOOK, "media/")),
        ("calendar/", None, Target(Leads.HANDBOOK, "calendar/")),
        ("calendar/2026-10/", None, Target(Leads.ODD)),
        ("calendar", None, Target(Leads.ODD)),
        ("words/#legato", None, Target(Leads.ODD)),
        ("../../winter/concert/", "trip", Target(Leads.HANDBOOK, "winter/concert/")),
        ("../../../calendar/", "es/trip", Target(Leads.HANDBOOK, "calendar/")),
        ("../../../calendar/", "trip", Target(Leads.ODD)),
        ("..", "trip", Target(Leads.HANDBOOK, "families/")),
        ("../..", "trip", Target(Leads.HANDBOOK, "")),
        ("../", None, Target(Leads.ODD)),
        ("%2e%2e/calendar/", None, Target(Leads.ODD)),
        ("/calendar/", "trip", Target(Leads.ODD)),
        ("#noise", "trip", Target(Leads.HERE, "trip", "noise")),
        ("", "trip", Target(Leads.HERE, "trip")),
        ("#noise", None, Target(Leads.ODD)),
        ("", None, Target(Leads.ODD)),
    ],
)
def test_where_a_link_leads(link: str, slug: str | None, target: Target) -> None:
    assert target_of(link, slug) == target


def test_a_heading_is_compared_as_the_page_has_it() -> None:
    assert target_of("#%C3%A9t%C3%A9", "trip").heading == "été"
