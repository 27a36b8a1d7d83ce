"""The snippets of `handbook explain`, put where they belong in a small whole folder and checked.

A snippet shows only what matters. Its top fields lead to their places by HOMES; where a field
has several, or a list stands alone, `at` tells the place. Entries with an id (or, of meetings,
an ensemble) change the one that is there; other lists stand in place of what is there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from handbook.pipeline import load_problems
from handbook.problems import Severity
from tests.content_folders import base_files, write_folder

PROGRAM, YEAR, FUNDAMENTALS = "program.yaml", "years/2026-27.yaml", "fundamentals.yaml"
CYCLE, MUSIC, CONCERT = (f"cycles/winter/{name}.yaml" for name in ("cycle", "music", "concert"))
PAGE, EVENTS = "pages/attendance.md", "events.yaml"
LOG = "cycles/winter/log/2026-11-02.yaml"

Step = str | int
Home = tuple[Step, ...]

LANTERN: Home = (PROGRAM, "ensembles", "lantern")
PIECE: Home = (MUSIC, "pieces", "button-comets")
PASSAGE: Home = (*PIECE, "passages", "opening")
STRAND: Home = (FUNDAMENTALS, "strands", "tone")
EXERCISE: Home = (*STRAND, "exercises", "long-tones")
TRAVEL: Home = (CONCERT, "travel")

HOMES: Mapping[str, Home] = {
    **dict.fromkeys(
        (
            "contact",
            "counting",
            "staff",
            "languages",
            "rooms",
            "time_zone",
            "address",
            "words",
            "host_files",
            "pages",
            "look",
        ),
        (PROGRAM,),
    ),
    **dict.fromkeys(("instruments", "groups", "starts_at", "shares_players_with"), LANTERN),
    "email": (PROGRAM, "contact"),
    "emblem": (PROGRAM, "look"),
    "id": (PROGRAM, "rooms", "dock"),
    "room": LANTERN,
    "stock": (PROGRAM, "venues", "hall"),
    **dict.fromkeys(
        (
            "altered",
            "bells",
            "closures",
            "day_labels",
            "first_day",
            "last_day",
            "make_up",
            "meetings",
            "resume",
            "school_days",
        ),
        (YEAR,),
    ),
    "events": (EVENTS,),
    **dict.fromkeys(("not_done", "reached"), (LOG,)),
    "weekdays": (YEAR, "meetings", "lantern"),
    **dict.fromkeys(
        (
            "cancelled",
            "days",
            "draft",
            "ends",
            "ensembles",
            "extra",
            "marks",
            "name",
            "return_within",
            "slots",
            "stages",
            "starts",
            "year",
        ),
        (CYCLE,),
    ),
    "tempo": (CYCLE, "stages", "build"),
    "sections": (CYCLE, "days", 0),
    "pieces": (MUSIC,),
    **dict.fromkeys(
        (
            "form",
            "key",
            "passages",
            "percussion",
            "rhythms",
            "scale_form",
            "terms",
            "watch",
            "recording",
        ),
        PIECE,
    ),
    **dict.fromkeys(("goal", "lock_by", "measures", "priority", "start", "who"), PASSAGE),
    "meter": (*PIECE, "form", 0),
    **dict.fromkeys(("exercises",), STRAND),
    **dict.fromkeys(("media", "notes", "rudiment", "sticking"), EXERCISE),
    "pattern": (*PIECE, "rhythms", 0),
    "text": (*PIECE, "watch", 0),
    **dict.fromkeys(("order", "strands", "habits", "warm_ups"), (FUNDAMENTALS,)),
    **dict.fromkeys(
        (
            "after",
            "before",
            "guests",
            "rain",
            "allowances",
            "attire",
            "attire_for",
            "calls",
            "carriers",
            "closes",
            "crew",
            "date",
            "doors",
            "downbeat",
            "moved_from",
            "equipment",
            "evening_ends",
            "not_playing",
            "on_the_day",
            "pick_up",
            "program",
            "venue",
        ),
        (CONCERT,),
    ),
    "call": (CONCERT, "calls", 0),
    "rides": TRAVEL,
    "weight": (CONCERT, "equipment", "timpani"),
    "reach": (CONCERT, "care", "lifts", 0, "start"),
    "lifts": (CONCERT, "care"),
    "level": (CONCERT, "care", "sound", 0),
}

# What the snippets take for granted, besides the shared whole folder.
BASE_MORE = """
program.yaml:
  rooms:
    - {id: band-room, name: Band room}
    - {id: choir-room, name: Choir room}
    - {id: stage, name: Stage}
    - {id: dock, name: Dock}
years/2026-27.yaml:
  bells:
    - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}, {id: p4, start: 10:55, end: 11:40}]}
    - {id: early-release, periods: [{id: p3, start: 09:05, end: 09:35}, {id: p4, start: 09:40, end: 10:10}]}
fundamentals.yaml:
  order: [breathing, tone]
  strands:
    - id: breathing
      name: Breathing
      why: It carries the sound
      exercises: [{id: long-hiss, name: Long hiss, level: 1}]
    - id: tone
      name: Tone
      why: It is what people hear
      exercises: [{id: long-tones, name: Long tones, level: 1}, {id: swells, name: Swells, level: 2}]
  habits: [{id: posture, name: Posture, text: Sit tall}]
