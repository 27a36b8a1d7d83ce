"""A concert whose first turn has an hour of its own need not say it a second time as its downbeat."""

from __future__ import annotations

from dataclasses import replace

from handbook.domain.values.clock import parse_clock
from handbook.domain.values.unreadable import UnreadableError
from handbook.source.source_map import Homes
from handbook.source.yaml_reader import YamlFile

_DOWNBEAT, _PROGRAM, _FIRST_NOTE = "downbeat", "program", "first_note"


def with_downbeat(file: YamlFile) -> tuple[YamlFile, Homes]:
    """Take the hour of the first turn for a downbeat that is not stated, if it can be read."""
    if not isinstance(file.data, dict) or file.data.get(_DOWNBEAT) is not None:
        return file, {}
    turns = file.data.get(_PROGRAM)
    first = turns[0] if isinstance(turns, list) and turns else None
    hour = first.get(_FIRST_NOTE) if isinstance(first, dict) else None
    if not isinstance(hour, str):
        return file, {}
    try:
        parse_clock(hour)
    except UnreadableError:
        return file, {}
    home: Homes = {(file.file, _DOWNBEAT): (file.file, _PROGRAM, 0, _FIRST_NOTE)}
    return replace(file, data={**file.data, _DOWNBEAT: hour}), home
