"""What the models refuse, told in the words of the trade.

Pydantic says only which kind of refusal it is and where; the sentences are in this table.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from pydantic import ValidationError

from handbook.domain.values.dates import weekdays_in
from handbook.problems import MOST_OF_A_KIND, Address, Code, Fix, Problem, Severity
from handbook.records import dataclass
from handbook.schema.base import Item
from handbook.schema.entries import ENTRY_NAMES, entry_inside, field_descriptions, holds_names
from handbook.schema.scalars.codes import (
    MISSING_VALUE,
    TEXT_WANTED,
    UNREADABLE_VALUE,
    UNREADABLE_WEEKDAY,
)
from handbook.source.names import listed, nearest, surely_meant
from handbook.source.nodes import ODD_FIELD_NAME, PRIVATE, TOO_MANY_ENTRIES
from handbook.source.quoting import in_quotes
from handbook.source.yaml_reader import YamlFile

MISSING_FIELD = Code(
    "missing-field",
    "An entry lacks a field that it needs.",
    bad="rooms:\n  - id: band-room",
    good="rooms:\n  - id: band-room\n    name: Band room",
)
UNKNOWN_FIELD = Code(
    "unknown-field",
    "An entry has a field that nobody knows.",
    "It would be passed over without a word. Notes to yourself may stand under `private:` in any entry.",
    bad="passages:\n  - {id: opening, gaol: quarter = 96}",
    good="passages:\n  - {id: opening, goal: quarter = 96}",
)
LIST_WANTED = Code(
    "list-wanted",
    "A single thing stands where a list is wanted.",
    "A list may have one item, but it needs its brackets or its hyphen.",
    bad="weekdays: Mon",
    good="weekdays: [Mon]",
)
ENTRY_WANTED = Code(
    "entry-wanted",
    "A text or a list stands where an entry with fields of its own is wanted.",
    bad="contact: the band office",
    good="contact:\n  role: the band office",
)
EMPTY_LIST = Code(
    "empty-list",
    "A list is empty that needs at least one item.",
    bad="stages: []",
    good="stages:\n  - id: build",
)
UNKNOWN_CHOICE = Code(
    "unknown-choice",
    "A value is not one of the few that the field knows.",
    bad="resume: later",
    good="resume: next",
)

_BULLETS = "•‣▪◦●"  # which stand in no sentence, as a dash or a star may
_OF_WEEKDAYS = frozenset({"weekdays", "every", "school_days"})
_BULLET = re.compile(r"([•‣▪◦·●*–—])\s*\S")
_BETWEEN = re.compile(r"\s*[,;/&+]\s*")
_AND = re.compile(r"\s*(?:[,;/&+]|\band\b)\s*")
_WORD = re.compile(r"[^\s\[\]{}:#]+")
_NAME = re.compile(r"[\w-]+")
_FEW_WORDS = re.compile(rf"{_WORD.pattern}(?: {_WORD.pattern}){{0,2}}")
_MOST_LISTED = 16
_MOST_EXAMPLES = 3


@dataclass(frozen=True, slots=True)
class Refusal:
    """One refusal: the steps to the value, the value, and the entry that the value is in.

    `field` is the name of the nearest field on the way; `named` is set where the name of
    a field is refused and not its value, and `beside` are then the names in the same entry.
    """

    kind: str
    steps: tuple[str | int, ...]
    value: Any
    entry: type[Item]
    field: str
    context: dict[str, Any]
    named: bool = False
    beside: frozenset[str] = frozenset()

    @property
    def inside(self) -> type[Item] | None:
        """The entry that is wanted as the value, if one is."""
        return entry_inside(self.entry, self.field) if self.field else self.entry

    @property
    def wish(self) -> str:
        """What the field is, as its model describes it."""
        described = field_descriptions(self.entry).get(self.field, "")
        return f"what belongs here: {_small(described)}" if described else ""


def refusals(file: YamlFile, model: type[Item], error: ValidationError) -> tuple[Problem, ...]:
    """Tell all that a model refused in a file, one problem a cause.

    A misspelt field is not told again as a missing one, several fields missing from one
    entry are told together, and a place where the reader saw a slip gets its words. Of one
    kind no more are put into words than anyone reads.
    """
    kinds: Counter[str] = Counter()
    found: list[Refusal] = []
    for row in error.errors(include_url=False):
        kinds[row["type"]] += 1
        if kinds[row["type"]] <= MOST_OF_A_KIND:
            found.append(_refusal(file.data, model, row))
    missing = _missing_by_entry(found)
    problems: dict[Address, Problem] = {}
    for refusal in found:
        if refusal.kind == "missing" or (refusal.kind == "too_short" and refusal.value):
            continue  # told with its entry; too short only because its items are refused
        problem = _TELL.get(refusal.kind, _other)(refusal)
        if refusal.kind == "extra_forbidden":
            problem = _misspelling(refusal, problem, missing)
        address = (file.file, *problem.address)
        problems.setdefault(address, replace(problem, address=address))
    lacking = tuple(
        _missing(file.file, refusal, names) for refusal, names in missing.values() if names
    )
    untold = sum(max(0, count - MOST_OF_A_KIND) for count in kinds.values())
    return _counted(_with_slips(file, (*problems.values(), *lacking)), untold)


def refused_places(
    data: object, model: type[Item], error: ValidationError
) -> Iterator[tuple[str | int, ...]]:
    """Give where each refused value stands, and each entry that lacks a field."""
    for row in error.errors(include_url=False):
        refusal = _refusal(data, model, row)
        yield refusal.steps[:-1] if refusal.kind == "missing" else refusal.steps


def _counted(problems: tuple[Problem, ...], untold: int) -> tuple[Problem, ...]:
    """Note in the last problem how many more there are."""
    return (*problems[:-1], replace(problems[-1], more=untold)) if problems else ()


def _refusal(data: object, model: type[Item], row: Any) -> Refusal:
    """Follow an error's location through the data, leaving out what pydantic put in."""
    node: Any = data
    entry, field, named, keyed = model, "", False, False
    beside: frozenset[str] = frozenset()
    steps: list[str | int] = []
    for n, step in enumerate(row["loc"]):
        inside = step in node if isinstance(node, dict) else _in_list(node, step)
        if inside:
            beside = frozenset(node) if isinstance(node, dict) else frozenset()
            node = node[step]
            steps.append(step)
            if isinstance(step, str) and field and not keyed and holds_names(entry, field):
                keyed = True  # a name of the author's own, such as that of a section
            elif isinstance(step, str):
                deeper = entry_inside(entry, field) if field else None
                entry = deeper or entry
                field, keyed = (step if deeper or not field else field), False
        elif step == "[key]":
            named = True
        elif row["type"] == "missing" and n == len(row["loc"]) - 1:
            steps.append(step)
            if field:
                entry, field = entry_inside(entry, field) or entry, ""
    kind, context = row["type"], row.get("ctx", {})
    return Refusal(kind, tuple(steps), node, entry, field, context, named, beside)


