"""The calendars to which readers subscribe, in the site's first language, made of what each cycle adds to them."""

from __future__ import annotations

import pickle
from collections.abc import Iterable, Sequence
from hashlib import sha256

from handbook.domain.history import History
from handbook.making.content import ReadContent
from handbook.making.groups import PlannedGroup
from handbook.making.kept import KeptBatch
from handbook.making.other_files import kept_files
from handbook.outputs.feeds import feed_files
from handbook.outputs.feeds.entries import each_once, entries_beside
from handbook.outputs.model import OutputFile
from handbook.outputs.pages.subscribe import CycleEntries
from handbook.store import key_of

_SHARE = "subscribe"
"""The kind of page whose share is the entries of a cycle."""


def feed_batch(content: ReadContent, plans: Sequence[PlannedGroup], history: History) -> KeptBatch:
    """Make all calendars, if an entry, an event or what was published of them has changed."""
    first = content.shared().languages[0]
    shares = [share[_SHARE] for plan in plans for share in plan.known.shares[first]]

    def made() -> Iterable[OutputFile]:
        # Our own bytes, as in `handbook_pages`.
        cycles: list[CycleEntries] = [pickle.loads(share) for share in shares]  # noqa: S301
        with content.context.speaking():
            entries = [
                *(one for cycle in cycles for one in cycle.entries),
                *entries_beside(content.context),
            ]
            lost = {key: why for cycle in cycles for key, why in cycle.lost.items()}
            return [*feed_files(content.context, each_once(entries), history, lost)]

    published = [
        (uid, record.sequence, record.changed, record.event.digest)
        for uid, record in sorted(history.events.items())
    ]
    digests = [sha256(share).hexdigest() for share in shares]
    key = key_of("feeds", content.core_key, content.events_key, digests, history.instant, published)
    return kept_files(content, key, made)
