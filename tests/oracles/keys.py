"""Written keys, read for tests as a player names them."""

from __future__ import annotations

from handbook.domain.values.keys import WrittenKey, _read_key


def parse_written_key(text: str) -> WrittenKey:
    """Read a key as a player sees it, spelled as for `parse_concert_key`."""
    return WrittenKey(*_read_key(text))
