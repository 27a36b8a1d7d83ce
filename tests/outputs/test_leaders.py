"""Who leads a rehearsal is told by role, where it is stated (common practice, no source)."""

from __future__ import annotations

import json
from pathlib import Path

from handbook.cli.plan_json import plan_text
from tests.content_folders import base_files, changed
from tests.outputs.rendering import page_of
from tests.plan.planning import CYCLE, planned

STAFF = """staff:
  - {id: director, name: the band director}
  - {id: assistant, name: "the assistant <director>"}
rooms:
  - {id: annex, name: Annex}
"""
DAYS = """days:
  - date: 2026-11-04
    ensemble: lantern
    sections:
      winds: {who: [flute, clarinet]}
      brass: {who: [trumpet], led_by: [assistant]}
  - {date: 2026-11-09, ensemble: lantern, led_by: [assistant], room: annex}
extra:
  - {ensemble: lantern, date: 2026-11-05, start: 6 pm, end: 7 pm, led_by: [assistant, director]}
stages:"""


def test_pages_name_the_role_where_it_differs(tmp_path: Path) -> None:
    files = changed(base_files(), "program.yaml", "rooms:\n", STAFF)
    files = changed(
        files,
        "program.yaml",
        "    name: Lantern Band\n",
        "    name: Lantern Band\n    led_by: [director]\n",
    )
    plan = planned(tmp_path, changed(files, CYCLE, "stages:", DAYS)).plan
    body = page_of(plan, "winter/lantern/").body
    assert '<p class="small">Led by the band director.</p>' in body
    assert body.count("Led by the assistant &lt;director&gt; and the band director.") == 1
    assert body.count("In Annex. Led by the assistant &lt;director&gt;.") == 1
    assert "<b>Brass</b> in Band room, led by the assistant &lt;director&gt;" in body
    assert "<b>Winds</b> in Band room<br>" in body
    assert (
        "in <b>Band room</b>, led by the assistant &lt;director&gt;"
        in page_of(plan, "winter/lantern/part/trumpet/").body
    )
    assert "ed by" not in page_of(plan, "winter/harbor/").body
    document = json.loads(plan_text(plan, plan.cycles))
    assert [one["id"] for one in document["program"]["staff"]] == ["director", "assistant"]
    rehearsals = document["cycles"][0]["ensembles"][0]["rehearsals"]
    led = {one["start"][:10]: one["led_by"] for one in rehearsals}
    assert led["2026-11-09"] == ["assistant"]
    assert (led["2026-11-04"], led["2026-11-05"]) == (["director"], ["assistant", "director"])


def test_the_crew_reads_who_leads_each_warm_up(tmp_path: Path) -> None:
    files = changed(base_files(), "program.yaml", "rooms:\n", STAFF)
    files = changed(
        files,
        "program.yaml",
        "    name: Lantern Band\n",
        "    name: Lantern Band\n    led_by: [director]\n",
    )
    calls = (
        "allowances: {unpack: 5}\ncalls: [{ensemble: harbor, room: annex, led_by: [assistant]}]\n"
    )
    concert = "cycles/winter/concert.yaml"
    plan = planned(tmp_path, {**files, concert: f"{files[concert]}{calls}"}).plan
    body = page_of(plan, "winter/concert/crew/").body
    assert '<span class="small">Annex, led by the assistant &lt;director&gt;</span>' in body
    assert '<span class="small">led by the band director</span>' in body
