"""What the stand view knows, beside the plan that it is made of."""

from __future__ import annotations

import json
import re
from datetime import date
from itertools import accumulate
from pathlib import Path
from typing import Any, cast

import pytest

from handbook.binder.assemble import binder_files
from handbook.binder.model import Binder
from handbook.binder.stand import stand_page
from handbook.binder.stand_data import stand_data
from tests.binder.conftest import binder_of
from tests.binder.stand_content import stand_files
from tests.content_folders import changed, write_folder

_DATA = re.compile(r'<script type="application/json" id="stand-data">(.*?)</script>')


@pytest.fixture(scope="module")
def binder(tmp_path_factory: pytest.TempPathFactory) -> Binder:
    return binder_of(write_folder(tmp_path_factory.mktemp("stand") / "content", stand_files()))


@pytest.fixture(scope="module")
def page(binder: Binder) -> str:
    return next(
        one.content.decode() for one in binder_files(binder) if one.path == "winter/stand.html"
    )


@pytest.fixture(scope="module")
def data(page: str) -> dict[str, Any]:
    found = _DATA.search(page)
    assert found
    read: dict[str, Any] = json.loads(found[1])
    return read


def test_every_rehearsal_is_there_with_its_blocks_as_planned(
    binder: Binder, data: dict[str, Any]
) -> None:
    planned = sorted(
        (row.rehearsal.start.timestamp(), place, row)
        for place, ensemble in enumerate(binder.cycles[0].ensembles)
        for row in ensemble.rehearsals
    )
    assert len(planned) == len(data["rehearsals"])
    for (start, place, row), shown in zip(planned, data["rehearsals"], strict=True):
        assert (shown["at"], shown["band"]) == (start, place)
        assert shown["clock"] == row.rehearsal.start.hour * 60 + row.rehearsal.start.minute
        minutes = [block["minutes"] for block in shown["blocks"]]
        assert sum(minutes) == shown["minutes"] == row.rehearsal.minutes
        starts = [shown["at"] + 60 * before for before in accumulate([0, *minutes[:-1]])]
        assert starts == [block.start.timestamp() for block in row.blocks]


def test_passages_are_named_as_a_log_names_them(data: dict[str, Any]) -> None:
    assert [one["key"] for one in data["passages"]] == ["opening", "chase", "round"]
    opening = data["passages"][0]
    assert opening["goal"] == ["♩", "96", "quarter note"]
    assert "Breathe together" in opening["notes"]
    marks = opening["click"]["marks"]
    assert marks == sorted(marks)
    assert {96, 120} <= {*marks}  # as far as a log may be above a goal, a quarter of it


def test_of_two_passages_by_one_id_each_is_named_with_its_piece(tmp_path: Path) -> None:
    files = changed(
        stand_files(),
        "cycles/winter/concert.yaml",
        "[button-comets]",
        "[button-comets, puddle-boats]",
    )
    files["cycles/winter/music.yaml"] += _ANOTHER_PIECE
    made = binder_files(binder_of(write_folder(tmp_path / "content", files)))
    found = _DATA.search(
        next(one.content.decode() for one in made if one.path == "winter/stand.html")
    )
    assert found
    keys = [one["key"] for one in json.loads(found[1])["passages"] if one["key"] != "round"]
    assert keys == ["button-comets/opening", "chase", "puddle-boats/opening"]


_ANOTHER_PIECE = """  - id: puddle-boats
    title: Puddle Boat Waltz
    ensemble: lantern
    form: [{name: Whole, measures: 1-24, meter: 4/4, tempo: quarter = 80}]
    passages: [{id: opening, name: Opening, measures: 1-8, goal: quarter = 80}]
"""


def test_it_needs_nothing_but_itself(page: str) -> None:
    """A policy of `none` for whatever is not in the file (Content Security Policy Level 3, 6.1)."""
    assert "default-src 'none'" in page
    assert not re.search(
        r"""(?:src|href)=["'](?!data:)""", page.split("<script type=", maxsplit=1)[0]
    )
    assert "url(fonts/" not in page
    assert page.count("data:font/woff2;base64,") >= 3


