"""Nothing that is written is unread in silence: each field changes the site or the plan, or `check` says why not.

Each optional field of each model is taken out of the small rich folder in sites/two-bands
wherever it stands there, or put in where ADDED says, and what is made of the folder is
compared. The long run over all fields is of every week; some are tried in every run.
"""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from handbook.cli.plan_json import plan_text
from handbook.outputs.model import Site
from handbook.outputs.site import render_site
from handbook.pipeline import load_plan, load_problems
from handbook.schema.base import Item
from handbook.schema.entries import ENTRY_NAMES, entry_inside, holds_names
from handbook.schema.handbook import MODELS
from tests.fuzz.seeds import read_folder

FOLDER = Path(__file__).parent / "sites" / "two-bands" / "content"
Field = tuple[str, str]
Data = dict[str, Any]
Made = tuple[object, ...]

# Fields that change nothing by their nature, and why that is honest.
NEVER = {
    ("Period", "name"): "for the binder alone; tests/binder/test_year_sheet.py",
    (
        "Period",
        "class_time",
    ): "counts on the binder's sheet for the office; tests/plan/test_year_sheet.py",
    **{
        (model, name): "for the binder alone; tests/binder/test_sheets.py"
        for model, names in {
            "AskedRole": ("phone", "about"),
            "Cycle": ("substitute",),
            "Program": ("substitute",),
            "Substitute": ("before", "during", "time_left", "after", "never", "ask"),
        }.items()
        for name in names
    },
    ("Cycle", "draft"): "keeps the whole cycle out; tests/test_drafts.py",
}
# Values in two-bands that are what holds anyway, or that wait for another day, and why.
HERE = {
    ("Program", "counting"): "`numbers` is how rhythms are counted if nothing is said",
    ("Program", "tuning_note"): "Bb is the usual one",
    ("Year", "name"): "the name of its file is the same",
    ("Bells", "name"): "the altered day has the same name",
    ("Bells", "school_ends"): "no call of this folder is near the end of school",
    ("CarrierEntry", "weight"): "a limit that the load keeps",
    ("CarrierEntry", "pieces"): "a limit that the load keeps",
    ("Event", "venue"): "the room of the event is one of that venue's",
    ("Concert", "evening_ends"): "a limit that the evening keeps",
    ("Concert", "opens"): "a limit that the evening keeps",
    ("Concert", "closes"): "a limit that the evening keeps",
    ("GroupCall", "stays"): "every band of this concert stays",
    ("Cycle", "held_until"): "waits for the next rehearsal that is lost",
    ("Booking", "ensembles"): "its players are wanted nowhere else at that time",
    ("Concert", "changeover"): "so many minutes are usual",
    ("DayNote", "start"): "that day has no other rehearsal",
    ("Ensemble", "experience"): "intermediate is what holds if nothing is said",
    ("Exercise", "meter"): "4/4 is what holds if nothing is said",
    ("ExtraMeeting", "room"): "it is the band's own room",
    ("Fundamentals", "order"): "the strands stand in that order",
    ("Hands", "twist"): "counts in `handbook plan --care` alone, which is for staff",
    ("SchoolClosure", "resume"): "next is what holds if nothing is said",
    ("Slots", "warm_up"): "so many minutes are usual",
    ("Slots", "close"): "so many minutes are usual",
    ("Year", "resume"): "next is what holds if nothing is said",
    ("Year", "new_players"): "acts from the second year on",
}
# Fields that two-bands has nowhere: the file, the way to the entry, and a value.
ADDED: dict[Field, tuple[str, tuple[str | int, ...], Any]] = {
    ("Cycle", "at_goal"): ("cycles/winter/cycle.yaml", (), "3"),
    ("Cycle", "talk"): ("cycles/winter/cycle.yaml", (), "60"),
    ("Concert", "cancelled"): ("cycles/winter/concert.yaml", (), "Ice"),
    ("Concert", "moved_from"): ("cycles/winter/concert.yaml", (), "2026-12-08"),
    ("Concert", "told"): ("cycles/winter/concert.yaml", (), "2026-12-01"),
    ("Concert", "thanks"): (
        "cycles/winter/concert.yaml",
        (),
        ["The bakery on Quill Street gives the bread."],
    ),
    ("Concert", "on_the_day"): (
        "cycles/winter/concert.yaml",
        (),
        {"role": "The lead parent", "phone": "555-0142"},
    ),
    ("Concert", "goes_back"): ("cycles/winter/concert.yaml", (), "yes"),
    ("CrewRole", "adults"): ("cycles/winter/concert.yaml", ("crew", 0), "yes"),
    ("Gear", "stays"): ("cycles/winter/concert.yaml", ("equipment", 0), "yes"),
    ("Event", "on_the_day"): (
        "events.yaml",
        ("events", 0),
        {"role": "The lead parent", "phone": "555-0142"},
    ),
    ("EventDate", "on_the_day"): (
        "events.yaml",
        ("events", 0, "on", 1),
        {"role": "The lead parent", "phone": "555-0142"},
    ),
    ("Event", "moved_from"): ("events.yaml", ("events", 2), "2027-03-25"),
    ("EventDate", "moved_from"): ("events.yaml", ("events", 0, "on", 1), "2027-01-15"),
    ("ExtraMeeting", "instead_of"): ("cycles/winter/cycle.yaml", ("extra", 1), "2026-12-07"),
    ("ExtraMeeting", "make_up_for"): ("cycles/winter/cycle.yaml", ("extra", 1), "2026-11-23"),
    ("DayNote", "start"): ("cycles/winter/cycle.yaml", ("days", 0), "10:05"),
    ("DaySlots", "warm_up"): ("cycles/winter/cycle.yaml", ("days", 3, "slots"), "9"),
    ("DaySlots", "notices"): ("cycles/winter/cycle.yaml", ("days", 3, "slots"), "4"),
    ("DaySlots", "close"): ("cycles/winter/cycle.yaml", ("days", 3, "slots"), "5"),
    ("ExtraMeeting", "thanks"): ("cycles/winter/cycle.yaml", ("extra", 1), "Thank you all."),
    ("DayNote", "thanks_to"): ("cycles/winter/cycle.yaml", ("days", 0), ["flute"]),
    ("ExtraMeeting", "thanks_to"): ("cycles/winter/cycle.yaml", ("extra", 1), "horn"),
    ("Log", "thanked"): ("cycles/fall/log/2026-09-23.yaml", (), "horn"),
    ("Program", "thank"): ("program.yaml", (), [{"id": "crew", "name": "the stage crew"}]),
    ("ExtraMeeting", "notices"): ("cycles/winter/cycle.yaml", ("extra", 1), ["Bring a mute."]),
    ("ExtraMeeting", "habit"): ("cycles/winter/cycle.yaml", ("extra", 1), "pencil"),
    ("ExtraMeeting", "slots"): ("cycles/winter/cycle.yaml", ("extra", 1), {"set_up": "9"}),
    ("ExtraMeeting", "fundamentals"): ("cycles/winter/cycle.yaml", ("extra", 1), "6"),
    ("Exercise", "who"): ("fundamentals.yaml", ("strands", 1, "exercises", 0), ["flute"]),
    ("Material", "media"): (
        "cycles/winter/cycle.yaml",
        ("days", 0, "materials", 1),
        "drone.wav",
    ),
    ("LaterEntry", "place"): ("cycles/winter/concert.yaml", ("after", 0), "By the river"),
    ("Part", "tempo_model"): ("cycles/winter/music.yaml", ("pieces", 0, "form", 1), "linear"),
    ("Program", "fingerings"): ("program.yaml", (), {"trumpet": {"C4": "1-3"}}),
    ("Program", "reads_like"): ("program.yaml", (), {"ocarina": "flute"}),
    ("Ride", "leaves"): ("cycles/winter/concert.yaml", ("travel", "rides", 0), "5:20 pm"),
    ("Ride", "students"): ("cycles/winter/concert.yaml", ("travel", "rides", 0), "30"),
    ("RhythmLine", "meter"): ("cycles/winter/music.yaml", ("pieces", 0, "rhythms", 1), "3/4"),
    ("Year", "resume"): ("years/2026-27.yaml", (), "next"),
}


