"""The next school year's file, made of the last one's and, if there is one, of the district's calendar."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from zoneinfo import ZoneInfo

import yaml

from handbook.carrying.dates import in_words
from handbook.carrying.model import TO_DO, CannotCarryError, NewFile
from handbook.carrying.school_days import (
    YEAR,
    ProposedDays,
    ProposedYear,
    Told,
    from_calendar,
    without_calendar,
)
from handbook.carrying.texts import cutting, modeline
from handbook.domain.school_day_titles import DayMeaning, title_meaning
from handbook.domain.values.dates import WEEKDAYS, dated, parse_date
from handbook.domain.values.unreadable import UnreadableError
from handbook.loader.contents import Contents
from handbook.records import dataclass
from handbook.schema.handbook import Handbook
from handbook.schema.scalars import patterns
from handbook.schema.year import Year
from handbook.school_calendar.model import CalendarFile
from handbook.source.quoting import in_quotes
from handbook.source.yaml_reader import YamlFile, read_yaml

CARRIED = frozenset(["school_days", "day_labels", "resume", "bells", "new_players", "meetings"])
"""The fields of a year's file that the next year has as they are, but for dates in them."""
DATED = ("closures", "altered", "make_up")
"""Those of which only rules are carried: entries about `every` such weekday of the year."""
_BEGINS = {"closures": "closures:", "altered": "altered:", "make_up": "make_up:"}
_ABOUT = {"closures": "Days without school.", "altered": "School days that run otherwise.",
          "make_up": "Days with school that would have none."}  # fmt: skip
_NUMBER = re.compile(r"(?<!\d)\d{2}(?:\d{2})?(?!\d)")
_CENTURY, _SHORT = 100, 3
_MOST_REMARKS, _MOST_BELLS = 1000, 8
_KINDS = {
    "closures": frozenset({DayMeaning.CLOSED}),
    "altered": frozenset(
        {DayMeaning.EARLY, DayMeaning.LATE, DayMeaning.LABEL, DayMeaning.OTHERWISE}
    ),
    "make_up": frozenset({DayMeaning.MAKE_UP}),
}


@dataclass(frozen=True, slots=True)
class NextYear:
    """A school year that is not there yet, the year it was made of, and what was made of the calendar."""

    id: str
    of: str
    file: NewFile
    proposal: ProposedYear
    old: Year
    left_out: tuple[str, ...]
    to_do: int


def newest_year(handbook: Handbook) -> tuple[str, Year]:
    """Give the school year that the next one is made of, with its id. Raises CannotCarryError."""
    if not handbook.years:
        raise CannotCarryError("there is no school year yet that a next one could be made from")
    name, sourced = max(handbook.years.items(), key=lambda one: (one[1].item.first_day, one[0]))
    return name, sourced.item


def calendar_span(old: Year) -> tuple[date, date]:
    """Give the days of which a calendar is asked: the year to come, and two months on either side."""
    margin = YEAR / 6
    return max(old.last_day, old.first_day + YEAR - margin), old.last_day + YEAR + margin


def zone_of(handbook: Handbook) -> ZoneInfo:
    """Give the zone of the program's clock times."""
    return ZoneInfo(handbook.program.item.time_zone)


def next_year(
    handbook: Handbook,
    contents: Contents,
    *,
    wanted_id: str | None,
    calendar: CalendarFile | None,
    calendar_name: str = "",
) -> NextYear:
    """Make the file of the next school year. Raises CannotCarryError.

    A newest year without a cycle is taken for one begun by this before, and another after
    it is made only under an id that is given.
    """
    of, old = newest_year(handbook)
    used = set(_years_of_cycles(contents))
    if wanted_id is None and used and of not in used:
        after = _a_year_on(of)
        raise CannotCarryError(
            f"years/{of}.yaml is there already, and no cycle is in that year yet: finish that"
            f" file, or name the year after it with --id{f' {after}' if after else ''}"
        )
    proposal = without_calendar(old) if calendar is None else from_calendar(old, calendar)
    if calendar is not None and proposal.of_another_year:
        raise CannotCarryError(
            f"the new year would be from {in_words(proposal.first_day)} to"
            f" {in_words(proposal.last_day)}, and {proposal.outside} of the"
            f" {several(calendar.number, 'entry', 'entries')} of {calendar_name} have other days:"
            " give the calendar of that year, or leave out --school-days"
        )
    name = _free_id(handbook, of, proposal, wanted_id)
    file = f"years/{of}.yaml"
    read = read_yaml(file, contents.raw[file] or b"")
    work = _YearText(read, old, proposal, calendar_name)
    text = work.written(name, of, file)
    return NextYear(
        name, of, NewFile(f"years/{name}.yaml", text), proposal, old,
        tuple(work.left_out), text.count(f"# {TO_DO}"),
    )  # fmt: skip


