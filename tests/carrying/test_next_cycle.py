"""`handbook next cycle`: what is the same each time is there, no date and no piece of last time is."""

from __future__ import annotations

import json
import os
import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from handbook.carrying import concert, cycle
from handbook.carrying.dates import as_long
from handbook.domain.dated_texts import names_a_day
from handbook.pipeline import has_errors, load_plan, load_problems, render
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cycle
from handbook.schema.year import Year
from handbook.source.yaml_reader import read_yaml
from tests.carrying.conftest import TypeIn, all_files
from tests.content_folders import base_files, changed, write_folder
from tests.demo import DEMO

CYCLE, CONCERT = "cycles/winter/cycle.yaml", "cycles/winter/concert.yaml"
# The week after the concert of Thursday, December 10, 2026 begins on Monday, the 14th, on which
# lantern meets; from Monday, October 19 to that concert are 52 days (calendar, by hand).
STARTS, ENDS = "Mon 2026-12-14", "Thu 2027-02-04"


def data_of(path: Path) -> dict[str, object]:
    data = read_yaml(path.name, path.read_bytes()).data
    assert isinstance(data, dict)
    return dict(data)


@pytest.fixture
def content(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "content", base_files())


def test_the_cycle_carries_what_is_the_same_each_time(type_in: TypeIn, content: Path) -> None:
    ended = type_in("next", "cycle", "content")
    assert ended.code == 0
    new, old = data_of(content / "cycles/winter-2027/cycle.yaml"), data_of(content / CYCLE)
    assert new == old | {"name": "Winter cycle", "draft": "yes", "starts": STARTS}
    told = load_problems(content).problems
    # It checks: the one thing that a draft lacks is told, and stops nothing.
    # No fundamentals either, so that nothing fills its rehearsals yet.
    assert {one.code for one in told} == {"empty-list", "nothing-to-rehearse"}
    assert not has_errors(told)
    assert load_plan(content).plan is not None


def test_the_concert_is_a_skeleton(type_in: TypeIn, content: Path) -> None:
    assert type_in("next", "cycle", "content", "--id", "spring").code == 0
    assert data_of(content / "cycles/spring/concert.yaml") == {
        "name": "Winter concert",
        "date": ENDS,
        "downbeat": "7:00 pm",
        "venue": "hall",
        "program": [
            {"ensemble": "harbor", "pieces": []},
            {"ensemble": "lantern", "pieces": []},
        ],
    }


def test_pieces_listed_line_by_line_are_taken_out_too(type_in: TypeIn, tmp_path: Path) -> None:
    lines = "pieces:\n      # the opener\n      - tweed-kites\n    call: 6:15 pm\n"
    files = changed(base_files(), CONCERT, "pieces: [tweed-kites]\n", lines)
    content = write_folder(tmp_path / "content", files)
    assert type_in("next", "cycle", "content").code == 0
    program = data_of(content / "cycles/winter-2027/concert.yaml")["program"]
    assert isinstance(program, list)
    assert program[0] == {"ensemble": "harbor", "pieces": [], "call": "6:15 pm"}


@pytest.mark.parametrize("verb", ["cycle", "year"])
def test_a_file_in_braces_is_refused(type_in: TypeIn, tmp_path: Path, verb: str) -> None:
    files = base_files()
    for name in (CYCLE, "years/2026-27.yaml"):
        data = read_yaml(name, files[name].encode()).data
        files[name] = json.dumps(data)
    content = write_folder(tmp_path / "content", files)
    before = all_files(content)
    ended = type_in("next", verb)
    assert ended.code == 2
    assert "stands in one pair of braces" in ended.err
    assert all_files(content) == before


def test_what_is_filled_in_becomes_a_cycle_that_is_planned(type_in: TypeIn, content: Path) -> None:
    """The way a director goes on: pieces, their places in the program, the draft line out."""
    assert type_in("next", "cycle", "content").code == 0
    new = content / "cycles/winter-2027"
    shutil.copy(content / "cycles/winter/music.yaml", new / "music.yaml")
    skeleton = (new / "concert.yaml").read_text()
    for piece in ("tweed-kites", "button-comets"):
        skeleton = skeleton.replace("pieces: []", f"pieces: [{piece}]", 1)
    (new / "concert.yaml").write_text(skeleton)
    text = (new / "cycle.yaml").read_text()
    (new / "cycle.yaml").write_text(text.replace("draft: yes\n", ""))
    outcome = load_plan(content)
    assert outcome.problems == ()
    assert outcome.plan is not None
    assert [one.id for one in outcome.plan.cycles] == ["winter", "winter-2027"]