@cache
def whole() -> dict[str, Data]:
    files = read_folder(FOLDER)
    return {
        name: yaml.load(raw, Loader=yaml.BaseLoader)
        for name, raw in files.items()
        if name.endswith(".yaml")
    }


def model_of(file: str) -> type[Item]:
    top, _, rest = file.partition("/")
    leaf = "log" if "/log/" in rest else rest.rpartition("/")[2].removesuffix(".yaml")
    return MODELS["year" if top == "years" else leaf if top == "cycles" else Path(file).stem]


def fields(node: Any, model: type[Item], here: tuple[Any, ...] = ()) -> Iterator[tuple[Field, tuple[Any, ...]]]:  # fmt: skip
    """Give each field that is written in an entry and in those below it, with its place."""
    if isinstance(node, list):
        for n, one in enumerate(node):
            yield from fields(one, model, (*here, n))
        return
    for name, own in model.model_fields.items() if isinstance(node, dict) else ():
        written = own.alias or name
        if written not in node:
            continue
        yield (model.__name__, name), (*here, written)
        inside = entry_inside(model, written)
        values: dict[tuple[Any, ...], Any] = {(): node[written]}
        if inside and holds_names(model, written):
            values = {(key,): value for key, value in node[written].items()}
        if inside is not None:
            for key, value in values.items():
                yield from fields(value, inside, (*here, written, *key))


