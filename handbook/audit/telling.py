"""Findings as lines for the terminal."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from itertools import groupby

from handbook.audit.model import Finding
from handbook.audit.own import folded

MOST_SHOWN = 10  # findings of a kind, and entries that would allow them
_LONGEST = 120  # letters of what was found


def finding_lines(findings: Sequence[Finding], folder: str = "") -> tuple[str, ...]:
    """Write findings for a person: place, what it is, the words, what to do; how to allow them at the end.

    Of a kind ten are written, and ten that may be allowed. `folder` is the content folder as it is to be named.
    """
    lines: list[str] = []
    for concern, alike in groupby(findings, key=lambda one: one.concern):
        kind = list(alike)
        for one in kind[:MOST_SHOWN]:
            lines += (*_lines(one, folder and f"{folder}/"), "")
        if kind[MOST_SHOWN:]:
            lines += (f"  and {len(kind) - MOST_SHOWN} more of {concern.code}", "")
    return (*lines, *_allowing(findings))


def _allowing(findings: Sequence[Finding]) -> Iterator[str]:
    """Write the entries that would allow what refuses, each text once."""
    refused = {folded(one.words): _short(one.words) for one in findings if one.refuses}
    entries = tuple(dict.fromkeys(refused.values()))
    if not entries:
        return
    it, each = ("it is", "") if len(entries) == 1 else ("any of it is", "each ")
    yield f"If {it} meant to be public, say so in program.yaml, {each}with its reason:"
    yield "  may_be_public:"
    for words in entries[:MOST_SHOWN]:
        # A text of JSON is one of YAML too, whatever quotes and backslashes are in it.
        yield f'    - {{what: {json.dumps(words, ensure_ascii=False)}, why: "..."}}'
    if entries[MOST_SHOWN:]:
        yield f"    # and {len(entries) - MOST_SHOWN} more"


def _lines(finding: Finding, folder: str) -> Iterator[str]:
    places = [
        f"{folder}{one.file}:{one.line}" if one.line else f"{folder}{one.file}"
        for one in finding.origins
    ]
    severity = "error" if finding.refuses else "note"
    where = places[0] if places else finding.file
    yield f"{where}: {severity} {finding.concern.code}: {finding.concern.sentence}: {_short(finding.words)}"
    if places[1:]:
        yield f"  and in {', '.join(places[1:])}"
    if finding.file and places:
        yield f"  on the site in {finding.file}"
    yield f"  help: {finding.concern.hint}"
    yield f"  (handbook explain {finding.concern.code})"


def _short(words: str) -> str:
    line = " ".join(words.split())
    return line if len(line) <= _LONGEST else f"{line[: _LONGEST - 1]}…"