def _in_list(node: object, step: object) -> bool:
    return isinstance(node, list) and isinstance(step, int) and step < len(node)


Missing = dict[tuple[str | int, ...], tuple[Refusal, list[str]]]


def _missing_by_entry(found: Iterable[Refusal]) -> Missing:
    missing: Missing = {}
    for refusal in found:
        if refusal.kind == "missing":
            names = missing.setdefault(refusal.steps[:-1], (refusal, []))[1]
            names.append(str(refusal.steps[-1]))
    return missing


def _misspelling(refusal: Refusal, problem: Problem, missing: Missing) -> Problem:
    """Take a misspelt field off the list of those missing from its entry."""
    _, lacking = missing.get(refusal.steps[:-1], (refusal, []))
    name = str(refusal.steps[-1])
    meant = next(iter(nearest(name, lacking, most=1)), None)
    if meant is None:
        return problem
    lacking.remove(meant)
    hint = _meant_hint(meant, refusal.entry)
    return replace(problem, hint=hint, fix=_renamed(refusal, [*field_descriptions(refusal.entry)]))


def _missing(file: str, refusal: Refusal, names: Sequence[str]) -> Problem:
    described = field_descriptions(refusal.entry)
    lines = [f"`{name}:` ({_small(described[name])})" for name in names]
    return Problem(
        MISSING_FIELD,
        f"{ENTRY_NAMES[refusal.entry]} needs {listed(names)}, and here {_is_are(names)} missing",
        (file, *refusal.steps[:-1]),
        f"add {_joined(lines)}",
        on_key=True,
    )


