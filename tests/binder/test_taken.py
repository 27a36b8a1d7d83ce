"""A day's rehearsals as one folder: all that the day needs, and no way out of it."""

from __future__ import annotations

import re
import wave
from datetime import date
from pathlib import Path
from urllib.parse import unquote

import pytest

from handbook.binder.model import Binder, BinderFile
from handbook.binder.taken import rehearsal_days, taken_files
from tests.binder.conftest import binder_of
from tests.binder.test_binder import NOTICE, ended
from tests.content_folders import base_files, changed, write_folder
from tests.plan.planning import CYCLE, MUSIC

DAY = date(2026, 10, 26)
_ADDRESS = re.compile(r"""(?:href|src)=["']?([^"'> ]+)""")
DAYS = """\
days:
  - {date: Mon 2026-10-26, materials: [{text: Forms, where: tray, media: a march.wav}, {text: Map, media: map.png}], private: ask for the key}
extra:
  - {ensemble: harbor, date: Mon 2026-10-26, start: 3:30 pm, end: 4:30 pm}
"""


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Write content with a day that needs a recording and has a note."""
    folder = tmp_path_factory.mktemp("taken") / "content"
    files = base_files()
    linked = changed(
        files,
        MUSIC,
        "title: Button Comets\n",
        'title: Button Comets\n    about: "As [we said](https://quillhaven.example/)"\n',
    )
    write_folder(folder, {**linked, CYCLE: files[CYCLE] + DAYS})
    (folder / "media").mkdir()
    (folder / "media" / "map.png").write_bytes(b"a picture of another kind")
    with wave.open(str(folder / "media" / "a march.wav"), "wb") as sound:
        sound.setparams((1, 2, 8000, 0, "NONE", "not compressed"))
        sound.writeframes(b"\0\1" * 800)
    return folder


@pytest.fixture(scope="module")
def binder(content: Path) -> Binder:
    """Lay ready a binder of it."""
    return binder_of(content)


@pytest.fixture(scope="module")
def files(binder: Binder) -> tuple[BinderFile, ...]:
    """Make the folder of the day."""
    return taken_files(binder, DAY)


def text_of(files: tuple[BinderFile, ...], path: str) -> str:
    (content,) = (one.content for one in files if one.path == path)
    assert isinstance(content, bytes)
    return content.decode()


def test_it_has_the_stand_view_sheets_and_recordings_of_the_day(
    files: tuple[BinderFile, ...],
) -> None:
    names = {one.path for one in files if not one.path.startswith("assets/")}
    assert names >= {"index.html", "stand.html", "media/a march.wav", ".gitignore"}
    assert sorted(name for name in names if name.endswith(".pdf")) == [
        "harbor-2026-10-26-extra-substitute.pdf",
        "harbor-2026-10-26-extra.pdf",
        "lantern-2026-10-26-substitute.pdf",
        "lantern-2026-10-26.pdf",
    ]


def test_nothing_leads_out_of_it(files: tuple[BinderFile, ...]) -> None:
    names = {one.path for one in files}
    for path in ("index.html", "stand.html"):
        text = text_of(files, path)
        found = [unquote(one).removeprefix("./") for one in _ADDRESS.findall(text)]
        found = [one.removesuffix("#class") for one in found]
        assert [
            one for one in found if one not in names and not one.startswith(("#", "data:"))
        ] == []


def test_its_first_page_says_what_to_lay_ready_and_what_is_private(
    files: tuple[BinderFile, ...],
) -> None:
    page = text_of(files, "index.html")
    assert NOTICE in page
    assert '<a href="stand.html#class">Class screen</a>' in page
    assert "Monday, October 26, 2026" in page
    assert re.search(r'<a href="media/a%20march.wav">Forms</a>', page)
    assert page.count("tray") == 2, "both bands have the day's note"
    assert "ask for the key" in page


def test_a_file_for_the_room_alone_is_taken_as_it_is(files: tuple[BinderFile, ...]) -> None:
    """What cannot be cleaned is never published, but in class it may be shown."""
    assert text_of(files, "media/map.png") == "a picture of another kind"


def test_the_day_has_only_its_own_bands_and_hours(binder: Binder) -> None:
    found = taken_files(binder, date(2026, 10, 28))
    assert not [one.path for one in found if one.path.startswith("harbor")]
    assert "Harbor Band" not in text_of(found, "index.html")
    stand = text_of(found, "stand.html")
    assert "2026-10-28" in stand
    assert f"{DAY}" not in stand


def test_a_band_may_be_taken_alone(binder: Binder) -> None:
    names = {one.path for one in taken_files(binder, DAY, "harbor")}
    assert "harbor-2026-10-26-extra.pdf" in names
    assert "lantern-2026-10-26.pdf" not in names


def test_days_with_rehearsals(binder: Binder) -> None:
    assert DAY in rehearsal_days(binder.plan, "harbor")
    assert date(2026, 10, 28) in rehearsal_days(binder.plan)
    assert date(2026, 10, 28) not in rehearsal_days(binder.plan, "harbor")


def test_the_command_takes_a_day_along(
    content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert ended("binder", content, "--take", "2026-10-26:lantern") == 0
    (place,) = (tmp_path / "handbook-binder").iterdir()
    assert place.name.endswith("-2026-10-26-lantern")
    assert (place / "lantern-2026-10-26.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("take", "told"),
    [
        ("2026-10-25", "there is no rehearsal on Sun 2026-10-25: there is one on Mon 2026-10-26"),
        ("2027-06-01", "there is one on Thu 2026-12-10"),
        ("2026-10-26:choir", "there is no ensemble `choir`"),
        ("Tue 2026-10-26", "2026-10-26 is a Monday"),
    ],
)
def test_a_day_without_rehearsal_is_told_in_a_sentence(
    content: Path, take: str, told: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    assert ended("binder", content, "--take", take, "--to", tmp_path / "b") == 2
    assert told in capfd.readouterr().err
