"""Content of any size for measuring: invented bands, cycles and pieces, as a director writes them.

Nothing in it is random: the same size gives the same files.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from textwrap import dedent

ENSEMBLES = ("lantern", "harbor", "beacon", "foghorn")
PIECES = 3  # for each ensemble in each cycle
_CYCLES_A_YEAR = 4
_FIRST_YEAR = 2026
_STARTS = ((8, 31), (10, 26), (1, 11), (3, 8))  # months and days, the last two in the next year
_INSTRUMENTS = (
    "flute",
    "clarinet",
    "alto-saxophone",
    "trumpet",
    "horn",
    "trombone",
    "tuba",
    "percussion",
)
_KEYS = ("Bb major", "Eb major", "F major", "C minor", "G minor", "Ab major")
_WORDS = (
    "Start this with air before the tongue, and let the last note ring to its end. "
    "Count the rests out loud once, then silently. Listen for the low voices under you."
)


def write_content(folder: Path, cycles: int) -> int:
    """Write content with so many cycles into a new folder, and count its lines."""
    lines = 0
    for name, text in _files(cycles):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        lines += text.count("\n")
    return lines


def _files(cycles: int) -> Iterator[tuple[str, str]]:
    yield "program.yaml", _program()
    yield "fundamentals.yaml", _fundamentals()
    for year in range(_FIRST_YEAR, _FIRST_YEAR + -(-cycles // _CYCLES_A_YEAR)):
        yield f"years/{_year_id(year)}.yaml", _year(year)
    for number in range(cycles):
        folder = f"cycles/c{number:03}"
        year, place = _FIRST_YEAR + number // _CYCLES_A_YEAR, number % _CYCLES_A_YEAR
        month, day = _STARTS[place]
        starts = _monday(date(year + (month < 8), month, day))
        yield f"{folder}/cycle.yaml", _cycle(number, _year_id(year), starts)
        yield f"{folder}/concert.yaml", _concert(number, starts + timedelta(days=52))
        for ensemble in ENSEMBLES:
            yield f"{folder}/music/{ensemble}.yaml", _music(number, ensemble)


def _year_id(year: int) -> str:
    return f"{year}-{(year + 1) % 100:02}"


def _monday(day: date) -> date:
    return day + timedelta(days=-day.weekday() % 7)


def _program() -> str:
    bands = "".join(
        f"  - id: {name}\n    name: {name.capitalize()} Band\n    room: band-room\n    instruments:\n"
        + "".join(
            f"      {instrument}: {4 + place}\n" for place, instrument in enumerate(_INSTRUMENTS)
        )
        for name in ENSEMBLES
    )
    head = """\
        name: Measured Bands
        school: Measured School
        time_zone: America/Chicago
        contact: {role: Band office, email: band-office@quillhaven.example}
        rooms: [{id: band-room, name: Band room}]
        venues: [{id: hall, name: School hall, address: 1 Harbor Street}]
        ensembles:
        """
    return dedent(head) + bands


def _fundamentals() -> str:
    strands = ("breathing", "tone", "tuning", "articulation", "rhythm")
    text = f"order: [{', '.join(strands)}]\nstrands:\n"
    for strand in strands:
        text += f"  - id: {strand}\n    name: {strand.capitalize()}\n    why: {_WORDS}\n    exercises:\n"
        for level in range(1, 41):
            text += (
                f"      - {{id: {strand}-{level}, name: {strand.capitalize()} {level}, level: {level},"
                f" rehearsals: 6, tempo: quarter = {60 + level}, how: Level {level} of it}}\n"
            )
    return text


def _year(year: int) -> str:
    first = _monday(date(year, 8, 24))
    head = f"""\
        name: {_year_id(year)}
        first_day: {first}
        last_day: {year + 1}-06-04
        bells:
          - id: regular
            periods:
              - {{id: p1, start: 8:20 am, end: 9:07 am}}
              - {{id: p2, start: 9:11 am, end: 9:58 am}}
              - {{id: p3, start: 10:02 am, end: 10:49 am}}
              - {{id: p4, start: 10:53 am, end: 11:40 am}}
            school_ends: 2:45 pm
        meetings:
        """
    meetings = "".join(
        f"  - {{ensemble: {name}, weekdays: [Mon, Wed, Fri], period: p{place}}}\n"
        for place, name in enumerate(ENSEMBLES, 1)
    )
    return dedent(head) + meetings


def _cycle(number: int, year: str, starts: date) -> str:
    stages = (("read", 3, "50-65"), ("join", 5, "65-90"), ("show", 3, "90-100"))
    text = f"name: Cycle {number}\nyear: {year}\nstarts: {starts}\nensembles: [{', '.join(ENSEMBLES)}]\nstages:\n"
    for name, share, band in stages:
        text += (
            f"  - id: {name}\n    name: {name.capitalize()}\n    purpose: {_WORDS}\n    share: {share}\n"
            f"    tempo: {band}\n    minutes: {{fundamentals: 1, music: 2}}\n    goals:\n"
            + "".join(
                f"      - Goal {goal} of {name}, which everyone can hear\n" for goal in range(1, 6)
            )
        )
    return text


def _concert(number: int, day: date) -> str:
    program = "".join(
        f"  - {{ensemble: {name}, call: 6:00 pm, pieces: [{', '.join(f'{name}-{piece}' for piece in range(PIECES))}]}}\n"
        for name in ENSEMBLES
    )
    return (
        f"name: Concert {number}\ndate: {day}\ndownbeat: 7:00 pm\nvenue: hall\nprogram:\n{program}"
        "attire: [Black shoes, White shirt]\nbring: [Instrument, Pencil]\npick_up: 9:00 pm\n"
    )


def _music(number: int, ensemble: str) -> str:
    return "pieces:\n" + "".join(_piece(number, ensemble, piece) for piece in range(PIECES))


def _piece(number: int, ensemble: str, piece: int) -> str:
    goal = 80 + 4 * piece + number % 7
    text = (
        f"  - id: {ensemble}-{piece}\n    title: Piece {piece} of cycle {number}\n    by: the measuring script\n"
        f"    ensemble: {ensemble}\n    key: {_KEYS[(piece + number) % len(_KEYS)]}\n    about: {_WORDS}\n    form:\n"
        f"      - {{name: Opening, measures: 1-24, meter: 4/4, tempo: quarter = {goal}}}\n"
        f"      - {{name: Middle, measures: 25-56, meter: 3/4, tempo: quarter = {goal}}}\n"
        f"      - {{name: Ending, measures: 57-96, meter: 4/4, tempo: quarter = {goal}}}\n    passages:\n"
    )
    for passage in range(4):
        first = 1 + 24 * passage
        text += (
            f"      - id: passage-{passage}\n        name: Passage {passage}\n        measures: {first}-{first + 15}\n"
            f"        goal: quarter = {goal}\n        priority: {1 + passage % 3}\n        home: {_WORDS}\n        watch:\n"
            f"          - {{text: The accents are short, measures: {first}-{first + 3}, who: [trumpet, trombone]}}\n"
            f"          - {{text: Breathe after the bar line, measures: {first + 8}}}\n"
        )
    return text
