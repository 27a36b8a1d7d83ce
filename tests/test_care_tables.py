"""`handbook plan --care`: every figure beside its rule and scope, and none called safe."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook.cli.main import main
from handbook.domain.tables.cautions import STAFF_PAGE
from handbook.domain.tables.lift_limits import SCOPE
from handbook.domain.tables.noise_limits import NIOSH, OSHA
from tests.content_folders import base_files, write_folder

CONCERT = "cycles/winter/concert.yaml"
CARE = """
equipment:
  - {id: crate, name: "Crate [big]", weight: 20 lb, from: band-room, to: band-room}
  - {id: trunk, name: Trunk, from: band-room, to: band-room}
lifting: {two_adults_over: 15 lb}
care:
  sound: [{what: Full band, level: 95 dBA, minutes: 50}]
  lifts:
    - what: Crates onto the cart
      equipment: crate
      start: {reach: 20 in, height: 44 in, twist: 30}
      end: {reach: 20 in, height: 7 in, twist: 30}
      guided: "yes"
      per_minute: 5
      grip: good
"""


def told(
    folder: Path, capsys: pytest.CaptureFixture[str], more: str, *options: str
) -> tuple[int, str]:
    files = base_files()
    files[CONCERT] += more
    with pytest.raises(SystemExit) as ended:
        main(["plan", str(write_folder(folder, files)), "--care", *options])
    shown = capsys.readouterr()
    return int(ended.value.code or 0), " ".join((shown.out + shown.err).split())


def test_figures_stand_with_rule_and_scope(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, text = told(tmp_path, capsys, CARE)
    assert code == 0
    # NIOSH 98-126 and 29 CFR 1910.95, Appendix A: 50 / 47.6 and 50 / 240.
    assert "NIOSH recommended exposure limit: dose 105 %" in text
    assert "OSHA permissible exposure: dose 21 %" in text
    # NIOSH 94-110, example 5: the destination's RWL of 13.3 lb and index of 1.5 govern.
    assert "20.0 lb against a recommended limit of 13.3 lb, index 1.5" in text
    for scope in (NIOSH.scope, OSHA.scope, SCOPE):
        assert scope in text
    for caution in STAFF_PAGE:
        assert caution.text in text
        assert f"{caution.scope} Source: {caution.source}" in text
    assert not re.search(r"\bsafe(ly)?\b", text.replace("safe listening", ""))


def test_own_limits_and_missing_weights(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, text = told(tmp_path, capsys, CARE)
    assert "Two adults, by the program's own limit: Crate [big]." in text
    assert "Nobody has weighed: Trunk." in text


def test_the_table_of_times(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # NIOSH 98-126 Table 1-1: 85 dBA 8 h, 88 4 h, 100 15 min; Table G-16: 100 dBA 2 h.
    _, text = told(tmp_path, capsys, "")
    assert re.search(r"85 dBA │ 8 h │ 16 h", text)
    assert re.search(r"88 dBA │ 4 h │", text)
    assert re.search(r"100 dBA │ 15 min │ 2 h", text)
    assert "Nothing was measured" in text
    assert "No equipment is listed" in text


def test_care_is_for_people_to_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, text = told(tmp_path, capsys, "", "--json")
    assert code == 2
    assert "--json" in text