def _years_of_cycles(contents: Contents) -> Iterator[str]:
    """Give the years that cycles are said to be in, those of unfinished drafts too."""
    for file in contents.found.files:
        if file.topic == "cycle":
            data = read_yaml(file.name, contents.raw[file.name] or b"").data
            if isinstance(data, Mapping):
                yield str(data.get("year"))


def _free_id(handbook: Handbook, of: str, proposal: ProposedYear, wanted: str | None) -> str:
    if wanted is not None and not re.match(patterns.KEBAB, wanted):
        raise CannotCarryError(
            f"`{wanted}` cannot be an id: small letters, digits and hyphens, such as 2027-28"
        )
    start = proposal.first_day.year
    name = wanted or _a_year_on(of) or f"{start}-{(start + 1) % _CENTURY:02}"
    if name in handbook.years:
        raise CannotCarryError(f"years/{name}.yaml is there already: name the new year with --id")
    return name


def _a_year_on(name: str) -> str:
    """Count each number of a name such as 2026-27 up by one; nothing if there is none."""
    if not _NUMBER.search(name):
        return ""

    def on(found: re.Match[str]) -> str:
        width = len(found[0])
        return f"{(int(found[0]) + 1) % 10**width:0{width}}"

    return _NUMBER.sub(on, name)


