"""Links that lead nowhere stop a site; they are looked for only if a link or a place is new."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from handbook.making.content import ReadContent
from handbook.making.kept import KeptBatch
from handbook.making.model import LostLinkError
from handbook.outputs.addresses import media_in
from handbook.outputs.model import LinkFacts
from handbook.publishing.verify_links import link_findings
from handbook.source.links import MEDIA
from handbook.store import key_of


def linked_media(
    content: ReadContent, batches: Sequence[KeptBatch], media: Collection[str]
) -> list[str]:
    """Name, in order, those of the `media` that pages lead to.

    Raises LostLinkError if a link in the site of `batches` and `media` leads nowhere.
    """
    address = content.shared().facts.address
    key = key_of(
        *("links", content.program, address, sorted(media)),
        [
            (batch.batch.links, [path for path, _ in batch.batch.files], batch.batch.sheets)
            for batch in batches
        ],
    )
    return content.store.kept(key, list, lambda: _named(batches, media, address))


def _named(batches: Sequence[KeptBatch], media: Collection[str], address: str | None) -> list[str]:
    links: dict[str, LinkFacts | None] = {}
    for batch in batches:
        links |= batch.links()
        links |= dict.fromkeys(path for path, *_ in batch.batch.sheets)
    led_to = (link for facts in links.values() if facts for link in facts.links)
    named = sorted(media_in(led_to).intersection(media))
    links |= dict.fromkeys(f"{MEDIA}/{name}" for name in named)
    findings = link_findings(links, address)
    if findings:
        raise LostLinkError("the new site has links that lead nowhere", findings)
    return named