@cache
def places() -> dict[Field, list[tuple[str, tuple[Any, ...]]]]:
    found: dict[Field, list[tuple[str, tuple[Any, ...]]]] = {}
    for file, data in whole().items():
        for field, place in fields(data, model_of(file)):
            found.setdefault(field, []).append((file, place))
    return found


OPTIONAL = [
    (model.__name__, name)
    for model in ENTRY_NAMES
    for name, field in model.model_fields.items()
    if not field.is_required()
]
TRIED = [one for one in OPTIONAL if one in ADDED or one in places()]


def without(field: Field) -> dict[str, Data]:
    changed = copy.deepcopy(whole())
    for file, place in places()[field]:
        node: Any = changed[file]
        for step in place[:-1]:
            node = node[step]
        del node[place[-1]]
    return changed


def added(field: Field) -> dict[str, Data]:
    changed = copy.deepcopy(whole())
    file, place, value = ADDED[field]
    node: Any = changed[file]
    for step in place:
        node = node[step]
    written = next(
        one.alias or field[1]
        for model in ENTRY_NAMES
        if model.__name__ == field[0]
        for name, one in model.model_fields.items()
        if name == field[1]
    )
    node[written] = value
    return changed


def written_to(folder: Path, content: dict[str, Data]) -> Path:
    for name, raw in read_folder(FOLDER).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(raw)
    for name, data in content.items():
        text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def told(folder: Path) -> Made:
    problems = load_problems(folder).problems
    return tuple(sorted((one.code, one.message, one.hint) for one in problems))


def made(folder: Path) -> Made | None:
    plan = load_plan(folder).plan
    if plan is None:
        return None
    site: Site = render_site(plan)
    return plan_text(plan, plan.cycles), site.pages, site.files, site.media


@pytest.fixture(scope="module")
def as_it_is(tmp_path_factory: pytest.TempPathFactory) -> tuple[Made, Made | None]:
    folder = written_to(tmp_path_factory.mktemp("whole"), whole())
    return told(folder), made(folder)


def is_read(field: Field, folder: Path, as_it_is: tuple[Made, Made | None]) -> bool:
    written_to(folder, added(field) if field in ADDED else without(field))
    return told(folder) != as_it_is[0] or made(folder) != as_it_is[1]


def silent(field: Field) -> bool:
    return field in NEVER or field in HERE


@pytest.mark.parametrize("field", random.Random(3).sample(TRIED, 8), ids="-".join)
def test_a_field_is_read_or_its_uselessness_told(
    field: Field, tmp_path: Path, as_it_is: tuple[Made, Made | None]
) -> None:
    assert is_read(field, tmp_path, as_it_is) or silent(field)


@pytest.mark.weekly
@pytest.mark.parametrize("field", TRIED, ids="-".join)
def test_every_field_is_read_or_its_uselessness_told(
    field: Field, tmp_path: Path, as_it_is: tuple[Made, Made | None]
) -> None:
    assert is_read(field, tmp_path, as_it_is) or silent(field)


def test_the_exceptions_are_fields() -> None:
    assert {*NEVER, *HERE, *ADDED} <= set(OPTIONAL)
    assert len(TRIED) >= 250
