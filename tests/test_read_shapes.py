"""No file, whatever its shape, takes much longer to read and check than a plain one of its size.

Each shape is a line or a run of signs repeated until the file has 200,000 characters. Time
is the processor's, as a ratio to a plain file in the same run: what grows with the square
of its length takes a hundred times as long at this size, or more.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from handbook.pipeline import load_plan
from handbook.report import report_json, report_text
from tests.content_folders import base_files, write_folder

SIZE = 200_000
MOST_TIMES = 8
MUSIC, CYCLE, PROGRAM = "cycles/winter/music.yaml", "cycles/winter/cycle.yaml", "program.yaml"
CONCERT, YEAR, PAGE = "cycles/winter/concert.yaml", "years/2026-27.yaml", "pages/attendance.md"
BASE = base_files()
PIECE = """  - id: piece-{n}
    title: Piece {n}
    ensemble: lantern
    form: [{{name: Whole, measures: 1-16, meter: 4/4, tempo: quarter = 96}}]
    passages: [{{id: a, name: All, measures: 1-16, goal: quarter = 96}}]
"""


def seconds(folder: Path, files: dict[str, str]) -> tuple[float, int]:
    """Give the time of the processor to read, check and report, and the length of the report."""
    write_folder(folder, files)
    begun = time.process_time()
    outcome = load_plan(folder)
    text = report_text(outcome.problems, outcome.sources)
    report_json(outcome.problems, outcome.sources)
    return time.process_time() - begun, len(text)


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> float:
    """The time for a plain file that is refused for one slip, so that nothing is planned."""
    pieces = "".join(PIECE.format(n=n) for n in range(SIZE // len(PIECE)))
    files = {**BASE, MUSIC: f"pieces:\n{pieces}", CONCERT: BASE[CONCERT].replace("hall", "haul")}
    folders = (tmp_path_factory.mktemp("plain") for _ in range(3))
    return min(seconds(folder, files)[0] for folder in folders)


def after(name: str, head: str, line: str) -> Callable[[], dict[str, str]]:
    """Put a line many times at the end of a file; `{n}` in it counts up."""

    def made() -> dict[str, str]:
        count = SIZE // max(1, len(line))
        return {
            name: BASE[name] + head + "".join(line.replace("{n}", str(n)) for n in range(count))
        }

    return made


def value(name: str, field: str, sign: str, around: str = "") -> Callable[[], dict[str, str]]:
    """Make the value of a field of one run of signs."""

    def made() -> dict[str, str]:
        begun = BASE[name].split(f"{field}:", 1)
        run = sign * (SIZE // len(sign))
        text = f'"{run}"' if not around else around.replace("…", run)
        rest = begun[1].split("\n", 1)[1]
        return {name: f"{begun[0]}{field}: {text}\n{rest}"}

    return made


SHAPES: dict[str, Callable[[], dict[str, str]]] = {
    "unknown fields": after(MUSIC, "", "    field{n}: x\n"),
    "missing fields": after(CONCERT, "crew:\n", "  - id: a{n}\n"),
    "unreadable dates": after(CYCLE, "days:\n", "  - date: 2026-13-{n}\n"),
    "days outside": after(CYCLE, "days:\n", "  - date: 2028-03-11\n"),
    "unknown ensembles": after(YEAR, "", "  - {ensemble: e{n}, weekdays: [Mon], period: p3}\n"),
    "unknown players": after(MUSIC, "        who:\n", "          - flute{n}\n"),
    "unknown terms": after(MUSIC, "    terms:\n", "      - term{n}\n"),
    "fields given twice": after(PROGRAM, "", "school: x\n"),
    "names that are none": after(PROGRAM, "", "? [a]\n: x\n"),
    "dropped texts": after(CYCLE, "notes:\n", "  - a #b{n}\n"),
    "copies": after(CYCLE, "notes:\n  - &a x\n", "  - *a\n"),
    "braces": after(CYCLE, "notes:\n", "  - 'a {Bx{n}} b'\n"),
    "languages": after(PROGRAM, "about:\n", "  en-{n}: x\n"),
    "fields without a space": after(CYCLE, "notes:\n  - a\n", "    a{n}:b\n"),
    "rehearsals": after(CYCLE, "extra:\n", "  - {ensemble: lantern, date: 2026-10-29, start: 5 pm, end: 6 pm}\n"),
    "pieces": after(MUSIC, "", PIECE.replace("{{", "{").replace("}}", "}")),
    "empty lines": after(CYCLE, "", "\n"),
    "tabs": after(CYCLE, "", "\t\n"),
    "open brackets": after(CYCLE, "notes: ", "["),
    "open brackets on lines": after(CYCLE, "notes: [", "a,\n "),
    "an open quote": after(CYCLE, 'notes: "', "a\n"),
    "a long plain text": after(CYCLE, "notes:\n- ", "word\n  "),
    "a title of spaces": value(MUSIC, "title", " ", "a…b"),
    "a page title of spaces": lambda: {PAGE: "# T" + " " * 2_500 + "x #x\n"},
    "links that run scripts": after(PAGE, "", "[a](javascript:x)\n"),
    "a key of dashes": after(MUSIC, "    key: >-\n", "      - - - - - - - - - - - - - - - - -\n"),
    **{f"a zone of {sign!r}": value(PROGRAM, "time_zone", sign) for sign in ("a", "7", ":", "a-")},
    **{f"a tempo of {sign!r}": value(MUSIC, "tempo", sign) for sign in ("quarter ", "9", "=", "(")},
}  # fmt: skip


@pytest.mark.parametrize("shape", SHAPES)
def test_no_shape_takes_much_longer_than_a_plain_file(
    shape: str, plain: float, tmp_path: Path
) -> None:
    took, letters = seconds(tmp_path, {**BASE, **SHAPES[shape]()})
    if took > MOST_TIMES * plain:  # another program may have been at work: look once more
        took = min(took, seconds(tmp_path, {})[0])
    assert took <= MOST_TIMES * plain
    assert letters < 20_000
