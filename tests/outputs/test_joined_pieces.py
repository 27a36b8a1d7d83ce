"""A piece that a band plays with another reaches its own players (common practice, no source)."""

from __future__ import annotations

import re
from pathlib import Path

from tests.content_folders import base_files
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, planned, winter

TOGETHER = """
name: Winter concert
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
program:
  - {ensemble: harbor, pieces: [tweed-kites]}
  - {ensemble: lantern, pieces: [button-comets], joined_by: [harbor]}
"""
MUSIC = "cycles/winter/music.yaml"


def test_the_plan_has_it_once_in_each_players_pitch(tmp_path: Path) -> None:
    files = base_files()
    files[CONCERT] = (
        TOGETHER + "  - {ensemble: lantern, pieces: [button-comets], joined_by: [harbor]}\n"
    )
    files[MUSIC] = files[MUSIC].replace(
        "    title: Button Comets", "    title: Button Comets\n    key: Bb major"
    )
    cycle = winter(planned(tmp_path, files))
    plans = {plan.item.id: plan for plan in cycle.ensembles}
    (joined,) = plans["harbor"].joined
    assert (joined.host.id, joined.piece.item.id) == ("lantern", "button-comets")
    assert plans["lantern"].joined == ()
    keys = {part.id: str(part.joined[0].key) for part in plans["harbor"].parts}
    # A trumpet in B flat is written a whole tone above what sounds, as music21 has it (M-2).
    assert keys == {"flute": "B♭ major", "trumpet": "C major"}
    assert all(part.joined == () for part in plans["lantern"].parts)


def test_pages_of_the_band_and_its_players_show_it(tmp_path: Path) -> None:
    files = base_files()
    files[CONCERT] = TOGETHER
    pages = {page.path: page for page in site_of(planned(tmp_path, files).plan).pages}
    band = main_of(pages["winter/harbor/"])
    assert re.search(r'href="[./]*winter/lantern/button-comets/"', band)
    assert "with Lantern Band" in band
    part = main_of(pages["winter/harbor/part/trumpet/"])
    assert 'id="button-comets-chase"' in part
    assert "The chase" in part
    assert "with Lantern Band" in part
    assert "with " not in main_of(pages["winter/lantern/"]).partition('id="stages"')[0]
