"""Findings as lines for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from handbook.audit.model import Finding

MOST_SHOWN = 10  # findings of a kind
_LONGEST = 120  # letters of what was found


def finding_lines(findings: Sequence[Finding], folder: str = "") -> tuple[str, ...]:
    """Write findings for a person: place, what it is, the words, what to do; how to allow it at the end.

    Of a kind ten are written. `folder` is the content folder as it is to be named.
    """
    lines: list[str] = []
    for concern, alike in groupby(findings, key=lambda one: one.concern):
        kind = list(alike)
        for one in kind[:MOST_SHOWN]:
            lines += (*_lines(one, folder and f"{folder}/"), "")
        if kind[MOST_SHOWN:]:
            lines += (f"  and {len(kind) - MOST_SHOWN} more of {concern.code}", "")
    first = next((one for one in findings if one.refuses and '"' not in one.words), None)
    if first is not None:
        lines += [
            "If it is meant to be public, say so in program.yaml, with the reason:",
            "  may_be_public:",
            f'    - {{what: "{_short(first.words)}", why: "..."}}',
        ]
    return tuple(lines)


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
