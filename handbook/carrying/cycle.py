"""The next cycle's files, made of the last cycle's: what stays the same each time, and no dates."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date, timedelta

import yaml

from handbook.carrying.concert import concert_skeleton
from handbook.carrying.dates import as_long, first_meeting, in_words
from handbook.carrying.model import TO_DO, CannotCarryError, NewFile
from handbook.carrying.texts import cutting, modeline, plain_or_quoted, remarked, take_out_dated
from handbook.checks.traversal import last_day
from handbook.domain.school_year import part_of_year
from handbook.domain.values.dates import dated
from handbook.loader.contents import Contents
from handbook.records import dataclass
from handbook.schema.handbook import CycleContent, Handbook
from handbook.schema.scalars import patterns
from handbook.schema.year import Year
from handbook.source.yaml_reader import read_yaml

CARRIED = frozenset([
    "ensembles", "stages", "slots", "marks", "leap", "at_goal", "return_within", "talk", "notes",
    "substitute",
])  # fmt: skip
"""The fields of cycle.yaml that the next cycle has from the last one."""
_NAMES_A_DAY = f"{TO_DO}: this text names a day of the last cycle"
LEFT_OUT: Mapping[str, tuple[str, str]] = {
    "days": ("single day", "single days"),
    "extra": ("extra rehearsal", "extra rehearsals"),
    "cancelled": ("cancelled rehearsal", "cancelled rehearsals"),
}
"""Those that are of the last cycle alone, as one and several are called."""


@dataclass(frozen=True, slots=True)
class NextCycle:
    """A cycle that is not there yet; `left_out` and `to_do` are sentences about it."""

    id: str
    of: str
    files: tuple[NewFile, ...]
    starts: date
    ends: date
    left_out: tuple[str, ...]
    to_do: tuple[str, ...]
    start_is_given: bool = False


def next_cycle(
    handbook: Handbook,
    contents: Contents,
    *,
    wanted_id: str | None = None,
    like: str | None = None,
    starts: date | None = None,
) -> NextCycle:
    """Make the files of the next cycle, as a draft; `contents` has the files that the handbook was read from.

    It is made of the last cycle, or of the one that it is to be `like`. It starts on the
    first rehearsal day after the week in which the last cycle ends, unless said otherwise,
    and ends after as many weeks as the other had. Raises CannotCarryError.
    """
    if not handbook.cycles:
        raise CannotCarryError("there is no cycle yet that a next one could be made from")
    last = max(handbook.cycles, key=lambda one: (one.cycle.item.starts, one.id))
    old = _cycle(handbook, like) if like is not None else last
    last_end, old_end = _end(last), _end(old)
    if starts is not None and starts <= last_end:
        raise CannotCarryError(
            f"the last cycle, {last.id}, ends on {in_words(last_end)}: the next one starts after that"
        )
    year_id, year, first = _year_and_start(handbook, old, last_end, starts)
    concert = old.concert.item.date if old.concert else old_end
    ends = as_long(first, old.cycle.item.starts, concert, year)
    name = _free_id(contents, old.id, ends, wanted_id)
    left_out: list[str] = []
    files = [_cycle_file(contents, old, name, year_id, first, ends, left_out)]
    if old.concert is not None:
        skeleton = concert_skeleton(contents, old.concert.file, ends, left_out)
        files.append(NewFile(f"cycles/{name}/concert.yaml", skeleton))
    left_out += [f"the concert in {one.file}" for one in old.concerts[:-1]]
    to_do = tuple(_to_do(files, old))
    return NextCycle(
        name, old.id, tuple(files), first, ends, tuple(left_out), to_do, starts is not None
    )


def _cycle(handbook: Handbook, name: str) -> CycleContent:
    found = {one.id: one for one in handbook.cycles}
    if name not in found:
        raise CannotCarryError(f"there is no cycle {name}: there are {', '.join(sorted(found))}")
    return found[name]


def _end(cycle: CycleContent) -> date:
    end = last_day(cycle)
    if end is None:
        raise CannotCarryError(
            f"the cycle {cycle.id} has no end: give it a concert, or a day under `ends`"
        )
    return end


def _year_and_start(
    handbook: Handbook, old: CycleContent, last_end: date, starts: date | None
) -> tuple[str, Year, date]:
    """Give the school year, with its id, and the first day of the next cycle.

    A year of which not half as many weeks are left as the old cycle had is over for this.
    """
    years = sorted(
        ((name, one.item) for name, one in handbook.years.items()), key=lambda one: one[1].first_day
    )
    if starts is not None:
        for name, year in years:
            if year.first_day <= starts <= year.last_day:
                return name, year, starts
        spans = "; ".join(
            f"{name} is from {in_words(year.first_day)} to {in_words(year.last_day)}"
            for name, year in years
        )
        raise CannotCarryError(f"{in_words(starts)} is in no school year of this folder: {spans}")
    week_over = last_end + timedelta(days=6 - last_end.weekday())
    half = (_end(old) - old.cycle.item.starts) / 2
    for name, year in years:
        first = first_meeting(year, old.cycle.item.ensembles, week_over)
        if first is not None and first + half <= year.last_day:
            return name, year, first
    raise CannotCarryError(
        f"no school year of this folder has room for a cycle after {in_words(last_end)}, when the"
        " last one ends: begin the next year with `handbook next year`, or say when the cycle"
        " starts with --starts"
    )


def _free_id(contents: Contents, old_id: str, ends: date, wanted: str | None) -> str:
    """Give the id that is wished for, or one such as spring-2027 that no folder has yet."""
    if wanted is not None and not re.match(patterns.KEBAB, wanted):
        raise CannotCarryError(
            f"`{wanted}` cannot be an id: small letters, digits and hyphens, such as spring-2027"
        )
    part = part_of_year(ends)
    with_year = f"{part}-{ends.year}"
    candidates = [with_year] if re.search(r"\d", old_id) else [part, with_year]
    taken = {file.owner for file in contents.found.files if file.name.startswith("cycles/")}
    for name in [wanted] if wanted is not None else candidates:
        if name not in taken:
            return name
    folder = f"cycles/{wanted or candidates[-1]}"
    raise CannotCarryError(f"{folder} is there already: finish that one, or name another with --id")


def _cycle_file(
    contents: Contents,
    old: CycleContent,
    name: str,
    year: str,
    starts: date,
    ends: date,
    left_out: list[str],
) -> NewFile:
    file = old.cycle.file
    read = read_yaml(file, contents.raw[file] or b"")
    text = cutting(read)
    fields = {key.value: value for key, value in text.root.value}
    left_out += _counted(fields)
    text.take_out(text.root, fields.keys() - CARRIED)
    stages = fields.get("stages")
    if isinstance(stages, yaml.SequenceNode):
        for stage in stages.value:
            if isinstance(stage, yaml.MappingNode) and any(
                key.value == "starts" for key, _ in stage.value
            ):
                text.take_out(stage, {"starts"})
                left_out.append("the date on which a stage starts")
        remarked(text, stages, _NAMES_A_DAY)
    if "substitute" in fields:
        remarked(text, fields["substitute"], _NAMES_A_DAY)
    if take_out_dated(text, "notes"):
        left_out.append("notes that name a day")
    part = part_of_year(ends).capitalize()
    head = (
        f"# The next cycle, made of {file} by `handbook next cycle`.\n"
        f"# Lines with {TO_DO} are yours to finish.\n\n"
        f"# {TO_DO}: what it is called\n"
        f'name: "{part} cycle"\n'
        f"year: {plain_or_quoted(year)}\n"
        "# As a draft it is kept out of the site, and stops nothing.\n"
        f"# {TO_DO}: take this line out when the cycle is ready.\n"
        "draft: yes\n"
        f"# {TO_DO}: the day on which music is handed out\n"
        f"starts: {dated(starts)}\n"
    )
    if old.concert is None:
        head += f"# {TO_DO}: its last day\nends: {dated(ends)}\n"
    return NewFile(f"cycles/{name}/cycle.yaml", modeline(read) + head + text.without_head())


def _counted(fields: Mapping[str, yaml.Node]) -> Iterator[str]:
    """Say what of the last cycle is left out."""
    for name, (one, several) in LEFT_OUT.items():
        found = fields.get(name)
        if isinstance(found, yaml.SequenceNode) and found.value:
            number = len(found.value)
            yield f"{number} {one if number == 1 else several}"
    if "private" in fields:
        yield "the private note on the cycle"


def _to_do(files: list[NewFile], old: CycleContent) -> Iterator[str]:
    yield "the pieces, in files under music/, each with its passages and goals"
    if old.concert is not None:
        yield "which of them each band plays, in concert.yaml under `program`"
    marks = sum(file.text.count(f"# {TO_DO}") for file in files)
    yield f"what the {marks} lines with `{TO_DO}` ask for"