def test_nothing_of_the_demos_days_comes_along(type_in: TypeIn, tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "content")
    before = all_files(tmp_path / "content")
    ended = type_in("next", "cycle")
    assert ended.code == 0
    after = all_files(tmp_path / "content")
    new = {name: after[name].decode() for name in after.keys() - before.keys()}
    assert new.keys() == {f"cycles/winter-2027/{one}.yaml" for one in ("cycle", "concert")}
    assert {name: after[name] for name in before} == before
    for text in new.values():
        dates = re.findall(r"\d{4}-\d{2}-\d{2}", text)
        assert len(dates) == 1  # the start, and the concert
        assert not names_a_day(text.replace(dates[0], ""))
        assert "private" not in text
    assert "11 single days" in ended.out
    assert "`attire_note` of the concert, since it names a day" in ended.out
    # As many lines as are told ask the director for something.
    asked = int(re.search(r"what the (\d+) lines with `TO DO` ask for", ended.out)[1])  # type: ignore[index]
    assert sum(text.count("# TO DO") for text in new.values()) == asked
    assert max(map(len, ended.out.splitlines())) <= 80


def test_dates_within_what_is_carried_are_taken_out(type_in: TypeIn, tmp_path: Path) -> None:
    files = base_files()
    files = changed(
        files, CYCLE, "    name: Polish\n", "    name: Polish\n    starts: 2026-11-30\n"
    )
    files[CYCLE] += "notes:\n  - Bring a pencil\n  - Folders are due on December 4\n"
    files[CYCLE] += "substitute:\n  during:\n    - Slowly\n    - Collect forms on December 4\n"
    files = changed(files, CYCLE, "      - Play each piece to its end", "      - Ready by Dec. 9")
    files[CYCLE] += "extra:\n  - {ensemble: harbor, date: 2026-11-03, start: 4 pm, end: 5 pm}\n"
    content = write_folder(tmp_path / "content", files)
    ended = type_in("next", "cycle")
    new = (content / "cycles/winter-2027/cycle.yaml").read_text()
    stages = data_of(content / "cycles/winter-2027/cycle.yaml")["stages"]
    assert isinstance(stages, list)
    assert "starts" not in stages[1]
    assert data_of(content / "cycles/winter-2027/cycle.yaml")["notes"] == ["Bring a pencil"]
    assert "# TO DO: this text names a day of the last cycle\n      - Ready by Dec. 9" in new
    assert (
        "    - Slowly\n    # TO DO: this text names a day of the last cycle\n    - Collect" in new
    )
    for said in ("the date on which a stage starts", "notes that name a day", "1 extra rehearsal"):
        assert f"  {said}\n" in ended.out


def test_a_cycle_without_a_concert_is_followed_by_one(type_in: TypeIn, tmp_path: Path) -> None:
    files = base_files()
    del files[CONCERT]
    files[CYCLE] += "ends: 2026-12-10\n"
    content = write_folder(tmp_path / "content", files)
    assert type_in("next", "cycle", "--starts", "Mon 2027-01-04").code == 0
    new = content / "cycles/winter-2027"
    assert [path.name for path in new.iterdir()] == ["cycle.yaml"]
    data = data_of(new / "cycle.yaml")
    # 52 days after January 4, 2027, a Monday, is February 25, a Thursday (by hand).
    assert (data["starts"], data["ends"]) == ("Mon 2027-01-04", "Thu 2027-02-25")
    told = load_problems(content).problems
    assert {one.code for one in told if one.file.startswith("cycles/winter-2027/")} == {
        "nothing-to-rehearse"  # until it has pieces
    }
    assert not has_errors(told)