class _YearText:
    """The new file's text as it is put together."""

    def __init__(
        self, read: YamlFile, old: Year, proposal: ProposedYear, calendar_name: str
    ) -> None:
        self._read, self._old, self._new = read, old, proposal
        self._calendar = calendar_name
        self._cut = cutting(read)
        self._fields = {key.value: value for key, value in self._cut.root.value}
        self.left_out: list[str] = []

    def written(self, name: str, of: str, file: str) -> str:
        """Give the whole text."""
        cut, fields = self._cut, self._fields
        gone = fields.keys() - CARRIED - {one for one in DATED if one in fields}
        if "private" in fields:
            self.left_out.append("the private note on the year")
        self._meetings()
        cut.take_out(cut.root, gone)
        later = [one for one in DATED if not self._in_place(one)]
        if self._new.resume is not None:
            self._resume(self._new.resume.value)
        parts = [modeline(self._read), *self._head(name, of, file), cut.without_head()]
        for one in later:
            lines = list(self._items(one, "  "))
            if lines:
                parts.append("\n".join((f"\n# {_ABOUT[one]}", _BEGINS[one], *lines)) + "\n")
        parts += self._unread()
        return "".join(parts)

    def _head(self, name: str, of: str, file: str) -> Iterator[str]:
        yield f"# The school year {name}, made of {file} by `handbook next year`.\n"
        if self._calendar:
            yield f"# Its days are those of the calendar {self._calendar}.\n"
        yield f"# Lines with {TO_DO} are yours to finish.\n\n"
        title = self._fields.get("name")
        if isinstance(title, yaml.ScalarNode) and (on := _a_year_on(title.value)):
            yield f"name: {in_quotes(on)}\n"
        said = ((self._new.first_said, "first"), (self._new.last_said, "last"))
        for (known, which), day in zip(
            said, (self._new.first_day, self._new.last_day), strict=True
        ):
            if not known:
                yield f"# {TO_DO}: the {which} day of school; this is that of {of}, 52 weeks on\n"
            yield f"{which}_day: {dated(day)}\n"
        yield "\n"

    def _resume(self, way: str) -> None:
        said = f"resume: {way}"
        remark = "# So the labels of the calendar go on after a closure.\n"
        if "resume" in self._fields:
            node = self._fields["resume"]
            self._cut.put(node, way)
            self._cut.remark(node, remark.strip("# \n"))
        elif "day_labels" in self._fields:
            node = self._fields["day_labels"]
            self._cut.put(node, f"{self._cut.text_of(node)}\n{remark}{said}")

    def _meetings(self) -> None:
        """Move the dates of meetings that hold for a part of the year by 52 weeks."""
        node = self._fields["meetings"]
        assert isinstance(node, yaml.SequenceNode)
        edges = {
            self._old.first_day: self._new.first_day,
            self._old.last_day: self._new.last_day,
        }
        for meeting in node.value:
            for key, value in meeting.value:
                if key.value not in {"from", "to"} or not value.value:
                    continue
                day = _date(value.value)
                if day is None:
                    continue
                on = edges.get(day, min(max(day + YEAR, self._new.first_day), self._new.last_day))
                self._cut.put(value, dated(on))
                if day not in edges:
                    self._cut.remark(key, f"{TO_DO}: last year `{key.value}` was {dated(day)}")

    def _in_place(self, field: str) -> bool:
        """Write a list of dated entries where the old one stands, its rules first; false if there is none."""
        node = self._fields.get(field)
        if node is None:
            return False
        if not isinstance(node, yaml.SequenceNode) or not node.value:
            self._cut.take_out(self._cut.root, {field})
            return False
        column = 2 if node.flow_style else node.start_mark.column
        rules = [place for place, item in enumerate(node.value) if _is_rule(item)]
        for place in rules:
            self._cut.take_out(node.value[place], {"except", "told"})
        indent = " " * column
        kept = [f"{indent}{self._cut.item_text(node, place)}" for place in rules]
        items = [*kept, *self._items(field, indent)]
        if not items:
            self._cut.take_out(self._cut.root, {field})
            return True
        text = "\n".join(items)
        self._cut.put_all(node, f"\n{text}" if node.flow_style else text.lstrip(" "))
        return True

    def _items(self, field: str, indent: str) -> Iterator[str]:
        """Give the lines of a list's new entries, and of those to be decided, as remarks."""
        proposed = {
            "closures": self._new.closures, "altered": self._new.altered, "make_up": self._new.make_up,
        }[field]  # fmt: skip
        for one in sorted(proposed, key=lambda one: one.first):
            yield from (f"{indent}{line}" for line in self._entry(field, one))
        for told in self._new.decide:
            if told.kind in _KINDS[field]:
                yield from (f"{indent}{line}" for line in self._to_decide(told))
        if not self._calendar:
            yield from (f"{indent}{line}" for line in self._last_years(field))

    def _entry(self, field: str, one: ProposedDays) -> Iterator[str]:
        if one.lacks_bells:
            yield f"# {TO_DO}: no bell schedule is named like this; add its `bells:`"
        yield f"- name: {self._name(field, one)}"
        if one.every is not None:
            yield f"  every: {WEEKDAYS[one.every][:_SHORT]}"
        if one.first == one.last and one.every is None:
            yield f"  date: {dated(one.first)}"
        else:
            yield f"  from: {dated(one.first)}"
            yield f"  to: {dated(one.last)}"
        if one.without:
            yield f"  except: [{', '.join(map(dated, one.without))}]"
        if one.bells is not None:
            yield f"  bells: {one.bells}"
        if one.label is not None:
            yield f"  label: {in_quotes(one.label)}"

    def _name(self, field: str, one: ProposedDays) -> str:
        """Write a name; one that last year had comes with its translations."""
        if one.like is not None:
            node = self._old_name(field, one.like)
            if node is not None and not _is_of_one_language(node):
                return self._cut.text_of(node)
        return in_quotes(one.name.replace("{", "(").replace("}", ")"))

    def _old_name(self, field: str, place: int) -> yaml.Node | None:
        items = self._fields[field].value
        pairs = items[place].value if place < len(items) else []
        node = next((value for key, value in pairs if key.value == "name"), None)
        return node if node is not None and "\n" not in self._cut.text_of(node) else None

    def _to_decide(self, told: Told) -> Iterator[str]:
        """Give the remark that asks about an entry, and the entry as it would be written.

        An altered day has `bells: to-do`, which no schedule is called: taken for an entry
        as it stands, it is asked about by the check.
        """
        yield f"# {TO_DO}: decide on {told_line(told)}"
        yield f"# - name: {in_quotes(told.title)}"
        if told.first is not None and told.last is not None:
            if told.first == told.last:
                yield f"#   date: {dated(told.first)}"
            else:
                yield f"#   from: {dated(told.first)}"
                yield f"#   to: {dated(told.last)}"
        label = title_meaning(told.title, self._old.day_labels).label
        if told.kind is DayMeaning.LABEL and label is not None:
            yield f"#   label: {in_quotes(label)}"
        elif told.kind in _KINDS["altered"]:
            others = ", ".join(one.id for one in self._old.bells[1 : 1 + _MOST_BELLS])
            yield f"#   bells: to-do{f'   # such as {others}' if others else ''}"

    def _last_years(self, field: str) -> Iterator[str]:
        """Give last year's dated entries as remarks, for this year's dates to be written in."""
        node = self._fields.get(field)
        items = node.value if isinstance(node, yaml.SequenceNode) else []
        found = [
            (place, item)
            for place, item in enumerate(items)
            if not _is_rule(item) and getattr(self._old, field)[place].told is None
        ]
        if found:
            yield f"# {TO_DO}: last year had these. Write this year's dates, and take the # away."
        for place, item in found:
            yield from self._to_date_anew(field, place, item)

    def _to_date_anew(self, field: str, place: int, item: yaml.MappingNode) -> Iterator[str]:
        fields = {key.value: value for key, value in item.value}
        entry = getattr(self._old, field)[place]
        name = self._old_name(field, place)
        shown = self._cut.text_of(name) if name is not None else in_quotes(entry.name.read())
        yield f"# - name: {shown}"
        for one in ("date", "from", "to"):
            if one in fields:
                yield f"#   {one}:   # last year {fields[one].value}"
        for one in ("every", "weekdays", "bells", "label", "labels", "like", "resume"):
            if one in fields and "\n" not in (text := self._cut.text_of(fields[one])):
                yield f"#   {one}: {text}"

    def _unread(self) -> Iterator[str]:
        other = [
            one for one in self._new.decide if not any(one.kind in of for of in _KINDS.values())
        ]
        for heading, told in (
            (f"{TO_DO}: decide what these entries of {self._calendar} mean", other),
            (f"Not understood in {self._calendar}, so nothing was made of it", self._new.unread),
        ):
            if told:
                yield f"\n# {heading}:\n"
                yield from (f"#   {told_line(one)}\n" for one in told[:_MOST_REMARKS])
                if len(told) > _MOST_REMARKS:
                    yield f"#   and {len(told) - _MOST_REMARKS} more\n"


