"""Links that lead nowhere stop a site; they are looked for only if a link or a place is new."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handbook.making.content import ReadContent
from handbook.making.kept import KeptBatch
from handbook.outputs.model import LinkFacts, SiteFile
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.verify_links import link_findings
from handbook.store import key_of


def stop_at_lost_links(
    content: ReadContent, batches: Sequence[KeptBatch], media: Iterable[SiteFile]
) -> None:
    """Raise NotPublishedError if a link in the site of `batches` and `media` leads nowhere."""
    address, named = content.shared().facts.address, [file.path for file in media]
    key = key_of(
        *("links", content.program, address, named),
        [(batch.batch.links, [path for path, _ in batch.batch.files]) for batch in batches],
    )
    if content.store.get(key) is not None:
        return
    links: dict[str, LinkFacts | None] = dict.fromkeys(named)
    for batch in batches:
        links |= batch.links()
    findings = link_findings(links, address)
    if findings:
        raise NotPublishedError("the new site has links that lead nowhere", findings)
    content.store.put(key, "sound")
