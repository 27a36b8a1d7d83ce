"""Pages about the whole handbook, each kind made of what the cycles add to it."""

from __future__ import annotations

import pickle
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial
from hashlib import sha256
from itertools import chain

from handbook.domain.values.text import Text
from handbook.making.content import ReadContent
from handbook.making.cycles import CycleHead, words_of
from handbook.making.framing import Framing
from handbook.making.groups import PlannedGroup
from handbook.making.kept import Fresh, KeptBatch
from handbook.outputs.page import Context
from handbook.outputs.pages import WHOLE, WholeKind
from handbook.store import key_of


def handbook_pages(
    content: ReadContent,
    groups: Sequence[Sequence[CycleHead]],
    plans: Sequence[PlannedGroup],
    framing: Framing,
) -> list[KeptBatch]:
    """Make the pages of each kind, in the order of the menu."""
    shares = [share for plan in plans for share in plan.known.shares]
    words = words_of(chain.from_iterable(groups))
    return [_pages(content, kind, shares, words, framing) for kind in WHOLE]


def _pages(
    content: ReadContent,
    kind: WholeKind,
    shares: Sequence[Mapping[str, bytes]],
    words: Mapping[str, Text],
    framing: Framing,
) -> KeptBatch:
    shown = kind.shown([share[kind.name] for share in shares])
    said = words if kind.name == "words" else {}
    digests = [sha256(share).hexdigest() for share in shown]
    pages = content.shared_key if kind.name == "families" else ""
    events = content.events_key if kind.events else ""
    key = key_of("whole", kind.name, framing.key, pages, events, sorted(said.items()), digests)
    return KeptBatch(content.store, key, partial(_fresh, content, kind, shown, said, framing))


def _fresh(
    content: ReadContent,
    kind: WholeKind,
    shares: Sequence[bytes],
    words: Mapping[str, Text],
    framing: Framing,
) -> Fresh:
    plan = content.context.plan
    shown = replace(
        plan,
        words={**plan.words, **words},
        pages=plan.pages if kind.name == "families" else (),
        events=plan.events if kind.events else (),
    )
    context = Context(shown, plan.languages[0], framing.published)
    # Our own bytes: they were made in this process, or read by the store with their sum.
    read = [pickle.loads(share) for share in shares]  # noqa: S301
    return framing.fresh(framing.renderer.whole(context, kind, read))
