"""The drone sounds the frequency it names, purely tuned where asked, and begins and ends softly.

Frequencies are read from the phase of a Fourier transform at two moments, which is exact to
far below a thousandth of a cent for a steady tone. The tolerance is 0.01 cents: against a
player on the same note that is one beat in over ten minutes, and a few hundred times finer
than any listener hears (a few cents; common practice, no source).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from playwright.sync_api import Page

from handbook.domain.tuning import cents, drone
from handbook.domain.values.pitch import parse_note_name
from tests.browser_sound.rendering import Samples, render_drone

pytestmark = pytest.mark.browser
_RATE = 48000
_TOLERANCE = 0.01  # cents


def measured(samples: Samples, near: float) -> float:
    """Give the frequency near a guess, in hertz."""
    window, apart = _RATE, _RATE  # one second each
    turns = np.exp(-2j * np.pi * near * np.arange(window) / _RATE) * np.hanning(window)
    first = np.sum(samples[_RATE : _RATE + window] * turns)
    second = np.sum(samples[_RATE + apart : _RATE + apart + window] * turns)
    drift = np.angle(second * np.exp(-2j * np.pi * near * apart / _RATE) / first)
    return near + float(drift) / (2 * math.pi) * _RATE / apart


# Hertz at A = 440, octave 2, 3, 4: the usual table of equal temperament (ISO 16:1975 for A).
@pytest.mark.parametrize(
    ("note", "octave", "hertz"),
    [
        ("Bb", 2, 116.541),
        ("Bb", 3, 233.082),
        ("Bb", 4, 466.164),
        ("A", 3, 220.0),
        ("C", 3, 130.813),
        ("F#", 3, 184.997),
        ("Eb", 4, 311.127),
    ],
)
def test_octaves(lab: Page, note: str, octave: int, hertz: float) -> None:
    root = drone(parse_note_name(note))
    found = measured(render_drone(lab, [(root, octave, 0, 0)], 3.2, _RATE), hertz)
    assert found == pytest.approx(hertz, abs=6e-4)  # the table has three places
    exact = root * 2.0 ** (octave - 3)
    assert abs(cents(exact, found)) < _TOLERANCE


# Offsets of just intervals from equal temperament, in cents: 5:4, 6:5, 3:2.
@pytest.mark.parametrize(
    ("semitones", "offset", "ratio"),
    [(4, -13.686286, 5 / 4), (3, 15.641287, 6 / 5), (7, 1.955001, 3 / 2)],
)
def test_pure_intervals(lab: Page, semitones: int, offset: float, ratio: float) -> None:
    root = drone(parse_note_name("Bb"))
    found = measured(render_drone(lab, [(root, 3, semitones, offset)], 3.2, _RATE), root * ratio)
    assert abs(cents(root * ratio, found)) < _TOLERANCE
    tempered = measured(
        render_drone(lab, [(root, 3, semitones, 0)], 3.2, _RATE), root * 2 ** (semitones / 12)
    )
    assert cents(root, tempered) == pytest.approx(100 * semitones, abs=_TOLERANCE)
    assert cents(tempered, found) == pytest.approx(offset, abs=2 * _TOLERANCE)


def test_a_pure_third_stands_still_and_a_tempered_one_beats(lab: Page) -> None:
    """B♭3 and D4 in equal temperament beat 9.25 times a second, where 5 f and 4 f' meet."""
    root = drone(parse_note_name("Bb"))

    def swell(offset: float) -> Samples:
        held = render_drone(lab, [(root, 3, 0, 0), (root, 3, 4, offset)], 4.0, _RATE)[_RATE:]
        place = np.arange(len(held)) / _RATE
        band = held * np.exp(-2j * np.pi * 5 * root * place)
        smooth = np.convolve(band, np.hanning(_RATE // 40), "valid")
        return np.abs(smooth).astype(np.float32)

    still, moving = swell(-13.686286), swell(0)
    assert np.ptp(still[2000:-2000]) < 0.02 * still.mean()
    spectrum = np.abs(np.fft.rfft(moving - moving.mean()))
    beats = np.argmax(spectrum) * _RATE / len(moving)
    assert beats == pytest.approx(9.25, abs=_RATE / len(moving))


def test_begins_and_ends_without_a_click(lab: Page) -> None:
    """A click is a step in the wave or its slope: neither bends more than in the held tone."""
    root = drone(parse_note_name("Bb"))
    samples = render_drone(lab, [(root, 2, 0, 0)], 3.0, _RATE, release=2.0).astype(np.float64)
    bend = np.abs(np.diff(samples, 2))
    held = bend[_RATE : int(1.9 * _RATE)].max()
    assert bend[: _RATE // 2].max() <= 1.05 * held
    assert bend[int(1.95 * _RATE) :].max() <= 1.05 * held
    assert abs(samples[0]) < 1e-6
    assert np.abs(samples[int(2.6 * _RATE) :]).max() == 0
    peaks = np.abs(samples).reshape(-1, _RATE // 20).max(axis=1)  # of every twentieth of a second
    assert peaks[0] < 0.9 * peaks[30]
    assert peaks[6] > 0.98 * peaks[30]
    assert peaks[46] < 0.01 * peaks[30]


def test_three_notes_at_once_stay_below_full_scale(lab: Page) -> None:
    root = drone(parse_note_name("Bb"))
    chord = [(root, 3, 0, 0.0), (root, 3, 4, -13.686286), (root, 3, 7, 1.955001)]
    assert np.abs(render_drone(lab, chord, 3.0, _RATE)).max() < 0.9
