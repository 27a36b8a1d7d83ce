"""All that is made of one language beside the pages of cycles."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import chain

from handbook.domain.history import History
from handbook.making.content import ReadContent
from handbook.making.cycles import CycleHead
from handbook.making.faces import face_files
from handbook.making.framing import Framing
from handbook.making.groups import PlannedGroup
from handbook.making.handbook_pages import handbook_files, handbook_pages
from handbook.making.history import told_changes
from handbook.making.kept import Finishing, KeptBatch, finish
from handbook.making.other_files import search_files
from handbook.outputs.history.told_changes import ToldChanges


class Tree:
    """The pages in one language; those of cycles are there already, `own` by the cycles' ids."""

    def __init__(
        self,
        content: ReadContent,
        groups: Sequence[Sequence[CycleHead]],
        plans: Sequence[PlannedGroup],
        framing: Framing,
        own: Mapping[str, Sequence[KeptBatch]],
        by: Finishing,
    ) -> None:
        self._content, self._groups, self._plans = content, groups, plans
        self.framing, self._own = framing, own
        self._wholes = handbook_pages(content, groups, plans, framing)
        finish(self._wholes, by)
        self.pages = [*self._wholes, *chain.from_iterable(own.values())]

    def files(self) -> list[KeptBatch]:
        """Make what is no page: the search index, and the files that go with pages."""
        return [
            *search_files(self._content, self._groups, self._wholes, self._own, self.framing),
            *handbook_files(self._content, self._plans, self.framing),
            *face_files(self._content, self.pages, self.framing),
        ]

    def told(self, heads: Iterable[CycleHead], history: History) -> ToldChanges | None:
        """Give what the pages tell of their history; the cycles are those in `heads`."""
        return told_changes(self._content, heads, self.pages, history, self.framing)

    def words(self) -> Mapping[str, str]:
        """Give the digest of each page's own words by its address."""
        return {path: digest for batch in self.pages for path, digest in batch.words().items()}
