"""`handbook plan --home`, and the same in JSON; what is planned is held to its laws elsewhere."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from handbook.cli.main import main
from tests.content_folders import base_files, changed, write_folder

CYCLE = "cycles/winter/cycle.yaml"


def folder(at: Path, minutes: str, *stages: str) -> Path:
    files = base_files()
    for stage in stages or ("Build",):
        named = f"    name: {stage}\n"
        files = changed(files, CYCLE, named, f"{named}    home_minutes: {minutes}\n")
    return write_folder(at, files)


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    with pytest.raises(SystemExit) as ended:
        main(["plan", *arguments])
    assert ended.value.code == 0
    return capsys.readouterr().out


def test_evenings_are_listed_for_bands_that_have_minutes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = told(capsys, str(folder(tmp_path, "{lantern: 10}")), "--home").splitlines()
    assert "Winter cycle (winter): evenings at home" in lines
    assert "Harbor Band: no `home_minutes` are given" in lines
    # The first rehearsal is on Monday, and Wednesday's plays both passages: five minutes each.
    evening = next(line for line in lines if line.startswith("Mon Oct 19"))
    assert " 10 " in evening
    assert evening.endswith("* 5") or "* 5; " in evening
    assert not any(line.startswith("Thu Dec 10") for line in lines)  # the concert's day
    (line,) = [one for one in told(capsys, str(tmp_path)).splitlines() if "a day at home" in one]
    assert line.startswith("Minutes a day at home: Build 10, Polish 0")


def test_json_has_the_evenings_of_each_set_of_parts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    content = folder(tmp_path, "{lantern: 10}", "Build", "Polish")
    plan: Any = json.loads(told(capsys, str(content), "--json"))
    lantern, harbor = sorted(plan["cycles"][0]["ensembles"], key=lambda one: one["id"] == "harbor")
    assert "home" not in harbor
    assert lantern["home"]["minutes"] == {"build": 10, "polish": 10}
    (own,) = lantern["home"]["sets"]
    assert own["parts"] == ["flute", "clarinet", "trumpet"]
    for evening in own["evenings"]:
        assert sum(one["minutes"] for one in evening["practice"]) == evening["minutes"]
        assert evening["date"] < evening["next"]
    # By the calendar of the year: no school from Sat, Nov 21 to Sun, Nov 29, the eve of school.
    resting = [one["date"][5:] for one in own["evenings"] if one["resting"]]
    assert resting == [f"11-{day}" for day in range(21, 29)]
    assert {one["minutes"] for one in own["evenings"] if one["resting"]} == {5}


@pytest.mark.parametrize("other", ["--json", "--care", "--without-piece=tweed-kites"])
def test_it_stands_alone(other: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["plan", str(folder(tmp_path, "10")), "--home", other])
    assert ended.value.code
    assert "stands alone" in capsys.readouterr().err
