"""The content at one moment, read piece by piece as it is needed, each file at most once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from functools import cached_property
from typing import Any

from handbook.checks import REFERENCE_CHECKS
from handbook.checks.cycles import unplanned_meetings
from handbook.checks.texts import LACKING
from handbook.engines.model import SiteFacts, facts_of
from handbook.loader.loading import LoadedCycle, cycle_of, in_draft, load_contents, load_cycle
from handbook.loader.usual import UsualData, usual_of
from handbook.making.cycles import CycleHead, broken_draft, cycle_head, marked_draft, words_of
from handbook.making.model import NotSoundError, SeenContent
from handbook.outputs.page import Context
from handbook.pipeline import checked, has_errors, of_drafts
from handbook.plan.build import build_plan
from handbook.plan.events import events_between
from handbook.plan.players import players_of
from handbook.problems import Problem
from handbook.records import dataclass
from handbook.schema.handbook import Handbook, MediaFile
from handbook.source.source_map import at_home
from handbook.store import Store, key_of

_ON_PAGES = ("date", "group", "start", "reached", "not_done")  # of a log


@dataclass(frozen=True, slots=True)
class SharedContent:
    """What is known of all that is of no cycle: names for pages, those of the host's own files, and warnings.

    `languages` are those of the site, its first one first; `zone` is the school's.
    """

    facts: SiteFacts
    languages: tuple[str, ...]
    warnings: int
    hosts: frozenset[str]
    zone: str


class ReadContent:
    """A content folder of which only what is asked for is read into values.

    Everything here raises NotSoundError as soon as an error is met. `program` is the digest
    of the program that reads, `store` holds what was made for earlier builds. With `drafts`,
    those that can be read are taken for cycles to be published, with a mark in their names.
    """

    def __init__(self, seen: SeenContent, store: Store, *, drafts: bool = False) -> None:
        self._shows_drafts = drafts
        sizes = {
            name: MediaFile(file.size, file.seconds, file.fault)
            for name, file in seen.media.items()
        }
        self._contents = replace(seen.contents, media_files=sizes)
        self.program, self.store = seen.program, store
        self._cycles: dict[str, LoadedCycle] = {}

    @cached_property
    def core_key(self) -> str:
        """The key of what is of no cycle, but of them all: no free pages, no school years."""
        core = self._contents.of_topics("program", "fundamentals").digests()
        media = [file.name for file in self._contents.found.of("media")]
        sizes = sorted((self._contents.media_files or {}).items())
        return key_of(self.program, core, media, sizes)

    @cached_property
    def shared_key(self) -> str:
        """The key of all that is of no cycle."""
        return key_of(self.core_key, self._contents.shared().digests())

    @cached_property
    def events_key(self) -> str:
        """The key of all events; empty where there are none."""
        files = self._contents.of_topics("events").digests()
        return key_of(files) if files else ""

    def events_between_key(self, first: date, last: date) -> str:
        """Give the key of what falls between two days of the events; empty where there are none."""
        if not self.events_key:
            return ""
        return key_of(events_between(self.context.plan.events, first, last))

    @cached_property
    def _usual(self) -> UsualData | None:
        """What the program says of all cycles."""
        return usual_of(self._contents)

    def year_key(self, year: str) -> str:
        """Give the key of a school year."""
        files = [file.name for file in self._contents.found.of("year") if file.owner == year]
        return key_of([self._contents.digest[name] for name in files])

    def cycle_key(self, cycle_id: str) -> str:
        """Give the key of a cycle's own files."""
        return key_of(self._contents.of_cycle(cycle_id).digests())

    def without_music_key(self, cycle_id: str) -> str:
        """Give the key of a cycle's own files but its music."""
        contents = self._contents.of_cycle(cycle_id).of_topics("cycle", "concert")
        return key_of(contents.digests())

    @cached_property
    def handbook(self) -> Handbook:
        """All that is of no cycle."""
        return self._shared[0]

    @cached_property
    def context(self) -> Context:
        """The context of pages that are of no cycle, in the site's first language."""
        plan = build_plan(self.handbook, mended=False).plan
        return Context(plan, plan.languages[0])

    def context_in(self, language: str) -> Context:
        """Give the same context in one of the site's languages."""
        return replace(self.context, language=language, _made={})

    @cached_property
    def _shared(self) -> tuple[Handbook, tuple[Problem, ...]]:
        loaded = load_contents(self._contents.shared())
        if loaded.handbook is None:
            raise NotSoundError
        return loaded.handbook, loaded.problems

    def shared(self) -> SharedContent:
        """Give what is known of all that is of no cycle."""

        def found() -> SharedContent:
            handbook, problems = self._shared
            warnings = stop_at_errors((*problems, *checked(REFERENCE_CHECKS, handbook)))
            hosts = frozenset(handbook.program.item.host_files)
            plan = self.context.plan
            return SharedContent(
                facts_of(plan), plan.languages, warnings, hosts, plan.program.time_zone
            )

        return self.store.kept(key_of("shared", self.shared_key), SharedContent, found)

    def heads(self) -> list[CycleHead]:
        """Give what others need to know of each cycle."""
        return [self._head(file.owner) for file in self._contents.found.of("cycle")]

    def _head(self, cycle_id: str) -> CycleHead:
        def found() -> CycleHead:
            content = self._cycle(cycle_id).content
            head = cycle_head(content, self.context) if content else broken_draft(cycle_id)
            shown = self._shows_drafts and head.draft and content is not None
            return replace(head, draft=False, shown=True) if shown else head

        programs = self._contents.of_topics("program").digests()
        mode = ("drafts",) if self._shows_drafts else ()
        key = key_of("head", *mode, self.program, programs, self.cycle_key(cycle_id))
        return self.store.kept(key, CycleHead, found)

    def warnings(self, heads: Sequence[CycleHead]) -> int:
        """Count the warnings on names of files, and those on drafts."""
        drafts = {head.id for head in heads if head.draft}
        found = self._contents.found.problems
        on_names = stop_at_errors(
            in_draft(problem) if cycle_of(problem.file) in drafts else problem for problem in found
        )
        of_drafts = self._of_drafts([head for head in heads if head.draft], heads)
        return on_names + of_drafts + self._unplanned([head for head in heads if not head.draft])

    def _unplanned(self, heads: Sequence[CycleHead]) -> int:
        """Count the ensembles that have meetings in a year of which no cycle has them."""

        def found() -> int:
            bands = self.handbook.program.item.ensembles
            return sum(
                sourced.item.meetings[place].ensemble in {band.id for band in bands}
                for name, sourced in self.handbook.years.items()
                for place in unplanned_meetings(
                    sourced.item,
                    {
                        band.id
                        for head in heads
                        for band in bands
                        if head.year == name
                        and not {one.id for one in players_of(band)}.isdisjoint(head.ensembles)
                    },
                )
            )

        keys = [(head.year, head.ensembles) for head in heads]
        return self.store.kept(key_of("unplanned", self.shared_key, keys), int, found)

    def _of_drafts(self, drafts: Sequence[CycleHead], heads: Sequence[CycleHead]) -> int:
        """Count what is wrong in drafts: by themselves, and beside cycles that share days with them."""
        if not drafts:
            return 0
        beside = [
            head
            for head in heads
            if not head.draft
            and any(head.first <= one.last and one.first <= head.last for one in drafts)
        ]
        words, odd = words_of(heads), {cycle_of(one.file) for one in self._contents.found.problems}

        def found() -> int:
            loaded = [self._cycle(head.id) for head in drafts]
            sound = tuple(
                one.content for one in loaded if one.content and one.content.id not in odd
            )
            handbook, _ = self.of_cycles(beside)
            handbook = replace(handbook, years=self.handbook.years, elsewhere=words)
            known = checked(REFERENCE_CHECKS, handbook)
            beside_others = of_drafts(handbook, sound, known, told=False) if sound else ()
            return sum(len(one.problems) for one in loaded) + len(beside_others)

        keys = [(head.id, self.cycle_key(head.id)) for head in (*beside, *drafts)]
        key = key_of("drafts", self.shared_key, keys, sorted(words.items()), sorted(odd))
        return self.store.kept(key, int, found)

    def of_cycles_alone(
        self, heads: Iterable[CycleHead], problems: Sequence[Problem]
    ) -> tuple[Problem, ...]:
        """Leave out what is told of the program: that is counted with what is shared."""
        homes = {
            address: home for head in heads for address, home in self._cycle(head.id).homes.items()
        }
        if not homes:
            return tuple(problem for problem in problems if cycle_of(problem.file))
        of_others = {
            (problem.code, problem.address, problem.message)
            for problem in problems
            if not cycle_of(problem.file)
        }
        own = {
            (problem.code, problem.address, problem.message): problem
            for problem in (at_home(one, homes) for one in problems if cycle_of(one.file))
        }
        return tuple(problem for key, problem in own.items() if key not in of_others)

    def of_cycles(self, heads: Iterable[CycleHead]) -> tuple[Handbook, int]:
        """Give the handbook with these cycles alone, without its pages, and count their warnings."""
        loaded = [self._cycle(cycle_id) for cycle_id in sorted(head.id for head in heads)]
        found = tuple(one.content for one in loaded if one.content)
        years = {content.cycle.item.year for content in found}
        handbook = replace(
            self.handbook,
            years={name: year for name, year in self.handbook.years.items() if name in years},
            cycles=found,
            pages=(),
        )
        return handbook, sum(len(one.problems) for one in loaded)

    def pieces_key(self, cycle_id: str, ensemble_id: str) -> str:
        """Give the key of an ensemble's pieces in a cycle, as they are written."""
        loaded = self._cycle(cycle_id)
        data: Any = loaded.data
        return key_of(
            *(
                data[music.file]["pieces"][place]
                for music in (loaded.content.music if loaded.content else ())
                for place, piece in enumerate(music.item.pieces)
                if ensemble_id in piece.played_by
            )
        )

    def reached_key(self, cycle_id: str, ensemble_id: str) -> str:
        """Give the key of what an ensemble's rehearsals really reached; notes are on no page."""
        loaded = self._cycle(cycle_id)
        data: Any = loaded.data
        logs = loaded.content.logs if loaded.content else ()
        return key_of(
            *(
                [str(data[log.file].get(field)) for field in _ON_PAGES]
                for log in logs
                if log.item.ensemble == ensemble_id
            )
        )

    def _cycle(self, cycle_id: str) -> LoadedCycle:
        """Read a cycle; only of a draft the content may be missing."""
        if cycle_id not in self._cycles:
            loaded = load_cycle(self._contents.of_cycle(cycle_id), self._usual)
            stop_at_errors(loaded.problems)
            if not loaded.content and not loaded.draft:
                raise NotSoundError
            if loaded.draft and loaded.content and self._shows_drafts:
                loaded = replace(loaded, content=marked_draft(loaded.content))
            self._cycles[cycle_id] = loaded
        return self._cycles[cycle_id]


def stop_at_errors(problems: Iterable[Problem]) -> int:
    """Count problems that are warnings; raises NotSoundError if there is an error among them.

    What is not translated yet is none: readers are told of it on the pages.
    """
    found = tuple(problems)
    if has_errors(found):
        raise NotSoundError
    return sum(problem.code != LACKING for problem in found)