_DAY = """days:
  - date: Wed 2026-10-21
    ensemble: lantern
    notices: [Bring **folders**]
    thanks: Thank you, trumpets
    materials: [{text: Rhythm sheets, where: second drawer}]
    private: Ask the office about the piano
"""
_LOG = """date: Wed 2026-10-21
ensemble: lantern
reached: [{passage: opening, tempo: quarter = 52}]
not_done: [chase]
"""


@pytest.fixture(scope="module")
def wednesday(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, Any], dict[str, Any]]:
    """The view of one day for which much is to be told, and lantern's rehearsal in it."""
    files = stand_files()
    files["cycles/winter/cycle.yaml"] += _DAY
    files["cycles/winter/log/2026-10-21.yaml"] = _LOG
    files = changed(
        files,
        "cycles/winter/music.yaml",
        "        watch:\n",
        "        private: Flutes alone first\n        watch:\n",
    )
    content = write_folder(tmp_path_factory.mktemp("day") / "content", files)
    binder = binder_of(content)
    with binder.context.speaking():
        page = stand_page(binder, binder.cycles[0], date(2026, 10, 21)).decode()
    found = _DATA.search(page)
    assert found
    data: dict[str, Any] = json.loads(found[1])
    return data, next(one for one in data["rehearsals"] if one["band"] == 0)


def test_one_day_alone_has_its_own_rehearsals(
    wednesday: tuple[dict[str, Any], dict[str, Any]],
) -> None:
    data, _ = wednesday
    assert [(one["day"], one["band"]) for one in data["rehearsals"]] == [
        ("2026-10-21", 0),
        ("2026-10-21", 1),
    ]


def test_what_belongs_to_the_day_stands_with_it(
    wednesday: tuple[dict[str, Any], dict[str, Any]],
) -> None:
    data, shown = wednesday
    assert shown["notices"][0] == "Bring <strong>folders</strong>"
    assert shown["thanks"]["sentence"] == "Thank you, trumpets"
    assert shown["thanks"]["ids"] == ["trumpets"]
    assert shown["needs"] == [{"text": "Rhythm sheets", "where": "second drawer"}]
    assert ["This day", "Ask the office about the piano"] in shown["private"]
    assert "Flutes alone first" in data["passages"][0]["notes"]
    assert shown["rooms"] == ["Band room"]


def test_what_was_logged_stands_beside_the_passages_and_the_log_is_named(
    wednesday: tuple[dict[str, Any], dict[str, Any]],
) -> None:
    data, shown = wednesday
    opening, chase, _ = data["passages"]
    assert opening["reached"] == [["2026-10-21", ["♩", "52", "quarter note"]]]
    assert chase["reached"] == [["2026-10-21", None]]
    assert shown["log"] == {
        "file": "2026-10-21-lantern.yaml",
        "there": "cycles/winter/log/2026-10-21.yaml",
    }


def test_of_two_rehearsals_on_a_day_the_log_names_the_hour(tmp_path: Path) -> None:
    files = changed(
        stand_files(),
        "cycles/winter/cycle.yaml",
        "name: Sunday}\n",
        "name: Sunday}\n  - {ensemble: lantern, date: Sun 2026-11-01, start: 17:00, end: 18:00}\n",
    )
    binder = binder_of(write_folder(tmp_path / "content", files))
    with binder.context.speaking():
        shown = stand_data(binder, binder.cycles[0], date(2026, 11, 1))["rehearsals"]
    assert [one["log"] for one in cast("list[dict[str, object]]", shown)] == [
        {"file": "2026-11-01-lantern-14-00.yaml", "start": "2:00 pm"},
        {"file": "2026-11-01-lantern-17-00.yaml", "start": "5:00 pm"},
    ]
