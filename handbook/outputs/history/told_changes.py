"""Everything that a site tells of its publications, reckoned once: by publication and by page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cached_property
from itertools import groupby

from handbook.domain.facts import FactChange, without_parts
from handbook.domain.history import History, Publication
from handbook.outputs.facts.telling import change_in
from handbook.outputs.history.change_lines import (
    ChangeLine,
    change_lines,
    is_over,
    page_lines,
    page_of_fact,
)
from handbook.outputs.history.told_site import ToldSite
from handbook.outputs.i18n import gettext
from handbook.records import dataclass

_FRESH = timedelta(days=14)
_MOST_NOTES = 3  # on a page, the newest ones
_MOST_NOTE_LINES = 12
_LOOKS_BACK = 12  # publications: who has not looked for longer is told of these
_MOST_SINCE = 6  # lines on the first page for the same readers, as many as fit on a phone
_MOST_SINCE_LINES = 30  # of all readers: some 5 kB of a page that is to stay light
_MOST_LISTED = 60  # lines of one publication
_MOST_PUBLICATIONS = 120  # on the page of changes
_MOST_LINES = 800  # of them all: some 100 kB


@dataclass(frozen=True, slots=True)
class PageNote:
    """What a page says at its top of one publication, until a day; `more` are on the page of changes."""

    number: int
    day: date
    until: date
    lines: tuple[ChangeLine, ...]
    more: int


@dataclass(frozen=True, slots=True)
class SinceLine:
    """A line for who last looked at a publication from number `first` to number `last`."""

    line: ChangeLine
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Since:
    """What is new for readers by the publication they last looked at, of the numbers from `oldest` on.

    `newest` is the number of the publication that stands, `day` its day; `before` is the one
    that stood before it, as seen by who runs no scripts.
    """

    newest: int
    oldest: int
    before: int
    day: date
    lines: tuple[SinceLine, ...]


@dataclass(frozen=True, slots=True)
class ToldPublication:
    """One publication in the list; `first` if nothing was published before it."""

    number: int
    moment: datetime
    first: bool
    lines: tuple[ChangeLine, ...]
    more: int


@dataclass(frozen=True, slots=True)
class ToldCyclePublications:
    """The publications while one cycle was under way or the next to come, the newest first."""

    name: str
    publications: tuple[ToldPublication, ...]


class ToldChanges:
    """What is known of earlier publications, told of one site; `words` are digests of its pages' own words."""

    def __init__(self, history: History, site: ToldSite, words: Mapping[str, str]) -> None:
        self.history, self.site, self.words = history, site, words

    def changed(self, path: str) -> date | None:
        """Give the day on which a page's own words last changed; None if they are not published yet."""
        changed = self.history.page_changed(path, self.words[path])
        return self._day(changed) if changed else None

    def notes(self, path: str) -> Iterator[PageNote]:
        """Give what a page says of its newest changes, and of those up to two weeks before them.

        What was over when it was published is left out. Which notes are old is for the
        reader's browser to say, so that no page changes because others do.
        """
        notes = list[PageNote]()
        for number, group in groupby(self._of_page(path), key=lambda found: found[0].number):
            found = list(group)
            publication = found[0][0]
            day = self._day(publication.instant)
            changes = self._in_language(change for _, change in found)
            lines = page_lines(changes, self.site.ensembles, self.words)
            matter = [line for line in lines if not is_over(line, day)]
            if not matter:
                continue
            if len(notes) == _MOST_NOTES or (notes and day < notes[0].day - _FRESH):
                break
            shown = tuple(matter[:_MOST_NOTE_LINES])
            notes.append(PageNote(number, day, day + _FRESH, shown, len(matter) - len(shown)))
        yield from notes

    def since(self) -> Since:
        """Give what the first page says to readers who have been there before."""
        newest, *earlier = self.history.standing
        day = self._day(newest.instant)
        lines: dict[ChangeLine, list[int]] = {}
        oldest = newest.number
        for seen in range(newest.number - 1, max(0, newest.number - 1 - _LOOKS_BACK), -1):
            told = self._lines(self.history.since(seen))
            shown = _first_of_each([line for line in told if not is_over(line, day)])
            if lines and len(lines.keys() | shown) > _MOST_SINCE_LINES:
                break
            oldest = seen
            for line in shown:
                lines.setdefault(line, []).insert(0, seen)
        return Since(
            newest.number,
            oldest,
            earlier[0].number if earlier else 0,
            day,
            tuple(
                SinceLine(line, first, last)
                for line, numbers in lines.items()
                for first, last in _stretches(numbers)
            ),
        )

    @cached_property
    def publications(self) -> tuple[ToldPublication, ...]:
        """The newest publications that stand, the newest first, as many as a page holds."""
        standing = self.history.standing
        pages = self._new_words()
        told, length = list[ToldPublication](), 0
        for place, one in enumerate(standing[:_MOST_PUBLICATIONS]):
            first = place == len(standing) - 1
            lines = () if first else (*self._lines(one.changes), *pages.get(one.instant, ()))
            shown = lines[:_MOST_LISTED]
            length += len(shown)
            if length > _MOST_LINES:
                break
            moment = one.instant.astimezone(self.site.zone)
            told.append(ToldPublication(one.number, moment, first, shown, len(lines) - len(shown)))
        return tuple(told)

    def by_cycle(self) -> tuple[ToldCyclePublications, ...]:
        """Give the publications by the cycle that was under way, or was the next one, the newest first."""
        found = self.publications
        return tuple(
            ToldCyclePublications(name, tuple(group))
            for name, group in groupby(found, key=lambda one: self._cycle(one.moment.date()))
        )

    def _cycle(self, day: date) -> str:
        ahead = (cycle.name for cycle in self.site.cycles if cycle.last >= day)
        return next(ahead, self.site.cycles[-1].name if self.site.cycles else "")

    def _lines(self, changes: tuple[FactChange, ...]) -> tuple[ChangeLine, ...]:
        return change_lines(self._in_language(changes), self.site.ensembles, self.words)

    def _in_language(self, changes: Iterable[FactChange]) -> list[FactChange]:
        return [change_in(change, self.site.language, self.site.first) for change in changes]

    def _new_words(self) -> Mapping[datetime, list[ChangeLine]]:
        """Tell of families' pages, which are no facts, that their words are new."""
        found: dict[datetime, list[ChangeLine]] = {}
        for path, title in self.site.free_pages.items():
            changed = path in self.words and self.history.page_changed(path, self.words[path])
            if changed:
                found.setdefault(changed, []).append(_new_words_line(title, path))
        return found

    def _of_page(self, path: str) -> list[tuple[Publication, FactChange]]:
        """Give the changes that a page tells of, the newest publication first.

        The page of a part tells of its band's music, if its own words changed with it.
        """
        own = self._by_page.get(path, [])
        ensemble, is_part, _ = path.partition("part/")
        if not is_part:
            return own
        changed = self.history.page_changed(path, self.words[path])
        return [
            (publication, change)
            for publication, change in self._by_page.get(f"{ensemble}part/", [])
            if publication.instant == changed
        ]

    @cached_property
    def _by_page(self) -> Mapping[str, list[tuple[Publication, FactChange]]]:
        """The changes that pages tell of; of what changed again, the last one alone."""
        found: dict[str, list[tuple[Publication, FactChange]]] = {}
        again = set[str]()
        for publication in self.history.standing[:_MOST_PUBLICATIONS]:
            for change in without_parts(publication.changes):
                if change.key not in again:
                    for path in self._told_on(change.key):
                        found.setdefault(path, []).append((publication, change))
            again.update(change.key for change in publication.changes)
        return found

    def _told_on(self, key: str) -> Iterator[str]:
        path = page_of_fact(key, self.words)
        if path:
            yield path
        match key.split("/"):
            case [cycle, ensemble, "piece", *_]:
                yield f"{cycle}/{ensemble}/part/"

    def _day(self, instant: datetime) -> date:
        return instant.astimezone(self.site.zone).date()