def _unknown_field(refusal: Refusal) -> Problem:
    name = str(refusal.steps[-1])
    known = field_descriptions(refusal.entry)
    meant = next(iter(nearest(name, [*known, PRIVATE], most=1)), None)
    hint = (
        _meant_hint(meant, refusal.entry) if meant else f"its fields are {_fields(refusal.entry)}"
    )
    return Problem(
        UNKNOWN_FIELD,
        f"{ENTRY_NAMES[refusal.entry]} has no field {listed([name])}",
        refusal.steps,
        hint,
        on_key=True,
        fix=_renamed(refusal, [*known, PRIVATE]),
    )


def _renamed(refusal: Refusal, known: Sequence[str]) -> Fix | None:
    """Mend a field's name that is a known one but for one slip, unless that field is there too."""
    meant = surely_meant(str(refusal.steps[-1]), known)
    return Fix(word=meant) if meant and meant not in refusal.beside else None


def _meant_hint(meant: str, entry: type[Item]) -> str:
    return f"did you mean `{meant}`? the fields here are {_fields(entry)}"


def _unreadable(refusal: Refusal) -> Problem:
    context = refusal.context
    suggestions = context["suggestions"]
    hint = f"write {listed(suggestions, 'or')}" if suggestions else refusal.wish
    if context["code"] == TEXT_WANTED:
        hint = _text_hint(refusal.value)
    steps = (*refusal.steps, *context["inside"])
    on_key = refusal.named or bool(context["inside"])
    fix = _written_anew(context) if context["sure"] else None
    return Problem(context["code"], context["sentence"], steps, hint, on_key=on_key, fix=fix)


def _written_anew(context: dict[str, Any]) -> Fix:
    first: str = context["suggestions"][0]
    if context["code"] == UNREADABLE_WEEKDAY and (days := weekdays_in(first)):
        return Fix(items=days)
    return Fix(word=first)


def _text_hint(value: object) -> str:
    if isinstance(value, list):
        return "write one text after the colon, without brackets and hyphens"
    return "write it after the colon, on the same line"


def _list_wanted(refusal: Refusal) -> Problem:
    value = refusal.value
    if value is None:
        return _nothing(refusal, "a list is missing here")
    if isinstance(value, str):
        hint, items = _as_list(refusal.field, value)
        fix = Fix(items=items) if items else None
        sentence = "a list is wanted here, not a single text"
        return Problem(LIST_WANTED, sentence, refusal.steps, hint, fix=fix)
    return Problem(
        LIST_WANTED,
        "a list is wanted here, not a single entry",
        refusal.steps,
        "put `- ` in front of its first field and two spaces in front of the others",
        on_key=True,
    )


def _as_list(field: str, value: str) -> tuple[str, tuple[str, ...]]:
    """Say how a text is written as the list that it surely is; and its items, if they are sure too."""
    if bullet := _BULLET.match(value):
        texts = value.split(bullet[1]) if bullet[1] in _BULLETS else [value[1:]]
        items = tuple(text.strip() for text in texts if text.strip())
        hint = f"begin each item with `- `, a hyphen and a space, in place of `{bullet[1]}`"
        return hint, items
    parts = weekdays_in(value) if field in _OF_WEEKDAYS else ()
    parts = parts or tuple(_BETWEEN.split(value))
    words = tuple(_AND.split(value))
    if all(_WORD.fullmatch(word) for word in words):
        parts = parts if len(parts) > 1 else words
    below = f"put {'each' if len(parts) > 1 else 'it'} on a line of its own after `- `"
    sure = all(map(_NAME.fullmatch, parts)) or len(_AND.split(value)) == 1
    if all(_FEW_WORDS.fullmatch(part) for part in parts):
        return f"write `{field}: [{', '.join(parts)}]`, or {below}", parts if sure else ()
    return below, parts if sure else ()