def told_line(one: Told) -> str:
    """Write an entry of a calendar that something is told of, in one line."""
    lines = ", ".join(map(str, one.lines[:_SHORT])) + (", …" if len(one.lines) > _SHORT else "")
    where = f"{'line' if len(one.lines) == 1 else 'lines'} {lines}: "
    when = ""
    if one.first is not None and one.last is not None:
        when = dated(one.first)
        when += f" to {dated(one.last)} " if one.last != one.first else " "
    return f"{where}{when}{in_quotes(one.title)}{f' ({one.why})' if one.why else ''}"


def _is_rule(item: yaml.Node) -> bool:
    """Whether an entry is about every such weekday of the year, and so has no date."""
    names: Collection[str] = (
        {key.value for key, _ in item.value} if isinstance(item, yaml.MappingNode) else ()
    )
    return "every" in names and "from" not in names and "to" not in names


def _is_of_one_language(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode)


def _date(text: str) -> date | None:
    try:
        return parse_date(text)
    except UnreadableError:
        return None


def several(number: int, one: str, more: str) -> str:
    """Count something in words: `1 closure`, `2 closures`."""
    return f"{number} {one if number == 1 else more}"


def counted(days: Sequence[ProposedDays], one: str, more: str) -> str:
    """Count proposed entries in words."""
    return several(len(days), one, more)
