"""Scales by their names alone, without a register."""

from __future__ import annotations

from handbook.domain.scales import ScaleForm, _octave_names
from handbook.domain.values.keys import ConcertKey, SpelledKey
from handbook.domain.values.pitch import NoteName

# Concert keys of the usual first band scales: common practice, no source.
FIRST_SCALES = tuple(ConcertKey(NoteName(*tonic)) for tonic in (("B", -1), ("E", -1), ("F", 0)))


def scale_names(key: SpelledKey, form: ScaleForm = ScaleForm.OF_THE_KEY) -> tuple[NoteName, ...]:
    """Give the ascending notes of one octave, tonic first, without the upper tonic."""
    return _octave_names(key, form)[0]
