"""Rendering offline with the page's own scheduler, and finding onsets in what came out."""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from playwright.sync_api import Page

from handbook.domain.values.meter import Meter
from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.click_beats import layout, ticks

Samples = npt.NDArray[np.float32]
START = 0.05  # seconds of silence before the first click
_QUIET = 1e-3  # of the loudest sample: 60 dB below it
_GAP = 0.005  # seconds of quiet that part one click from the next

_TO_TEXT = """
const toText = (samples) => {
  const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
  let text = "";
  for (let i = 0; i < bytes.length; i += 32768) text += String.fromCharCode(...bytes.subarray(i, i + 32768));
  return btoa(text);
};
"""
_CLICK = f"""async ({{ score, start, seconds, rate }}) => {{ {_TO_TEXT}
  const context = new OfflineAudioContext(1, Math.ceil(seconds * rate), rate);
  new handbookClick.Run(context, context.destination, score, start).ahead(seconds);
  return toText((await context.startRendering()).getChannelData(0));
}}"""
_WARM_UP = f"""async ({{ data, zero, seconds, rate }}) => {{ {_TO_TEXT}
  const context = new OfflineAudioContext(1, Math.ceil((zero + seconds) * rate), rate);
  const opened = {{ context, output: context.destination }};
  for (const step of data.steps) new handbookWarmUp.Sounding(opened, step, zero).ahead(zero + seconds);
  return toText((await context.startRendering()).getChannelData(0));
}}"""
_DRONE = f"""async ({{ voices, release, seconds, rate }}) => {{ {_TO_TEXT}
  const context = new OfflineAudioContext(1, Math.ceil(seconds * rate), rate);
  for (const [root, octave, semitones, cents] of voices) {{
    const stop = handbookDrone.voice(context, context.destination, handbookDrone.hertzOf(root, octave, semitones, cents), 0);
    if (release) stop(release);
  }}
  return toText((await context.startRendering()).getChannelData(0));
}}"""


@dataclass(frozen=True)
class Score:
    """What the page's scheduler plays: spans of measures, divided, counted in."""

    spans: tuple[Mapping[str, Any], ...]
    division: int = 0
    count_in: bool = False
    again: bool = False

    def typed(self) -> dict[str, Any]:
        return {
            "spans": list(self.spans),
            "division": self.division,
            "countIn": self.count_in,
            "again": self.again,
        }


def steady(meter: Meter, tempo: Tempo, **options: Any) -> Score:
    """Make the score of an even click, laid out as the page's data would."""
    return Score((span(meter, 1, tempo, float(tempo.bpm), float(tempo.bpm)),), **options)


def span(
    meter: Meter, measures: int, tempo: Tempo, begins: float, ends: float, model: str = ""
) -> dict[str, Any]:
    """Make measures that move from one tempo to another, in the beat of the mark."""
    return {
        "measures": measures,
        "beats": layout(meter, tempo.beat),
        "unit": ticks(tempo.beat.quarters),
        "from": begins,
        "to": ends,
        "model": model,
    }


def render(page: Page, score: Score, seconds: float, rate: int = 44100) -> Samples:
    """Play a score on an offline context; the first click sounds at START."""
    asked = {"score": score.typed(), "start": START, "seconds": seconds, "rate": rate}
    return _samples(page.evaluate(_CLICK, asked))


def render_warm_up(
    page: Page, data: Mapping[str, Any], zero: float, seconds: float, rate: int = 44100
) -> Samples:
    """Play a warm-up on an offline context; it begins at `zero` and lasts `seconds`."""
    asked = {"data": data, "zero": zero, "seconds": seconds, "rate": rate}
    return _samples(page.evaluate(_WARM_UP, asked))


def render_drone(
    page: Page,
    voices: Sequence[tuple[float, int, float, float]],
    seconds: float,
    rate: int = 44100,
    release: float = 0.0,
) -> Samples:
    """Hold voices (root in hertz, octave, semitones, cents) on an offline context."""
    asked = {"voices": list(voices), "release": release, "seconds": seconds, "rate": rate}
    return _samples(page.evaluate(_DRONE, asked))


def _samples(text: str) -> Samples:
    return np.frombuffer(base64.b64decode(text), dtype=np.float32)


def onsets(samples: Samples, rate: int = 44100) -> npt.NDArray[np.int64]:
    """Find the first sample of every click: loud after at least 5 ms of quiet."""
    loud = np.flatnonzero(np.abs(samples) > _QUIET * np.abs(samples).max())
    gaps = np.diff(loud, prepend=-rate)
    return loud[gaps > _GAP * rate]


def loudness(samples: Samples, onset: int, rate: int = 44100) -> float:
    """Give the peak of the click that begins at a sample."""
    return float(np.abs(samples[onset : onset + int(0.02 * rate)]).max())
