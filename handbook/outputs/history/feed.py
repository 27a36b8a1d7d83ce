"""The changes as an Atom feed, RFC 4287: an entry for each publication, its id for life."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from html import escape
from urllib.parse import quote
from uuid import UUID, uuid5

from handbook.outputs import addresses
from handbook.outputs.history.insets import by_readers
from handbook.outputs.history.told_changes import ToldChanges, ToldPublication
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.model import OutputFile

_MOST_ENTRIES = 30
_OURS = UUID("6f1d7a52-2f0c-4c55-9a53-0d9f6c8f2b1e")  # a namespace of our own, drawn by chance


def changes_feed(told: ToldChanges) -> OutputFile:
    """Make the feed; with links only if the site's address is known, since a feed is read elsewhere.

    Ids are made of the instants of publications, so that they stay whatever the program is
    called and wherever its site stands; each language has its own.
    """
    text = bare("\n".join(_lines(told)))
    return OutputFile(f"{told.site.tree}{addresses.CHANGES_FEED}", text.encode())


def _lines(told: ToldChanges) -> Iterator[str]:
    site, publications = told.site, told.publications
    begun = (*told.history.publications, *told.history.standing)[0]
    yield '<?xml version="1.0" encoding="utf-8"?>'
    yield f'<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="{escape(site.language)}">'
    title = gettext("%(program)s: changes", program=site.name)
    yield f"<title>{escape(title)}</title>"
    yield f"<id>{_id(f'feed{site.tree}', begun.instant)}</id>"
    yield f"<updated>{_moment(publications[0].moment)}</updated>"
    yield f"<author><name>{escape(site.name)}</name></author>"
    if site.address:
        start = escape(quote(site.address, safe=":/?#[]@!$&'()*+,;=%"))
        yield f'<link rel="self" type="application/atom+xml" href="{start}{addresses.CHANGES_FEED}"/>'
        yield f'<link rel="alternate" type="text/html" href="{start}{addresses.CHANGES}"/>'
    for one in publications[:_MOST_ENTRIES]:
        yield "<entry>"
        yield f"<title>{escape(_title(one))}</title>"
        yield f"<id>{_id(f'{one.number}{site.tree}', one.moment)}</id>"
        yield f"<published>{_moment(one.moment)}</published>"
        yield f"<updated>{_moment(one.moment)}</updated>"
        if site.address:
            href = f"{start}{addresses.CHANGES}#no-{one.number}"
            yield f'<link rel="alternate" type="text/html" href="{href}"/>'
        yield f'<content type="html">{escape("".join(_content(told, one)))}</content>'
        yield "</entry>"
    yield "</feed>\n"


def _title(one: ToldPublication) -> str:
    day, number = formatting.month_day_year(one.moment.date()), len(one.lines) + one.more
    if one.first:
        return gettext("First published, %(day)s", day=day)
    if not number:
        return gettext("Published anew, %(day)s", day=day)
    return ngettext("%(num)s change, %(day)s", "%(num)s changes, %(day)s", number, day=day)


def _content(told: ToldChanges, one: ToldPublication) -> Iterator[str]:
    if one.first:
        yield f"<p>{escape(gettext('The handbook was first published.'))}</p>"
    elif not one.lines:
        nothing = gettext("No date, time, place, thing to bring, music or tempo changed.")
        yield f"<p>{escape(nothing)}</p>"
    for readers in by_readers(one.lines, told.site.ensembles):
        lines = "".join(f"<li>{escape(line.headed)}</li>" for line in readers.lines)
        yield f"<p>{escape(readers.heading)}</p><ul>{lines}</ul>"
    if one.more:
        more = ngettext(
            "and %(num)s more, which the pages show",
            "and %(num)s more, which the pages show",
            one.more,
        )
        yield f"<p>{escape(more)}</p>"


def _id(name: str, instant: datetime) -> str:
    return uuid5(_OURS, f"{name} {instant.astimezone(UTC).isoformat()}").urn


def _moment(moment: datetime) -> str:
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