def test_texts_of_the_concert_that_name_a_day_are_left_out_or_pointed_at(
    type_in: TypeIn, tmp_path: Path
) -> None:
    before = (
        "ensemble: harbor\n    before: [{what: remarks, minutes: 2, about: Awards of May 20}]\n"
    )
    files = changed(base_files(), CONCERT, "ensemble: harbor\n", before)
    files[CONCERT] += (
        "rain: {date: Fri 2026-12-11, decided: 2 pm}\nattire: [Black, Ask by 12/4/2026]\n"
    )
    content = write_folder(tmp_path / "content", files)
    ended = type_in("next", "cycle")
    assert ended.code == 0, ended.err
    text = (content / "cycles/winter-2027/concert.yaml").read_text()
    assert "# TO DO: this text names a day of the last cycle\n    before:" in text
    assert "2026" not in text
    for field in ("rain", "attire"):
        assert f"  `{field}` of the concert, since it names a day\n" in ended.out


def test_guests_are_asked_anew(type_in: TypeIn, tmp_path: Path) -> None:
    files = base_files()
    files = changed(
        files, CONCERT, "ensemble: harbor\n", "ensemble: harbor\n    joined_by: [choir]\n"
    )
    files[CONCERT] += (
        "  - {guest: choir, joined_by: [lantern], pieces: [button-comets]}\n"
        "guests:\n  - {id: choir, name: The choir, minutes: 5}\n"
    )
    content = write_folder(tmp_path / "content", files)
    ended = type_in("next", "cycle")
    assert ended.code == 0, ended.err
    program = data_of(content / "cycles/winter-2027/concert.yaml")["program"]
    assert isinstance(program, list)
    assert program == [{"ensemble": one, "pieces": []} for one in ("harbor", "lantern")]
    assert "  the guests\n" in ended.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--starts", "2026-12-10"], "the last cycle, winter, ends on Thu, Dec 10, 2026"),
        (["--starts", "Tue 2027-01-04"], "2027-01-04 is a Monday"),
        (["--starts", "1/4/2027"], "write 2027-01-04"),
        (["--starts", "2028-01-04"], "is in no school year of this folder"),
        (["--id", "Spring!"], "cannot be an id"),
        (["--id", "../out"], "cannot be an id"),
        (["--id", "winter"], "cycles/winter is there already"),
    ],
)
def test_what_cannot_be_meant_writes_nothing(
    type_in: TypeIn, content: Path, arguments: list[str], said: str
) -> None:
    before = all_files(content)
    ended = type_in("next", "cycle", "content", *arguments)
    assert (ended.code, ended.out) == (2, "")
    assert said in ended.err
    assert all_files(content) == before


@pytest.mark.parametrize(
    ("last_day", "code"),
    [
        ("Fri 2026-12-11", 2),
        # From December 14 on, 26 of the cycle's 52 days would be over on January 9.
        ("Fri 2027-01-08", 2),
        ("Mon 2027-01-11", 0),
    ],
)
def test_a_year_without_room_for_a_cycle_asks_for_the_next(
    type_in: TypeIn, tmp_path: Path, last_day: str, code: int
) -> None:
    files = changed(base_files(), "years/2026-27.yaml", "Fri 2027-06-04", last_day)
    content = write_folder(tmp_path / "content", files)
    ended = type_in("next", "cycle")
    assert ended.code == code
    if code:
        assert "begin the next year with `handbook next year`" in ended.err
        assert type_in("next", "year").code == 0
        assert type_in("next", "cycle").code == 0
        # The first Monday of the next year: August 23, 2027, and 52 days after it.
        data = data_of(content / "cycles/fall/cycle.yaml")
        assert (data["year"], data["starts"]) == ("2027-28", "Mon 2027-08-23")
        assert data_of(content / "cycles/fall/concert.yaml")["date"] == "Thu 2027-10-14"


def test_a_cycle_may_be_like_another_one_than_the_last(type_in: TypeIn, tmp_path: Path) -> None:
    files = base_files()
    later = {name.replace("/winter/", "/spring/"): text for name, text in files.items()}
    later[CYCLE.replace("winter", "spring")] = files[CYCLE].replace(
        "starts: Mon 2026-10-19", "starts: Mon 2027-01-11\nmarks: exact"
    )
    concert_file = CONCERT.replace("winter", "spring")
    later[concert_file] = files[CONCERT].replace("Thu 2026-12-10", "Thu 2027-03-04")
    content = write_folder(tmp_path / "content", {**files, **later})
    assert type_in("next", "cycle", "--id", "one").code == 0
    assert data_of(content / "cycles/one/cycle.yaml")["marks"] == "exact"
    shutil.rmtree(content / "cycles/one")
    assert type_in("next", "cycle", "--id", "two", "--like", "winter").code == 0
    data = data_of(content / "cycles/two/cycle.yaml")
    assert "marks" not in data
    assert data["starts"] == "Mon 2027-03-08"  # after the spring cycle, which ends on the 4th
    ended = type_in("next", "cycle", "--like", "summer")
    assert ended.code == 2
    assert "there is no cycle summer: there are spring, two, winter" in ended.err