def _entry_wanted(refusal: Refusal) -> Problem:
    entry = refusal.inside
    name = ENTRY_NAMES[entry] if entry else "a name with its value"
    if refusal.value is None:
        return _nothing(refusal, f"{name} is missing here")
    is_list = isinstance(refusal.value, list)
    found = "a list stands here" if is_list else "a single text stands here"
    way = "without hyphens" if is_list else "below, one a line and indented by two spaces"
    sentence = f"{name} has fields of its own" if entry else "names with their values are wanted"
    hint = f"write them {way}, such as {_examples(entry)}" if entry else refusal.wish
    return Problem(
        ENTRY_WANTED,
        f"{sentence}, but {found}",
        refusal.steps,
        hint,
        on_key=not refusal.steps,
    )


def _nothing(refusal: Refusal, sentence: str) -> Problem:
    hint = refusal.wish or "write its fields below, or take it out"
    return Problem(MISSING_VALUE, sentence, refusal.steps, hint, on_key=True)


def _empty_list(refusal: Refusal) -> Problem:
    return Problem(
        EMPTY_LIST,
        "this list is empty, and at least one item is wanted",
        refusal.steps,
        refusal.wish,
        on_key=True,
    )


def _too_many(refusal: Refusal) -> Problem:
    found, most = refusal.context["actual_length"], refusal.context["max_length"]
    return Problem(
        TOO_MANY_ENTRIES,
        f"this list has {found:,} parts, and {most:,} are the most",
        refusal.steps,
        refusal.wish,
        on_key=True,
    )


def _unknown_choice(refusal: Refusal) -> Problem:
    choices = re.findall("'([^']*)'", str(refusal.context.get("expected", "")))
    value = refusal.value if isinstance(refusal.value, str) else ""
    said = f"`{value}`" if value else "this"
    near = nearest(value, choices, most=1) or choices
    return Problem(
        UNKNOWN_CHOICE,
        f"{said} is not one of the choices {listed(choices, 'and')}",
        refusal.steps,
        f"write {listed(near, 'or')}",
        fix=Fix(word=meant) if (meant := surely_meant(value, choices)) else None,
    )


def _other(refusal: Refusal) -> Problem:
    written = in_quotes(refusal.value) if isinstance(refusal.value, str) else "this"
    return Problem(UNREADABLE_VALUE, f"{written} cannot be read here", refusal.steps, refusal.wish)


_TELL: dict[str, Callable[[Refusal], Problem]] = {
    "extra_forbidden": _unknown_field,
    "unreadable": _unreadable,
    "tuple_type": _list_wanted,
    "model_type": _entry_wanted,
    "model_attributes_type": _entry_wanted,
    "dict_type": _entry_wanted,
    "too_short": _empty_list,
    "too_long": _too_many,
    "enum": _unknown_choice,
}


def _with_slips(file: YamlFile, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Let the reader's words stand where it saw why a value would be refused.

    What it refused itself is not told again: a value, or the odd name of a missing field.
    """
    doubts = {doubt.address: doubt for doubt in file.doubts}
    refused = {
        (told.address, told.code == ODD_FIELD_NAME)
        for told in file.problems
        if told.severity is Severity.ERROR
    }
    told = (
        replace(doubts[problem.address], severity=Severity.ERROR)
        if problem.address in doubts
        else problem
        for problem in problems
        if problem.address not in file.copies
        and (problem.address, problem.code == MISSING_FIELD) not in refused
    )
    return tuple(told)


def _fields(entry: type[Item]) -> str:
    names = list(field_descriptions(entry))
    return listed(names) if len(names) <= _MOST_LISTED else f"{listed(names[:_MOST_LISTED])} …"


def _examples(entry: type[Item]) -> str:
    required = [
        field.alias or name for name, field in entry.model_fields.items() if field.is_required()
    ]
    names = (required or list(field_descriptions(entry)))[:_MOST_EXAMPLES]
    return _joined([f"`{name}: …`" for name in names])


def _joined(parts: Sequence[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _is_are(names: Sequence[str]) -> str:
    return "it is" if len(names) == 1 else "they are"


def _small(description: str) -> str:
    """Put a description into a sentence: the first letter small, unless it begins a name."""
    return description[:1].lower() + description[1:]
