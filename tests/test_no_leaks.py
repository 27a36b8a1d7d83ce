"""Nothing that a director keeps private is in any byte of the site."""

from __future__ import annotations

import gzip
import shutil
import wave
from collections.abc import Iterator
from datetime import date
from io import BytesIO
from itertools import count
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import yaml

from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.engines.plain import PlainEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.pipeline import load_plan
from handbook.publishing import publish
from handbook.publishing.manifest import MARKER
from handbook.store import Store
from tests.demo import demo_in
from tests.outputs.sheets.reading import page_texts

MARK = "zqxsecret"  # occurs in no word of any language here
SHOWN = "zqxshown"  # put into public texts: shows that the search below can find at all
NO_ITEMS = frozenset({"instruments", "words"})  # their keys are the author's own names


def published(content: Path, target: Path) -> dict[str, bytes]:
    """Build, and give every file's bytes by name, packed ones also unpacked."""
    made = build(content, Store(), PlainEngine, lambda site: site)
    assert isinstance(made, FinishedSite), made
    publish(made.files, target, content=content)
    return dict(_readings(target))


def _readings(target: Path) -> Iterator[tuple[str, bytes]]:
    for path in sorted(target.rglob("*")):
        if path.is_file():
            name, content = path.relative_to(target).as_posix(), path.read_bytes()
            yield name, content
            if content[:2] == b"\x1f\x8b":
                yield f"{name} unpacked", gzip.decompress(content)
            if content[:5] == b"%PDF-":
                yield f"{name} unpacked", _unpacked(content)
                if not name.startswith("ar/"):  # a template writes the same sheet in each language
                    yield f"{name} read", "\n".join(page_texts(content)).encode()


def _unpacked(content: bytes) -> bytes:
    """Give a PDF without compression, and its texts of two bytes a letter as if of one."""
    bare = BytesIO()
    with pikepdf.open(BytesIO(content)) as document:
        document.save(
            bare,
            compress_streams=False,
            stream_decode_level=pikepdf.StreamDecodeLevel.all,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
            deterministic_id=True,
        )
    return bare.getvalue().replace(b"\0", b"")


def contents(files: dict[str, bytes]) -> dict[str, bytes]:
    """Leave out the list of files, which notes when each was written."""
    return {name: content for name, content in files.items() if name != MARKER}


def holding(files: dict[str, bytes], word: str) -> list[str]:
    """Name the files that have a word in their bytes, their name or their folders' names."""
    lower = word.encode().lower()
    return [name for name, content in files.items() if lower in content.lower() or word in name]


@pytest.fixture
def content(tmp_path: Path) -> Path:
    folder = tmp_path / "content"
    write_starter(folder, *starter_dates(date(2026, 11, 25)))
    return folder


def rewritten(file: Path, data: Any) -> None:
    """Write data as YAML with a comment at the end of every line that can carry one."""
    text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True, width=10_000)
    lines = [f"{line}  # {MARK}comment" for line in text.splitlines()]
    file.write_text("\n".join((f"# {MARK}comment", *lines, "")), encoding="utf-8")


def read(file: Path) -> Any:
    return yaml.load(file.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)


def with_private(data: Any, numbers: Iterator[int]) -> Any:
    """Put something private into every entry: a text, a list or an entry, by turns."""
    if isinstance(data, list):
        return [with_private(item, numbers) for item in data]
    if not isinstance(data, dict):
        return data
    inside = {
        key: item if key in NO_ITEMS else with_private(item, numbers) for key, item in data.items()
    }
    number = next(numbers)
    word = f"{MARK}{number}"
    shapes: list[Any] = [word, [word, {"note": word}], {word: word, "private": [word]}]
    return {**inside, "private": shapes[number % 3]}


@pytest.mark.parametrize(("start", "least"), [("starter", 45), ("demo", 1000)])
def test_nothing_under_private_is_published_from_any_entry_of_any_file(
    content: Path, tmp_path: Path, start: str, least: int
) -> None:
    if start == "demo":
        shutil.rmtree(content)
        demo_in(content, "en", "ar")
    numbers = count()
    for file in sorted(content.rglob("*.yaml")):
        rewritten(file, with_private(read(file), numbers))
    assert next(numbers) > least  # entries that were seeded
    program = read(content / "program.yaml")
    rewritten(content / "program.yaml", {**program, "about": f"Welcome {SHOWN}"})
    for file in content.rglob("concert.yaml"):
        rewritten(file, {**read(file), "attire": [f"Shoes {SHOWN}"]})

    files = published(content, tmp_path / "site")
    assert holding(files, MARK) == []
    shown = holding(files, SHOWN)
    assert "index.html" in shown
    assert any(name.endswith(".pdf read") for name in shown), "sheets are searched too"
    titles = [
        name
        for name, text in files.items()
        if name.endswith(".pdf unpacked") and b"Concert" in text
    ]
    assert titles, "what a sheet says beside its pages is searched too"


def test_nothing_of_a_draft_is_published(content: Path, tmp_path: Path) -> None:
    before = published(content, tmp_path / "before")
    (cycle,) = (content / "cycles").iterdir()
    draft = content / "cycles" / f"{MARK}-draft"
    shutil.copytree(cycle, draft)
    later = {"starts": "2027-03-01", "draft": "yes"}
    rewritten(draft / "cycle.yaml", {**marked(read(draft / "cycle.yaml")), **later, "days": []})
    rewritten(draft / "music.yaml", marked(read(draft / "music.yaml")))
    rewritten(
        draft / "concert.yaml", {**marked(read(draft / "concert.yaml")), "date": "2027-04-22"}
    )

    files = published(content, tmp_path / "after")
    assert holding(files, MARK) == []
    assert contents(files) == contents(before)