def test_what_is_begun_changes_nothing_of_the_site(type_in: TypeIn, content: Path) -> None:
    before = load_plan(content).plan
    assert type_in("next", "cycle", "content").code == 0
    assert type_in("next", "year", "content").code == 0
    after = load_plan(content).plan
    assert before is not None
    assert after is not None
    assert render(after) == render(before)


def test_content_with_an_error_is_told_and_nothing_is_written(
    type_in: TypeIn, content: Path
) -> None:
    path = content / CYCLE
    path.write_text(path.read_text().replace("starts: Mon", "starts: Tue"))
    before = all_files(content)
    ended = type_in("next", "cycle", "content")
    assert ended.code == 1
    assert "2026-10-19 is a Monday" in ended.err
    assert "Nothing was written" in ended.err
    assert all_files(content) == before


def test_an_empty_folder_of_that_name_is_left_alone(type_in: TypeIn, content: Path) -> None:
    (content / "cycles" / "spring").mkdir()
    ended = type_in("next", "cycle", "content", "--id", "spring")
    assert ended.code == 2
    assert "is there already" in ended.err
    assert list((content / "cycles" / "spring").iterdir()) == []


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="permissions bind nobody here")
def test_a_folder_that_may_not_be_written_is_told(type_in: TypeIn, content: Path) -> None:
    (content / "cycles").chmod(0o555)
    try:
        ended = type_in("next", "cycle", "content")
    finally:
        (content / "cycles").chmod(0o755)
    assert ended.code == 2
    assert "cannot be written" in ended.err


def test_each_field_is_carried_or_not_by_decision() -> None:
    """A new field must be put among one or the other, or be written anew."""
    anew = {"name", "year", "draft", "starts", "ends", "held_until"}
    assert set(Cycle.model_fields) == cycle.CARRIED | cycle.LEFT_OUT.keys() | anew
    fields = {one.alias or name for name, one in Concert.model_fields.items()}
    assert fields >= concert.CARRIED
    assert fields - concert.CARRIED - concert.LEFT_OUT.keys() <= {
        *("name", "date"),
        *("moved_from", "cancelled", "told"),
    }


YEAR = Year.model_validate(
    {
        "first_day": "2026-08-24",
        "last_day": "2027-06-04",
        "closures": [{"name": "Break", "from": "2026-12-21", "to": "2027-01-01"}],
        "meetings": [
            {"ensemble": "lantern", "weekdays": ["Mon"], "start": "9:00 am", "end": "9:45 am"}
        ],
    }
)


@pytest.mark.parametrize(
    ("starts", "proposed"),
    [
        # Seven weeks and three days, from a Monday to a Thursday, counted on a calendar.
        (date(2026, 9, 14), date(2026, 11, 5)),
        (date(2026, 9, 15), date(2026, 11, 5)),  # from a Tuesday: the Thursday that is nearest
        (date(2026, 11, 2), date(2027, 1, 7)),  # December 24 and 31 are in the break
        (date(2027, 4, 26), date(2027, 6, 3)),  # June 17 is after the last day
    ],
)
def test_the_guess_at_the_concert_is_a_day_of_the_year(starts: date, proposed: date) -> None:
    assert as_long(starts, date(2026, 10, 5), date(2026, 11, 26), YEAR) == proposed


@pytest.mark.parametrize(
    ("text", "dated"),
    [
        ("Write to the office by December 4.", True),
        ("Escriban antes del 4 de diciembre.", True),
        ("due 12/4/2026", True),
        ("by the 3rd of Sept", True),
        ("we may 5 times play measures 41-56", False),
        ("4/4 at quarter = 96, 7:00 pm", False),
        ("the march of the second band", False),
        ("Marching 8 to 5", False),
    ],
)
def test_days_in_texts(text: str, dated: bool) -> None:
    assert names_a_day(text) is dated
