"""A page that holds clicks and a drone of every kind, made from the site's own templates."""

from __future__ import annotations

from pathlib import Path

from handbook.domain.values.keys import Mode
from handbook.domain.values.pitch import parse_note_name
from handbook.outputs.components.drones import drone_view
from handbook.outputs.components.sound import ClickView
from handbook.outputs.components.warm_up_view import WarmUpView, warm_up_view
from handbook.outputs.html.environment import page_environment
from handbook.outputs.site import Renderer
from handbook.resources import templates_folder
from handbook.schema.fundamentals import WarmUp
from tests.passages import click, context, part
from tests.real_media import wav

CLICKS: dict[str, ClickView] = {
    "steady": click("quarter = 96", name="Steady"),
    "fastest": click("quarter = 208", name="Fastest"),
    "waltz": click("quarter = 208", meter="3/4", name="Waltz"),
    "sixes": click("dotted quarter = 72", meter="6/8", name="Sixes"),
    "uneven": click("quarter = 132", meter="7/8 (2+2+3)", name="Uneven"),
    "open": click("eighth = 240", meter="7/8", name="Open grouping"),
    "slow": click("quarter = 60", name="Slow"),
    "rising": click(
        "quarter = 60",
        measures="1-4",
        form=[part("1-4", "4/4", "quarter = 60", "quarter = 120")],
        name="Rising",
    ),
    "mixed": click(
        "quarter = 120",
        measures="7-10",
        form=[part("1-8", "4/4", "quarter = 120"), part("9-16", "3/4", "quarter = 120")],
        name="Mixed",
    ),
}
# One minute: the steps begin at 0, 8, 17, 21, 33 and 39 s.
WARM_UP = {
    "level": "1",
    "name": "First sounds",
    "steps": [
        {"text": "Fast notes", "tempo": "quarter = 208", "seconds": "6", "rest": "2"},
        {
            "text": "Slow threes",
            "tempo": "quarter = 132",
            "meter": "3/4",
            "seconds": "7",
            "rest": "2",
        },
        {"text": "Breathe out", "seconds": "4"},
        {"text": "Hold it", "drone": "Bb", "seconds": "7", "rest": "5"},
        {"text": "Sing along", "media": "hum.wav", "seconds": "6", "rest": "0"},
        {"text": "Chorale", "tempo": "quarter = 120", "click": "no"},
    ],
}


# Six minutes: the steps begin at 0, 84, 176 and 272 s.
LONG_WARM_UP = {
    "level": "1",
    "name": "Long",
    "steps": [
        {"text": "Play", "seconds": seconds, "tempo": tempo, "meter": meter, "rest": "0"}
        for seconds, tempo, meter in (
            ("84", "quarter = 50", "4/4"),
            ("92", "quarter = 66", "4/4"),
            ("96", "quarter = 80", "4/4"),
            ("88", "quarter = 144", "3/4"),
        )
    ],
}


def warm_up(content: object = None, minutes: int = 1) -> WarmUpView:
    """Show the bench's warm-up, or another one that is written as content files have it."""
    return warm_up_view(context(), WarmUp.model_validate(content or WARM_UP), minutes)


_PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Bench</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="assets/icon.svg"><link rel="stylesheet" href="assets/handbook.css">
<script src="assets/first.js" data-zone="America/Chicago"></script>
<script src="assets/handbook.js" defer></script></head><body>
<header class="masthead" data-root="./"></header>
<div class="page"><main><h1>Bench</h1>
{% from "components/sound.html.j2" import click, click_for, drone, controls, scripts %}
{% from "components/warm_up.html.j2" import warm_up %}
{% for name, view in clicks.items() %}<section id="{{ name }}">{{ click(view) }}</section>{% endfor %}
<section id="drone">{{ drone(drones) }}</section>
<section id="warm-up">{{ warm_up("", drill) }}</section>
<section id="long">{{ warm_up("", long) }}</section>
<ul id="list" data-play-list><li>Waltz {{ click_for("waltz") }}</li><li>Steady {{ click_for("steady") }}</li></ul>
<a href="other.html">Another page</a>
{{ controls(warm_up=true) }}{{ scripts("", warm_up=true) }}</main></div></body></html>"""
# An audio worklet that reports the frame of every onset: louder than 60 dB below full scale
# after at least 5 ms of quiet.
_RECORDER = """
let quiet = 0; // so that no click is reported from its middle
registerProcessor("onsets", class extends AudioWorkletProcessor {
  process([[samples]]) {
    if (samples) for (let i = 0; i < samples.length; i += 1) {
      if (Math.abs(samples[i]) < 0.001) { quiet += 1; continue; }
      if (quiet > 0.005 * sampleRate) this.port.postMessage(currentFrame + i);
      quiet = 0;
    } else quiet += 128;
    return true;
  }
});
"""
_OTHER = "<!doctype html><html lang='en'><head><title>Other</title><link rel='icon' href='assets/icon.svg'></head><body><p>Other</p></body></html>"


def write_bench(folder: Path) -> Path:
    """Write the page with the site's assets beside it."""
    for asset in Renderer().assets:
        file = folder / asset.path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(asset.content)
    drones = drone_view(
        context(),
        [
            ("tuning note", parse_note_name("Bb"), Mode.MAJOR),
            ("key note", parse_note_name("G"), Mode.MINOR),
        ],
    )
    page = page_environment(templates_folder()).from_string(_PAGE)
    (folder / "index.html").write_text(
        page.render(clicks=CLICKS, drones=drones, drill=warm_up(), long=warm_up(LONG_WARM_UP, 6)),
        "utf-8",
    )
    (folder / "media").mkdir()
    (folder / "media" / "hum.wav").write_bytes(wav(2))
    (folder / "recorder.js").write_text(_RECORDER, "utf-8")
    (folder / "other.html").write_text(_OTHER, "utf-8")
    return folder
