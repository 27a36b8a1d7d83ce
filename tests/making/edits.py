"""A content folder of three cycles that lean on each other, and edits a director may make to it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from handbook.engines.plain import PlainEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.pipeline import Outcome
from handbook.store import Store
from tests.content_folders import base_files
from tests.real_media import document, wav

Files = dict[str, bytes]
MUSIC, SPRING, LATER = "cycles/winter/music.yaml", "cycles/spring/cycle.yaml", "cycles/later/"
SPRING_MUSIC = "cycles/spring/music.yaml"
SPRING_CONCERT = "cycles/spring/concert.yaml"


def three_cycles() -> Files:
    """Give winter, spring, which goes on from it and uses a word of its, and a draft beside it."""
    files = {name: text.encode() for name, text in base_files().items()}
    stages = files["cycles/winter/cycle.yaml"].partition(b"stages:")[2]
    words = b"words:\n  legato: smooth, notes joined\n"
    files[MUSIC] = (
        files[MUSIC].replace(
            b"    ensemble: lantern\n", b"    ensemble: lantern\n    terms: [legato]\n"
        )
        + words
    )
    files[SPRING] = (
        b"name: Spring cycle\nyear: 2026-27\nstarts: Mon 2027-02-01\nends: Fri 2027-03-26\n"
        b"ensembles: [lantern]\nstages:" + stages
    )
    files[SPRING_MUSIC] = (
        b"pieces:\n  - id: tide-mill\n    title: Tide Mill\n    ensemble: lantern\n    terms: [legato]\n"
        b"    form:\n      - {name: Whole, measures: 1-24, meter: 4/4, tempo: quarter = 88}\n"
        b"    passages:\n      - {id: wheel, name: The wheel, measures: 1-16, goal: quarter = 88}\n"
    )
    files[f"{LATER}cycle.yaml"] = (
        b"name: Later cycle\nyear: 2026-27\nstarts: Mon 2027-03-01\nends: Fri 2027-04-30\ndraft: yes\n"
        b"ensembles: [harbor]\nstages:" + stages
    )
    files[f"{LATER}music.yaml"] = (
        b"pieces:\n  - id: slow-boat\n    title: Slow Boat\n    ensemble: harbor\n"
        b"    form:\n      - {name: Whole, measures: 1-24, meter: 4/4, tempo: quarter = 66}\n"
        b"    passages:\n      - {id: drift, name: The drift, measures: 1-12, goal: quarter = 66}\n"
    )
    exercise = "      - {{id: {0}, name: {0}, level: {1}, how: Play it., rehearsals: {2}}}\n"
    files["fundamentals.yaml"] = (
        "strands:\n  - id: tone\n    name: Tone\n    why: So that it sounds.\n    exercises:\n"
        + exercise.format("long-tones", 1, 4)
        + exercise.format("swells", 2, 9)
        + exercise.format("leaps", 3, 9)
    ).encode()
    return files


def _replaced(name: str, old: bytes, new: bytes) -> Callable[[Files], Files]:
    def edit(files: Files) -> Files:
        if name not in files:
            return files
        assert files[name].count(old) == 1, (name, old)
        return {**files, name: files[name].replace(old, new)}

    return edit


def _without(prefix: str) -> Callable[[Files], Files]:
    return lambda files: {name: raw for name, raw in files.items() if not name.startswith(prefix)}


EDITS: Mapping[str, Callable[[Files], Files]] = {
    "a goal": _replaced(MUSIC, b"goal: quarter = 96", b"goal: quarter = 92"),
    "a goal in spring": _replaced(SPRING_MUSIC, b"goal: quarter = 88", b"goal: quarter = 84"),
    "a meaning used elsewhere": _replaced(MUSIC, b"notes joined", b"like one long breath"),
    "a term without meaning": _replaced(MUSIC, b"words:\n  legato", b"words:\n  legatto"),
    "a moved concert": _replaced(
        "cycles/winter/concert.yaml",
        b"date: Thu 2026-12-10",
        b"date: Fri 2026-12-11\nmoved_from: Thu 2026-12-10\ntold: Mon 2026-11-30",
    ),
    "a cancelled concert": _replaced(
        "cycles/winter/concert.yaml", b"venue: hall", b"venue: hall\ncancelled: Ice"
    ),
    "a piece's title": _replaced(SPRING_MUSIC, b"Tide Mill", b"The Tide Mill"),
    "the program's name": _replaced("program.yaml", b"Quillhaven Bands", b"Bands of Quillhaven"),
    "a usual leap": _replaced("program.yaml", b"rooms:\n", b"usual: {leap: 9}\nrooms:\n"),
    "the site's address": _replaced(
        "program.yaml", b"time_zone:", b"address: https://bands.example/q/\ntime_zone:"
    ),
    "a part": _replaced("program.yaml", b"trumpet: 7", b"trumpet: 7, horn: 2"),
    "an exercise": _replaced("fundamentals.yaml", b"name: swells", b"name: Long swells"),
    "rehearsals of an exercise": _replaced(
        "fundamentals.yaml",
        b"level: 1, how: Play it., rehearsals: 4",
        b"level: 1, how: Play it., rehearsals: 30",
    ),
    "the newest name": _replaced(SPRING, b"Spring cycle", b"March cycle"),
    "no draft": _replaced(f"{LATER}cycle.yaml", b"draft: yes\n", b""),
    "a room used twice": lambda files: (
        _replaced(
            f"{LATER}cycle.yaml",
            b"draft: yes\n",
            b"extra:\n  - {ensemble: harbor, date: Mon 2027-03-08, start: 10:10, end: 10:40}\n",
        )(files)
        if b"draft: yes" in files.get(f"{LATER}cycle.yaml", b"")
        else files
    ),
    "a second concert": lambda files: {
        **files,
        "cycles/winter/concerts/matinee.yaml": files["cycles/winter/concert.yaml"]
        .replace(b"Winter concert", b"Matinee")
        .replace(b"Thu 2026-12-10", b"Wed 2026-12-02"),
    },
    "a spring concert": lambda files: (
        {
            **_replaced(SPRING, b"ends: Fri 2027-03-26\n", b"")(files),
            SPRING_CONCERT: b"name: Spring concert\ndate: Thu 2027-03-25\ndownbeat: 7:00 pm\n"
            b"venue: hall\nprogram:\n  - {ensemble: lantern, pieces: [tide-mill]}\n",
        }
        if SPRING in files
        else files
    ),
    "another day of it": _replaced(SPRING_CONCERT, b"Thu 2027-03-25", b"Wed 2027-03-24"),
    "a rain plan": _replaced(
        "cycles/winter/concert.yaml",
        b"venue: hall\n",
        b"venue: hall\nrain: {date: Fri 2026-12-11, decided: 2 pm}\n",
    ),
    "an earlier spring": _replaced(SPRING, b"Mon 2027-02-01", b"Mon 2027-01-11"),
    "a later winter": _replaced("cycles/winter/cycle.yaml", b"Mon 2026-10-19", b"Mon 2026-11-09"),
    "shared days": _replaced(SPRING, b"Mon 2027-02-01", b"Tue 2026-12-01"),
    "no spring": _without("cycles/spring/"),
    "a closure": _replaced(
        "years/2026-27.yaml", b"closures:\n", b"closures:\n  - {name: Snow, date: Wed 2027-02-10}\n"
    ),
    "an event": lambda files: {
        **files,
        "events.yaml": b"events:\n  - {id: parade, name: Parade, date: Sat 2027-02-13, starts: 9 am}\n",
    },
    "a later event": lambda files: {
        **files,
        "events/later.yaml": b"events:\n  - {id: fair, name: Fair, on: [Sat 2027-03-13], who: [lantern]}\n",
    },
    "an event in class": lambda files: {
        **files,
        "events/class.yaml": b"events:\n  - {id: trip, name: Trip, from: Mon 2027-02-08, to: Wed 2027-02-10, away: all day, who: [lantern]}\n",
    },
    "a page": lambda files: {**files, "pages/lockers.md": b"# Lockers\n\nBring a lock.\n"},
    "a second language": _replaced("program.yaml", b"rooms:\n", b"languages: [en, es]\nrooms:\n"),
    "a page in Spanish": lambda files: {
        **files,
        "pages/es/lockers.md": b"# Casilleros\n\nTraiga un candado.\n",
    },
    "a name in Spanish": _replaced(
        MUSIC, b"    title: Tweed Kites\n", b"    title: {en: Tweed Kites, es: Cometas de lana}\n"
    ),
    "a broken link": lambda files: {
        **files,
        "pages/lost.md": b"# Lost\n\nSee [this](../nowhere/).\n",
    },
    "a recording": lambda files: (
        {
            **_replaced(
                SPRING_MUSIC,
                b"    ensemble: lantern\n",
                b"    ensemble: lantern\n    recording: mill.wav\n",
            )(files),
            "media/mill.wav": wav(1),
        }
        if SPRING_MUSIC in files
        else files
    ),
    "a map": lambda files: {
        **files,
        "pages/way.md": b"# The way\n\n[Map](../media/way.pdf)\n",
        "media/way.pdf": document(),
    },
    "another sound": lambda files: {**files, "media/mill.wav": wav(2)},
    "a log": lambda files: {
        **files,
        "cycles/winter/log/2026-11-09.yaml": b"date: Mon 2026-11-09\nensemble: lantern\n"
        b"reached: [{passage: opening, tempo: quarter = 50}]\nnote: Slower.\n",
    },
    "another tempo in that log": lambda files: {
        **files,
        "cycles/winter/log/2026-11-09.yaml": b"date: Mon 2026-11-09\nensemble: lantern\n"
        b"reached: [{passage: opening, tempo: quarter = 63}]\nnote: Not so fast.\n",
    },
    "a log of a draft": lambda files: {
        **files,
        f"{LATER}log/first.yaml": b"date: Mon 2027-03-08\nensemble: harbor\nnot_done: [drift]\n",
    },
    "an unknown file": lambda files: {**files, "pieces.yaml": b"pieces: []\n"},
    "no YAML": lambda files: {**files, "fundamentals.yaml": b"strands: ["},
}


def edited(edits: Iterable[str]) -> Files:
    """Give the files with edits made to them, in the order of the list above."""
    files, wanted = three_cycles(), set(edits)
    for name, edit in EDITS.items():
        if name in wanted and not (name == "an earlier spring" and "shared days" in wanted):
            files = edit(files)
    return files


def write_anew(folder: Path, files: Files) -> None:
    """Let a folder hold exactly these files; what is the same already is not touched."""
    for path in sorted(folder.rglob("*"), reverse=True):
        if path.is_file() and path.relative_to(folder).as_posix() not in files:
            path.unlink()
        elif path.is_dir() and not any(path.iterdir()):
            path.rmdir()
    for name, raw in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.exists() or path.read_bytes() != raw:
            path.write_bytes(raw)


def made_or_stopped(content: Path, store: Store) -> FinishedSite | Outcome:
    """Make the site of a content folder with the quick engine, or tell what is wrong with it."""
    return build(content, store, PlainEngine, lambda site: site)


def made(content: Path, store: Store) -> FinishedSite:
    """Make the site of sound content with the quick engine."""
    site = made_or_stopped(content, store)
    assert isinstance(site, FinishedSite), site.problems
    return site
