"""What the stand view knows, beside the plan that it is made of."""

from __future__ import annotations

import json
import re
from itertools import accumulate
from pathlib import Path
from typing import Any

import pytest

from handbook.binder.assemble import binder_files
from handbook.binder.model import Binder
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
    assert opening["goal"] == ["♩", "96", "quarter = 96"]
    assert "Breathe together" in opening["notes"]
    marks = opening["click"]["marks"]
    assert marks == sorted(marks)
    assert {96, 120} <= {*marks}  # as far as a log may be above a goal, a quarter of it


def test_of_two_passages_by_one_id_each_is_named_with_its_piece(tmp_path: Path) -> None:
    files = changed(
        stand_files(),
        "cycles/winter/concert.yaml",
        "[button-comets]",
        "[button-comets, paper-boats]",
    )
    files["cycles/winter/music.yaml"] += _ANOTHER_PIECE
    made = binder_files(binder_of(write_folder(tmp_path / "content", files)))
    found = _DATA.search(
        next(one.content.decode() for one in made if one.path == "winter/stand.html")
    )
    assert found
    keys = [one["key"] for one in json.loads(found[1])["passages"] if one["key"] != "round"]
    assert keys == ["button-comets/opening", "chase", "paper-boats/opening"]


_ANOTHER_PIECE = """  - id: paper-boats
    title: Paper Boats
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