def told_in_tree(
    history: History, site: ToldSite, words: Mapping[str, str], tree: str
) -> ToldChanges:
    """Tell what is known of one language's pages: those in the folder `tree`, or outside of any.

    `words` are the digests of those pages by their addresses on the site, as publications keep them.
    """
    if not tree:
        return ToldChanges(history, site, words)
    pages = {
        path.removeprefix(tree): record
        for path, record in history.pages.items()
        if path.startswith(tree)
    }
    own = {path.removeprefix(tree): digest for path, digest in words.items()}
    return ToldChanges(replace(history, pages=pages), site, own)


def _new_words_line(title: str, path: str) -> ChangeLine:
    told = gettext("%(page)s: new words", page=title)
    return ChangeLine(told, told, path=path)


def _first_of_each(lines: Iterable[ChangeLine]) -> list[ChangeLine]:
    """Leave the first lines for the same readers, so that none of them crowd out the others."""
    seen: Counter[tuple[str, ...]] = Counter()
    found = []
    for line in lines:
        seen[line.readers] += 1
        if seen[line.readers] <= _MOST_SINCE:
            found.append(line)
    return found


def _stretches(numbers: list[int]) -> Iterator[tuple[int, int]]:
    """Part numbers, in order, wherever one is left out."""
    for _, group in groupby(enumerate(numbers), key=lambda one: one[1] - one[0]):
        found = [number for _, number in group]
        yield found[0], found[-1]
