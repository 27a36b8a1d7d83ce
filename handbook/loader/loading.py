"""The phases of loading: find the files, read each, validate each, put them together."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import time
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from handbook.loader.contents import Contents, read_contents
from handbook.loader.discover import Folder, FoundFile
from handbook.loader.downbeats import with_downbeat
from handbook.loader.folder_walk import unreadable
from handbook.loader.free_pages import read_page
from handbook.loader.media_files import media_files
from handbook.loader.salvage import Salvaged, salvage
from handbook.loader.usual import UsualData, of_cycle_alone, usual_in, with_usual
from handbook.loader.validation_errors import EMPTY_LIST, UNKNOWN_FIELD, refusals
from handbook.problems import Address, Problem, Severity
from handbook.schema.base import Item
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cycle
from handbook.schema.events import Events
from handbook.schema.fundamentals import Fundamentals
from handbook.schema.handbook import MODELS, CycleContent, FreePage, Handbook, Sourced
from handbook.schema.log import Log
from handbook.schema.music import Music
from handbook.schema.program import Program
from handbook.schema.scalars.codes import UNKNOWN_LANGUAGE
from handbook.schema.scalars.fields import YES
from handbook.schema.year import Year
from handbook.source.commas import comma_in_text
from handbook.source.nodes import Data
from handbook.source.source_map import Homes, SourceFile, SourceMap
from handbook.source.yaml_reader import YamlFile, read_yaml

_DRAFT = re.compile(rf"draft: +[\"']?({'|'.join(YES)})[\"']?\s*(#.*)?", re.IGNORECASE)
_WRITTEN_LATER = frozenset({"pieces", "program"})
ItemT = TypeVar("ItemT", bound=Item)


@dataclass(frozen=True, slots=True)
class LoadResult:
    """The handbook, or None if any file could not be read into shape; all problems; all lines.

    `readable` is what could be read even so: of each file that has an error, all entries but
    the refused ones, which `salvaged` tells, so that one run tells as much as can be told.
    None if there is no program.yaml. `drafts` are the cycles that are kept out of the site,
    as far as they could be read; they are in neither, and what is wrong in them only warns.
    `broken_drafts` are the ids of those that could not be read.
    """

    handbook: Handbook | None
    problems: tuple[Problem, ...]
    sources: SourceMap
    readable: Handbook | None = None
    drafts: tuple[CycleContent, ...] = ()
    salvaged: Mapping[str, Salvaged] = field(default_factory=dict)
    broken_drafts: tuple[str, ...] = ()


def load(folder: Path) -> LoadResult:
    """Read a content folder; every problem of every file comes back at once."""
    return load_contents(read_contents(folder))


def load_contents(contents: Contents) -> LoadResult:
    """Read the files of a content folder whose bytes are there already."""
    found = contents.found
    reading = _Reading(contents, problems=list(found.problems))
    whole = reading.handbook(found)
    problems = tuple(
        in_draft(problem) if cycle_of(problem.file) in reading.drafts else problem
        for problem in reading.problems
    )
    sources = SourceMap(reading.sources, reading.homes)
    broken = any(problem.severity is Severity.ERROR for problem in problems)
    sound = whole and _without_broken(whole, {*reading.broken, *_misnamed(found)})
    drafts = tuple(one for one in sound.cycles if one.id in reading.drafts) if sound else ()
    if whole is not None and not broken:
        handbook = _without(whole, reading.drafts)
        lost = tuple(sorted(reading.drafts - {one.id for one in drafts}))
        return LoadResult(handbook, problems, sources, handbook, drafts, broken_drafts=lost)
    partial = reading.salvaged(found)
    readable = partial and _without(_without_misnamed(partial, found), reading.drafts)
    return LoadResult(None, problems, sources, readable, drafts, reading.parts)


def in_draft(problem: Problem) -> Problem:
    """Let what is wrong in a draft stop nothing, and say so."""
    if problem.severity is Severity.WARNING:
        return problem
    sentence = f"{problem.message} (in a draft, so nothing stops)"
    return replace(problem, message=sentence, severity=Severity.WARNING)


def cycle_of(file: str) -> str:
    """Give the cycle that a file is of, or nothing."""
    top, _, rest = file.partition("/")
    return rest.partition("/")[0] if top == "cycles" else ""


def _without(handbook: Handbook, drafts: Collection[str]) -> Handbook:
    published = tuple(content for content in handbook.cycles if content.id not in drafts)
    return replace(handbook, cycles=published)


@dataclass(frozen=True, slots=True)
class LoadedCycle:
    """One cycle, None if any of its files could not be read; and the plain data of each file.

    What is wrong in a draft only warns.
    """

    content: CycleContent | None
    draft: bool
    problems: tuple[Problem, ...]
    data: Mapping[str, Data]
    homes: Homes = field(default_factory=dict)


def load_cycle(contents: Contents, usual: UsualData | None = None) -> LoadedCycle:
    """Read one cycle, of which `contents` has the files alone; `usual` is what the program says of all."""
    reading = _Reading(contents, usual=usual)
    cycles, draft = reading.cycles(contents.found), bool(reading.drafts)
    problems = tuple(map(in_draft, reading.problems) if draft else reading.problems)
    sound = cycles[0] if cycles and not reading.broken else None
    return LoadedCycle(sound, draft, problems, reading.data, reading.homes)


def _without_misnamed(handbook: Handbook, found: Folder) -> Handbook:
    """Leave out the cycles of which a file was found under a wrong name: what is in it is not known."""
    return _without_broken(handbook, set(_misnamed(found)))


def _misnamed(found: Folder) -> Iterable[str]:
    """Name what files found under a wrong name were surely meant to be."""
    return (problem.file.removesuffix(".yml") + ".yaml" for problem in found.problems)


def _without_broken(handbook: Handbook, broken: Collection[str]) -> Handbook:
    """Leave out the cycles of which any file, or the school year, is among the broken files."""
    return replace(
        handbook,
        cycles=tuple(
            content
            for content in handbook.cycles
            if f"years/{content.cycle.item.year}.yaml" not in broken
            and not any(name.startswith(f"cycles/{content.id}/") for name in broken)
        ),
    )


@dataclass(slots=True)
class _Reading:
    """What has been read so far."""

    contents: Contents
    problems: list[Problem] = field(default_factory=list)
    sources: dict[str, SourceFile] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    drafts: set[str] = field(default_factory=set)
    unwritten: dict[str, str] = field(default_factory=dict)  # files without music yet, by topic
    data: dict[str, Data] = field(default_factory=dict)
    letters: int = 0  # of the pages read so far
    usual: UsualData | None = None
    homes: dict[Address, Address] = field(default_factory=dict)
    items: dict[str, Sourced[Any] | None] = field(default_factory=dict)
    pages: dict[str, FreePage | None] = field(default_factory=dict)
    parts: dict[str, Salvaged] = field(default_factory=dict)
    validated: dict[str, Data] = field(default_factory=dict)

    def salvaged(self, found: Folder) -> Handbook | None:
        """Join what could be read, with the sound parts of the files that could not be."""
        topics: dict[str, type[Item]] = {**MODELS}
        for file in found.files:
            if file.name not in self.broken or file.topic not in topics:
                continue
            source = self.sources.get(file.name)
            lines, data = source.lines if source else (), self.validated.get(file.name)
            part = salvage(file.name, file.topic, topics[file.topic], data, lines)
            self.parts[file.name] = part
            nothing = file.topic in {"concert", "music", "events", "log"} and not part.data
            self.items[file.name] = None if nothing else Sourced(file.name, part.item)
        return self.handbook(found)

    def handbook(self, found: Folder) -> Handbook | None:
        """Read all files, even if some are broken, and join them if the main one is whole."""
        programs = self._items(found.of("program"), Program)
        years = [(file.owner, self._item(file, Year)) for file in found.of("year")]
        fundamentals = self._items(found.of("fundamentals"), Fundamentals)
        events = self._items(found.of("events"), Events)
        cycles = self.cycles(found)
        pages = [self._page(file) for file in found.of("page")]
        if not programs:
            return None
        media = [file.name.removeprefix("media/") for file in found.of("media")]
        return Handbook(
            program=programs[0],
            years={name: year for name, year in years if year is not None},
            fundamentals=fundamentals,
            events=events,
            cycles=cycles,
            pages=tuple(page for page in pages if page is not None),
            media=frozenset(media),
            media_files=self.contents.media_files
            if self.contents.media_files is not None
            else media_files(self.contents.folder / "media", media),
        )

    def cycles(self, found: Folder) -> tuple[CycleContent, ...]:
        """Read the files of all cycles."""
        music = [(file.owner, self._item(file, Music)) for file in found.of("music")]
        concerts = [(file.owner, self._item(file, Concert)) for file in found.of("concert")]
        logs = [(file.owner, self._item(file, Log)) for file in found.of("log")]
        cycles: list[CycleContent] = []
        for file in found.of("cycle"):
            cycle = self._item(file, Cycle)
            if file.owner in self.drafts:
                cycle = self._begun(file, cycle)
            if cycle is not None:
                pieces = tuple(part for owner, part in music if owner == file.owner and part)
                own = in_order_of_downbeat(part for owner, part in concerts if owner == file.owner)
                kept = in_order_of_rehearsals(log for owner, log in logs if owner == file.owner)
                cycles.append(CycleContent(file.owner, cycle, pieces, own, kept))
        return tuple(cycles)

    def _begun(self, file: FoundFile, cycle: Sourced[Cycle] | None) -> Sourced[Cycle] | None:
        """Take a draft as far as it is written: music and a program come later than the days.

        A concert whose program is empty gives the cycle the end that it has from a concert.
        """
        own = [name for name in self.unwritten if cycle_of(name) == file.owner]
        self.broken.difference_update(own)
        concerts = [self.validated[name] for name in own if self.unwritten[name] == "concert"]
        dates = [data["date"] for data in concerts if isinstance(data, dict)]
        written = self.validated.get(file.name)
        if cycle is None or cycle.item.ends or not dates or not isinstance(written, dict):
            return cycle
        ends = [Cycle.model_validate({**written, "ends": day}).ends for day in dates]
        last = max(day for day in ends if day)
        return Sourced(cycle.file, cycle.item.model_copy(update={"ends": last}))

    def _items(self, files: Iterable[FoundFile], model: type[ItemT]) -> tuple[Sourced[ItemT], ...]:
        items = (self._item(file, model) for file in files)
        return tuple(item for item in items if item is not None)

    def _item(self, file: FoundFile, model: type[ItemT]) -> Sourced[ItemT] | None:
        if file.name not in self.items:
            self.items[file.name] = found = self._read_item(file, model)
            if found is None:
                self.broken.add(file.name)
        return self.items[file.name]

    def _read_item(self, file: FoundFile, model: type[ItemT]) -> Sourced[ItemT] | None:
        raw = self._bytes(file)
        if raw is None:
            return None
        read = read_yaml(file.name, raw)
        self.sources[file.name] = SourceFile(read.lines, read.root)
        self.data[file.name] = read.data
        if file.topic == "program":
            self.usual = usual_in(read)
        if file.topic == "cycle" and _says_draft(read):
            self.drafts.add(file.owner)
        if read.root is None:
            self.problems += read.problems
            return None
        homes: Homes = {}
        may_be_usual = file.topic in {"cycle", "concert"}
        if file.topic == "concert":
            read, homes = with_downbeat(read)
            self.homes |= homes
        if may_be_usual:
            read, homes = with_usual(read, file.topic, self.usual)
            self.homes |= homes
        self.validated[file.name] = read.data
        item, refused = _validated(read, model)
        if may_be_usual:
            refused = of_cycle_alone(refused, self.usual, homes)
        self.problems += _told_once(read.problems, refused)
        if refused and all(map(_is_unwritten, refused)):
            self.unwritten[file.name] = file.topic
        return Sourced(file.name, item) if item is not None else None

    def _page(self, file: FoundFile) -> FreePage | None:
        if file.name not in self.pages:
            self.pages[file.name] = self._read_page(file)
        return self.pages[file.name]

    def _read_page(self, file: FoundFile) -> FreePage | None:
        raw = self._bytes(file)
        if raw is None:
            return None
        self.letters += len(raw)
        page, lines, problems = read_page(
            file.name, file.owner, raw, before=self.letters - len(raw)
        )
        self.sources[file.name] = SourceFile(lines)
        self.problems += problems
        return page

    def _bytes(self, file: FoundFile) -> bytes | None:
        raw = self.contents.raw[file.name]
        if raw is None:
            self.problems.append(unreadable(file.name))
        return raw


def in_order_of_downbeat(found: Iterable[Sourced[Concert] | None]) -> tuple[Sourced[Concert], ...]:
    """Sort concerts by when their music starts, and leave out those that could not be read."""
    read = (one for one in found if one is not None)
    return tuple(sorted(read, key=lambda one: (one.item.date, one.item.downbeat, one.file)))


def in_order_of_rehearsals(found: Iterable[Sourced[Log] | None]) -> tuple[Sourced[Log], ...]:
    """Sort logs by their rehearsals, and leave out those that could not be read."""
    read = (one for one in found if one is not None)
    return tuple(
        sorted(read, key=lambda one: (one.item.date, one.item.start or time.max, one.file))
    )


def _is_unwritten(problem: Problem) -> bool:
    """Whether nothing is wrong but that no piece is chosen yet."""
    return problem.code == EMPTY_LIST and problem.address[-1] in _WRITTEN_LATER


def _says_draft(read: YamlFile) -> bool:
    """Whether a cycle is a draft, even if its file is broken elsewhere."""
    if isinstance(read.data, dict):
        return str(read.data.get("draft")).lower() in YES
    return any(map(_DRAFT.fullmatch, read.lines))


def _validated(read: YamlFile, model: type[ItemT]) -> tuple[ItemT | None, tuple[Problem, ...]]:
    data: Any = read.data
    try:
        return model.model_validate(data), ()
    except ValidationError as error:
        return None, _with_commas(refusals(read, model, error), read)


def _with_commas(refused: Iterable[Problem], read: YamlFile) -> tuple[Problem, ...]:
    """Tell once of a text that a comma has cut, in place of each of its pieces."""
    told: dict[object, Problem] = {}
    for problem in refused:
        unknown = problem.code in {UNKNOWN_FIELD, UNKNOWN_LANGUAGE}
        comma = unknown and read.root and comma_in_text(problem.address, read.root, read.lines)
        told.setdefault((comma.code, comma.address) if comma else problem, comma or problem)
    return tuple(told.values())


def _told_once(read: Iterable[Problem], refused: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Leave out a warning of the reader that a refusal repeats as an error."""
    repeated = {(problem.code, problem.address) for problem in refused}
    kept = (
        problem
        for problem in read
        if problem.severity is Severity.ERROR or (problem.code, problem.address) not in repeated
    )
    return (*kept, *refused)
