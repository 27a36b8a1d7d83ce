"""Programs unlike the demo: bare ones, crowded ones, and one with words as long as they come."""

from __future__ import annotations

from collections.abc import Mapping

from tests.content_folders import base_files

LONG = "Donaudampfschifffahrtsmusikantenvereinigung and Friends of the Upper and the Lower Millrace"

_PROGRAM = """\
name: {name}
school: Millrace School
time_zone: America/New_York
contact: {{role: Band office}}
ensembles:
{ensembles}
rooms:
  - {{id: studio, name: Music studio}}
venues:
  - {{id: mill, name: {venue}, address: 3 Weir Lane}}
"""
_CYCLE = """\
name: {name}
year: 2026-27
starts: Mon 2027-03-15
ends: Thu 2027-04-08
ensembles: [{ids}]
stages:
  - {{id: read, name: {stage}, purpose: Learn the notes, tempo: 50-100, minutes: {{fundamentals: 1, music: 1}}, goals: [Name every note]}}
"""
_PIECE = """\
  - id: song-{id}
    title: {title}
    ensemble: {id}
    form:
      - {{name: All, measures: 1-16, meter: 4/4, tempo: quarter = 96}}
    passages:
      - {{id: all, name: {passage}, measures: 1-16, goal: quarter = 96}}
"""


def bare() -> dict[str, str]:
    """One ensemble, one stage, no concert, no fundamentals, no pages, nothing more."""
    return _folder(["band"], {"band": "Millrace Band"})


def no_cycle() -> dict[str, str]:
    """A program before its first cycle."""
    return {name: text for name, text in bare().items() if not name.startswith("cycles/")}


def long_words() -> dict[str, str]:
    """One ensemble whose every name is long."""
    return _folder(["band"], {"band": LONG}, name=LONG, title=LONG, stage=LONG, concert=LONG)


def crowded() -> dict[str, str]:
    """Eight ensembles, all in one concert."""
    ids = [f"band-{number}" for number in range(1, 9)]
    return _folder(
        ids, {one: f"Millrace Band Number {one[-1]}" for one in ids}, concert="All Bands"
    )


def _folder(
    ids: list[str],
    names: Mapping[str, str],
    *,
    name: str = "Millrace Bands",
    title: str = "Weir Song",
    stage: str = "Read",
    concert: str = "",
) -> dict[str, str]:
    ensembles = "\n".join(
        f"  - {{id: {one}, name: {names[one]}, room: studio, instruments: {{flute: 4}}}}"
        for one in ids
    )
    year = base_files()["years/2026-27.yaml"].partition("meetings:")[0]
    files = {
        "program.yaml": _PROGRAM.format(
            name=name, ensembles=ensembles, venue=concert or "The Mill"
        ),
        "years/2026-27.yaml": f"{year}meetings:\n{_meetings(ids)}",
        "cycles/spring/cycle.yaml": _CYCLE.format(name=name, ids=", ".join(ids), stage=stage),
        "cycles/spring/music.yaml": "pieces:\n"
        + "".join(_PIECE.format(id=one, title=title, passage=title) for one in ids),
    }
    if concert:
        turns = "\n".join(
            f"  - {{ensemble: {one}, pieces: [song-{one}], call: 6:00 pm}}" for one in ids
        )
        files["cycles/spring/concert.yaml"] = (
            f"name: {concert}\ndate: Thu 2027-04-08\ndownbeat: 6:30 pm\nvenue: mill\nprogram:\n{turns}\n"
        )
    return files


def _meetings(ids: list[str]) -> str:
    """Let each band meet on Mondays and Wednesdays, one after the other."""
    return "".join(
        f"  - {{ensemble: {one}, weekdays: [Mon, Wed], start: '{8 + at}:00 am', end: '{8 + at}:40 am'}}\n"
        if 8 + at < 12
        else f"  - {{ensemble: {one}, weekdays: [Tue, Thu], start: '{at + 4}:00 am', end: '{at + 4}:40 am'}}\n"
        for at, one in enumerate(ids)
    )


PROGRAMS: Mapping[str, dict[str, str]] = {
    "bare": bare(),
    "no cycle": no_cycle(),
    "long words": long_words(),
    "crowded": crowded(),
}
