"""Pages about the whole handbook, each kind made of what the cycles add to it, and their files."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from hashlib import sha256
from itertools import chain
from typing import Any

from handbook.domain.values.text import Text
from handbook.making.content import ReadContent
from handbook.making.cycles import CycleHead, words_of
from handbook.making.framing import Framing
from handbook.making.groups import PlannedGroup
from handbook.making.kept import Fresh, KeptBatch
from handbook.making.other_files import kept_files
from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context
from handbook.outputs.pages import WHOLE, WholeKind
from handbook.store import key_of


def handbook_pages(
    content: ReadContent,
    groups: Sequence[Sequence[CycleHead]],
    plans: Sequence[PlannedGroup],
    framing: Framing,
) -> list[KeptBatch]:
    """Make the pages of each kind in a language, in the order of the menu."""
    shares = [share for plan in plans for share in plan.known.shares[framing.language]]
    words = words_of(chain.from_iterable(groups))
    return [_pages(content, kind, shares, words, framing) for kind in WHOLE]


def handbook_files(
    content: ReadContent, plans: Sequence[PlannedGroup], framing: Framing
) -> list[KeptBatch]:
    """Make the files that go with those pages, each of what one cycle adds to a kind."""
    return [
        kept_files(
            content,
            key_of(
                *("files", kind.name, content.program, framing.tree),
                sha256(share[kind.name]).hexdigest(),
            ),
            partial(_files, kind.files, share[kind.name], framing),
        )
        for kind in WHOLE
        if kind.files
        for plan in plans
        for share in plan.known.shares[framing.language]
    ]


def _files(
    made: Callable[[Any], Iterator[OutputFile]], share: bytes, framing: Framing
) -> list[OutputFile]:
    return framing.files(made(_read(share)))


def _read(share: bytes) -> Any:
    """Read a share: our own bytes, made in this process or read by the store with their sum."""
    return pickle.loads(share)  # noqa: S301


def _pages(
    content: ReadContent,
    kind: WholeKind,
    shares: Sequence[Mapping[str, bytes]],
    words: Mapping[str, Text],
    framing: Framing,
) -> KeptBatch:
    shown = [share[kind.name] for share in shares]
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
    context = Context(shown, framing.language, framing.published)
    with framing.speaking():
        made = framing.renderer.whole(context, kind, [_read(one) for one in shares])
    return framing.fresh(made)