"""


@dataclass(frozen=True)
class Place:
    """Where a snippet is put: of some fields, of the whole, and what else must be there first.

    `given` is laid over the base for both snippets; `good` completes the good one, which need
    not say again what the bad one says. `without` names what is first taken from the base.
    `page` is what a page begins with whose text the snippet is, `named` the file (or, with a
    slash at its end, the folder) that is called as the snippet says, `files` lie beside
    (`bad_files` for the bad snippet). A snippet at `content/` lists all files that there are, one at
    `media/` or `pages/` some that are there besides.
    """

    at: Home = ()
    homes: Mapping[str, Home] = field(default_factory=dict)
    given: str = ""
    good: str = ""
    page: str = ""
    named: str = ""
    without: tuple[Home, ...] = ()
    files: Mapping[str, str | bytes] = field(default_factory=dict)
    bad_files: Mapping[str, str | bytes] = field(default_factory=dict)


@cache
def base() -> Mapping[str, Any]:
    """Give the data of the base by file."""
    files = {name: text for name, text in base_files().items() if name.endswith(".yaml")}
    found = {name: _read(text) for name, text in files.items()}
    whole: Mapping[str, Any] = _merged(found, _read(BASE_MORE))
    return whole


def told(snippet: str, place: Place, folder: Path, *, good: bool = False) -> dict[str, Severity]:
    """Lay a snippet over the base and give the codes of all problems with the gravest severity."""
    content = base()
    for home in place.without:
        content = _without(content, home)
    content = _merged(content, _read(place.given) or {})
    files = {PAGE: "# Attendance\n", **place.files, **({} if good else place.bad_files)}
    if place.at == (PAGE,):
        files[PAGE] = f"{place.page}{snippet}\n"
    elif place.at == ("content/",):
        content = {name: data for name, data in content.items() if name in snippet}
        files.clear()
    elif place.at == ("pages/",):
        files |= dict.fromkeys(snippet.split(), "# A page\n")
    elif place.at == ("media/",):
        files |= dict.fromkeys(snippet.split(), b"")
    elif place.named:
        name = snippet if place.named[-1] != "/" else snippet.rpartition("/")[0] + "/"
        content = {old.replace(place.named, name): data for old, data in content.items()}
    else:
        for home, value in _parts(_read(snippet), place):
            content = _merged(content, _nested(home, value))
    if good:
        content = _merged(content, _read(place.good) or {})
    texts = {name: yaml.safe_dump(data, sort_keys=False) for name, data in content.items()}
    write_folder(folder, {**files, **texts})
    problems = load_problems(folder).problems
    return {one.code: one.severity for one in problems}


def _parts(data: Any, place: Place) -> list[tuple[Home, Any]]:
    if place.at:
        return [(place.at, data)]
    homes = {**HOMES, **place.homes}
    return [((*homes[name], name), value) for name, value in data.items()]


def _read(text: str) -> Any:
    return yaml.load(text, Loader=yaml.BaseLoader)


def _nested(home: Home, value: Any) -> Any:
    """Wrap a value in the steps that lead to it; a step into a list is an id or a place."""
    for step in reversed(home):
        value = {step: value}
    return value


def _without(data: Any, home: Home) -> Any:
    """Leave out what stands at a home."""
    step, rest = home[0], home[1:]
    if isinstance(data, list):
        kept = [one for one in data if rest or _name(one) != step]
        return [_without(one, rest) if _name(one) == step else one for one in kept]
    if rest:
        return {**data, step: _without(data[step], rest)}
    return {name: value for name, value in data.items() if name != step}


def _merged(old: Any, new: Any) -> Any:
    """Lay new data over old."""
    if isinstance(old, dict) and isinstance(new, dict):
        return {**old, **{name: _merged(old.get(name), value) for name, value in new.items()}}
    if isinstance(old, list) and isinstance(new, dict):
        return _into_list(old, new)
    if isinstance(old, list) and isinstance(new, list) and new and _named(old + new):
        names: list[Step] = [str(_name(entry)) for entry in new]
        told_twice = len(set(names)) < len(names)
        return new if told_twice else _into_list(old, dict(zip(names, new, strict=True)))
    return new


def _into_list(old: list[Any], new: dict[Step, Any]) -> list[Any]:
    found = list(old)
    names = [_name(entry) for entry in old]
    for name, value in new.items():
        if isinstance(name, int):
            found[name] = _merged(found[name], value)
        elif name in names:
            found[names.index(name)] = _merged(found[names.index(name)], value)
        else:
            found.append(value)
    return found


def _named(entries: list[Any]) -> bool:
    """Whether each entry has an id of its own, or an ensemble as meetings have, each once."""
    return None not in [_name(entry) for entry in entries]


def _name(entry: Any) -> str | None:
    if not isinstance(entry, dict) or "date" in entry or "pieces" in entry or "room" in entry:
        return entry.get("id") if isinstance(entry, dict) else None
    return entry.get("id") or entry.get("ensemble")
