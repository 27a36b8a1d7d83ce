"""The search index: a script with what is of no cycle, and a script for each cycle."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence

from handbook.outputs import addresses
from handbook.outputs.model import OutputFile
from handbook.plan.model import CyclePlan

Row = dict[str, str | float]
"""`u` address, `t` title, `x` text, `k` other spellings, `p` page and, where there is one,
`d` the day it is about, `e` the last day of its cycle, `w` its weight."""


def search_files(
    pages: Iterable[tuple[str, Sequence[Row]]], cycles: Sequence[CyclePlan]
) -> tuple[OutputFile, ...]:
    """Write the rows of all pages, each page with its address, as scripts.

    Scripts, since a page opened from a folder may load nothing else. The first lists the
    others, each with the last day of its cycle, the newest first.
    """
    by_cycle: Mapping[str, list[Row]] = {cycle.id: [] for cycle in cycles}
    common: list[Row] = []
    for path, rows in pages:
        by_cycle.get(path.partition("/")[0], common).extend(rows)
    parts = [
        {"u": addresses.search_part(cycle.id), "e": cycle.last.isoformat()}
        for cycle in reversed(cycles)
    ]
    first = f"globalThis.handbookSearchRows={_json(common)};\nglobalThis.handbookSearchParts={_json(parts)};\n"
    return (
        OutputFile(addresses.SEARCH_INDEX, first.encode()),
        *(
            OutputFile(
                addresses.search_part(cycle),
                f"globalThis.handbookSearchRows.push(...{_json(rows)});\n".encode(),
            )
            for cycle, rows in by_cycle.items()
        ),
    )


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
