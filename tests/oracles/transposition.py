"""A written key turned back into the concert key."""

from __future__ import annotations

from handbook.domain.circle_of_fifths import written_round
from handbook.domain.tables.instruments import Instrument
from handbook.domain.transposition import _need_pitch
from handbook.domain.values.keys import ConcertKey, WrittenKey


def concert_key(key: WrittenKey, instrument: Instrument) -> ConcertKey:
    """Give the key that sounds when an instrument reads `key`; ValueError as `written_key`."""
    _need_pitch(instrument)
    return ConcertKey.from_fifths(written_round(key.fifths + instrument.sounds.fifths), key.mode)
