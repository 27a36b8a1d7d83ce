"""Findings as lines for the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.audit.model import Finding

_LONGEST = 120  # letters of what was found


def finding_lines(findings: Sequence[Finding], folder: str = "") -> tuple[str, ...]:
    """Write findings for a person: place, what it is, the words, what to do; how to allow it at the end.

    `folder` is the content folder as it is to be named.
    """
    lines = [line for one in findings for line in (*_lines(one, folder and f"{folder}/"), "")]
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
