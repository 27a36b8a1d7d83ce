"""A small concert evening rendered to pages, for tests of the concert's pages."""

from __future__ import annotations

import re
from pathlib import Path

from handbook.outputs.model import RenderedPage
from handbook.outputs.page import Context
from handbook.plan.model import ConcertPlan, CyclePlan
from tests.content_folders import base_files, changed
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, planned, winter

PROGRAM = "program.yaml"
EVENING = """
name: Winter <Concert> & friends
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
doors: 6:40 pm
about: All are welcome.
program:
  - {ensemble: harbor, pieces: [tweed-kites]}
  - ensemble: lantern
    before: [{what: intermission, minutes: 10}]
    pieces: [button-comets]
attire: [White shirt, Black shoes]
attire_for: {lantern: [Blue tie]}
attire_note: Clothes can be borrowed.
bring: [Instrument]
allowances: {unpack: 10, warm_up: 15, walk: 5, in_place: 5, walk_back: 5, pack: 10, to_door: 5}
calls:
  - {ensemble: harbor, room: band-room}
  - {ensemble: lantern, room: green-room, stays: "yes"}
  - {ensemble: lantern, section: percussion, minutes: {duties: 20}}
  - {role: stage-crew, minutes: {duties: 45}}
bookings: [{room: green-room, start: 5:00 pm, end: 6:00 pm, what: Pizza}]
travel:
  meet: Bus loop
  load: 10
  drive: 20
  rides: [{ensembles: [lantern], adults: 2, buses: [{id: bus-1, seats: 52}]}]
lifting: {two_adults_over: 35 lb, wheels_over: 50 lb}
crew: [{id: stage-crew, name: Stage crew, people: 4, tasks: [Set chairs]}]
carriers: [{id: cart, name: Flat cart, pieces: 2}]
equipment:
  - {id: timpani, name: Timpani, count: 3, weight: 85 lb, from: band-room, to: stage, carrier: cart, who: stage-crew}
  - {id: trunk, name: Trunk, from: band-room, to: stage}
care:
  sound: [{what: Secret measurement, level: 97 dBA, minutes: 33}]
  lifts:
    - what: Secret lift
      equipment: timpani
      start: {reach: 12 in, height: 30 in}
      end: {reach: 12 in, height: 40 in}
      per_minute: 0.2
"""


def evening(folder: Path, concert: str = EVENING) -> tuple[Context, CyclePlan, ConcertPlan]:
    """Plan the evening; the hall has a green room and a stage of its own."""
    files = changed(
        base_files(),
        PROGRAM,
        "    address: 12 Quill Street\n",
        "    address: 12 Quill Street\n    stage: stage\n    stock: {chair: 40, stand: 10}\n"
        "    rooms: [{id: stage, name: Main stage}, {id: green-room, name: Green room}]\n",
    )
    files[CONCERT] = concert
    result = planned(folder, files)
    cycle = winter(result)
    assert cycle.concert is not None
    return Context(result.plan, "en"), cycle, cycle.concert


def page(context: Context, path: str) -> RenderedPage:
    """Render the whole site and give one of its pages."""
    return next(one for one in site_of(context.plan).pages if one.path == path)


def main_of(rendered: RenderedPage) -> str:
    """Give what stands between header and footer."""
    found = re.search(r"<main.*?</main>", rendered.body, re.DOTALL)
    assert found
    return found[0]