def test_nothing_of_a_log_is_published_but_the_tempos_that_follow(
    content: Path, tmp_path: Path
) -> None:
    before = published(content, tmp_path / "before")
    (cycle,) = (content / "cycles").iterdir()
    plan = load_plan(content).plan
    assert plan is not None
    ensemble = plan.cycles[0].ensembles[0]
    piece = ensemble.pieces[0]
    visit = piece.passages[0].visits[3]
    slower = visit.rung.tempo.at(visit.rung.tempo.bpm - 7)
    log: dict[str, Any] = {
        "date": ensemble.rehearsals[visit.place].rehearsal.day.isoformat(),
        "ensemble": ensemble.band,
        "over": "117",
        "note": {"en": f"It was {MARK}.", "es": MARK},
        "private": MARK,
    }
    file = cycle / "log" / f"{MARK}.yaml"
    file.parent.mkdir(exist_ok=True)
    rewritten(file, log)
    files = published(content, tmp_path / "noted")
    assert contents(files) == contents(before), "what changes no tempo changes no byte"

    entry = {"passage": piece.passages[0].item.id, "tempo": str(slower), "private": MARK}
    rewritten(file, {**log, "reached": [entry]})
    files = published(content, tmp_path / "after")
    assert contents(files) != contents(before)
    assert holding(files, MARK) == []
    assert {*files} == {*before}


HUMAN = frozenset(
    {
        "name",
        "purpose",
        "goals",
        "home",
        "title",
        "by",
        "text",
        "thanks",
        "notices",
        "place",
        "attire",
        "bring",
    }
)


def marked(data: Any, *, human: bool = False) -> Any:
    """Put the mark into every text that people would read."""
    if isinstance(data, list):
        return [marked(item, human=human) for item in data]
    if isinstance(data, dict):
        return {
            key: item if key == "words" else marked(item, human=human or key in HUMAN)
            for key, item in data.items()
        }
    return f"{data} {MARK}" if human and isinstance(data, str) else data


STRAY = [
    "media/{mark}.mp3",
    "media/roster/{mark}.png",
    "media/.{mark}.mp3",
    "roster-{mark}.csv",
    "pages/{mark}.txt",
    "cycles/notes-{mark}.docx",
    ".git/{mark}",
    ".env",
]


def test_no_file_is_copied_that_no_yaml_names(content: Path, tmp_path: Path) -> None:
    before = published(content, tmp_path / "before")
    for name in STRAY:
        stray = content / name.format(mark=MARK)
        stray.parent.mkdir(parents=True, exist_ok=True)
        stray.write_bytes(MARK.encode())
    assert contents(published(content, tmp_path / "after")) == contents(before)


def test_a_media_file_is_published_once_it_is_named(content: Path, tmp_path: Path) -> None:
    (content / "media").mkdir()
    with wave.open(str(content / "media" / "long-notes.wav"), "wb") as sound:
        sound.setparams((1, 2, 8000, 0, "NONE", "not compressed"))
        sound.writeframes(SHOWN.encode() * 800)
    with (content / "media" / "long-notes.wav").open("ab") as sound_file:
        sound_file.write(MARK.encode())  # as programs add their notes at the end
    file = content / "fundamentals.yaml"
    fundamentals = read(file)
    exercise = fundamentals["strands"][0]["exercises"][0]
    exercise["media"] = "long-notes.wav"
    # What is for the room alone is on no page, and so neither is its file.
    shutil.copy(content / "media" / "long-notes.wav", content / "media" / f"{MARK}.wav")
    exercise["materials"] = [{"text": MARK, "where": MARK, "media": f"{MARK}.wav"}]
    rewritten(file, fundamentals)
    program = read(content / "program.yaml")
    program["substitute"] = {"before": [MARK], "ask": [{"role": MARK, "phone": MARK}]}
    rewritten(content / "program.yaml", program)
    files = published(content, tmp_path / "site")
    assert holding(files, SHOWN) == ["media/long-notes.wav"]
    assert holding(files, MARK) == []


@pytest.mark.parametrize(
    "text",
    [
        f"<!-- {MARK} -->",
        f"Hello <!-- {MARK} --> there",
        f"<div hidden>{MARK}</div>",
        f"<!--\n{MARK}\n-->",
        f"[//]: # ({MARK})",
        f"[x]: https://example.org/ '{MARK}'",
    ],
)
def test_what_markdown_hides_is_refused_or_left_out(
    content: Path, tmp_path: Path, text: str
) -> None:
    page = content / "pages" / "welcome.md"
    page.write_text(f"# Welcome\n\nHello.\n\n{text}\n", encoding="utf-8")
    if load_plan(content).plan is not None:
        published(content, tmp_path / "site")
        assert holding(dict(_readings(tmp_path / "site")), MARK) == []


def test_no_place_on_the_directors_computer_is_published(content: Path, tmp_path: Path) -> None:
    files = published(content, tmp_path / "site")
    for place in (str(tmp_path).encode(), str(Path.home()).encode()):
        # As it is written: who is root has a home that PDF has a word for, but for its capital.
        assert [name for name, content in files.items() if place in content] == []
