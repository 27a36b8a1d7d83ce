"""The search index: a script with what is of no cycle, and a script for each cycle.

Scripts, since a page opened from a folder may load nothing else.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from datetime import date

from handbook.outputs import addresses
from handbook.outputs.model import OutputFile

Row = dict[str, str | float]
"""`u` address, `t` title, `x` text, `k` other spellings, after `|` those of the text, `p` page and, where there is one,
`a` the answer that it gives, `d` the day it is about, `e` the last day of its cycle, `w` its weight."""


def rows_text(rows: Iterable[Row]) -> str:
    """Write the rows of some pages, as they stand between a list's brackets."""
    return _json(list(rows))[1:-1]


def search_index(texts: Iterable[str], cycles: Sequence[tuple[str, date]]) -> OutputFile:
    """Put the rows together that are of no cycle, and list the scripts of the cycles.

    `cycles` are ids with their last days, in order; the newest is listed first.
    """
    parts = [
        {"u": addresses.search_part(cycle_id), "e": last.isoformat()}
        for cycle_id, last in reversed(cycles)
    ]
    script = f"globalThis.handbookSearchRows=[{_joined(texts)}];\nglobalThis.handbookSearchParts={_json(parts)};\n"
    return OutputFile(addresses.SEARCH_INDEX, script.encode())


def search_part(cycle_id: str, texts: Iterable[str]) -> OutputFile:
    """Put the rows of a cycle's pages together."""
    script = f"globalThis.handbookSearchRows.push(...[{_joined(texts)}]);\n"
    return OutputFile(addresses.search_part(cycle_id), script.encode())


def _joined(texts: Iterable[str]) -> str:
    return ",".join(filter(None, texts))


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
