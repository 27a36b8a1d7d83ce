"""From a save to what is shown: sites, problems and the way back, and no end by a fault."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

import pytest

from handbook.making import kept_site
from handbook.making.model import FinishedSite
from handbook.serving import Listener, PortError, preview, serve
from handbook.serving.server import PreviewServer
from handbook.serving.versions import Preview, Shown
from tests.serving.asking import (
    CHECKOUT,
    PATIENCE,
    page_at,
    running,
    version_at,
    wait_for,
    wait_until,
)


def texts(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_folder_that_goes_and_comes_back(content: Path) -> None:
    away = content.with_name("away")
    with running(content) as run:
        content.rename(away)
        wait_until(run.address, lambda status, page: status == 503 and "program.yaml" in page)
        away.rename(content)
        wait_until(run.address, lambda status, page: status == 200 and "Your School" in page)
        shutil.rmtree(content)
        wait_until(run.address, lambda status, _: status == 503)
    assert not run.faults


@pytest.mark.skipif(sys.platform != "linux", reason="such names are taken on Linux only")
@pytest.mark.parametrize("broken", [True, False])
def test_names_that_are_no_text(content: Path, broken: bool) -> None:
    folder = Path(os.fsdecode(os.fsencode(content.parent) + b"/caf\xe9 [b] & <i>"))
    content.rename(folder)
    (folder / os.fsdecode(b"m\xfcsic.yaml")).write_text("a: 1")
    (folder / "pages").mkdir(exist_ok=True)
    (folder / "pages" / os.fsdecode(b"w\xfcrds.md")).write_text("# Words")
    if broken:
        (folder / "program.yaml").write_text("nam: x")
    with running(folder) as run:
        page = wait_until(run.address, lambda status, _: status == 503)
        assert "caf? [b] &amp; &lt;i&gt;/m\ufffdsic.yaml" in page
    assert not run.faults
    assert len(run.rounds) == 1


def test_an_error_of_a_file_that_is_half_saved_is_not_shown(
    content: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(preview, "_DOUBT", 1.0)
    file = content / "program.yaml"
    text = file.read_text(encoding="utf-8")
    with running(content) as run:
        for _ in range(2):
            file.write_text(text[: len(text) // 2] + "\n  - : [", encoding="utf-8")
            time.sleep(0.6)
            file.write_text(text.replace("Your School", "Our School"), encoding="utf-8")
        wait_until(run.address, lambda _, page: "Our School" in page)
        assert all(isinstance(made, FinishedSite) for made in run.rounds)


def test_a_fault_of_ours_is_shown_and_survived(
    content: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    whole = kept_site.build
    with running(content) as run:

        def fail(*_: object, **__: object) -> None:
            raise RuntimeError("no")

        monkeypatch.setattr(preview, "build", fail)
        (content / "program.yaml").touch()
        wait_until(run.address, lambda status, page: status == 503 and "a fault" in page)
        monkeypatch.setattr(preview, "build", whole)
        (content / "program.yaml").touch()
        wait_until(run.address, lambda status, _: status == 200)
    assert [str(fault) for fault in run.faults] == ["no"]


def test_the_old_site_is_read_while_a_new_one_is_made(
    content: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    whole, begun, go_on = kept_site.build, threading.Event(), threading.Event()

    def slowly(*inputs: Any, **options: Any) -> object:
        begun.set()
        assert go_on.wait(PATIENCE)
        return whole(*inputs, **options)

    with running(content) as run:
        monkeypatch.setattr(preview, "build", slowly)
        file = content / "program.yaml"
        text = file.read_text(encoding="utf-8")
        file.write_text(text.replace("Your School", "Our School"), encoding="utf-8")
        assert begun.wait(PATIENCE)
        assert "Your School" in page_at(run.address)[1]
        go_on.set()
        wait_until(run.address, lambda _, page: "Our School" in page)


def test_a_save_that_changes_nothing_loads_no_page_anew(content: Path) -> None:
    with running(content) as run:
        before = version_at(run.address)
        (content / "program.yaml").touch()
        wait_for(lambda: len(run.rounds) == 2)
        assert version_at(run.address) == before


def test_the_preview_writes_nothing_into_the_content(content: Path) -> None:
    before = texts(content)
    with running(content):
        assert texts(content) == before
    assert texts(content.parent) == before


def test_ports_that_cannot_be_had(content: Path) -> None:
    nobody = Listener(lambda _: None, lambda _: None, str)
    with PreviewServer(Preview(Shown()), 0) as taken, pytest.raises(PortError, match="is taken"):
        serve(content, nobody, port=taken.server_port)


def given_back(kind: str) -> None:
    """Let a signal end processes again: whoever started the tests may have had it ignored."""
    usual = signal.default_int_handler if kind == "SIGINT" else signal.SIG_DFL
    signal.signal(getattr(signal, kind), usual)


@pytest.mark.skipif(sys.platform == "win32", reason="ends a process by a signal")
@pytest.mark.parametrize("kind", ["SIGTERM", "SIGHUP", "SIGINT"])
def test_nothing_is_left_however_it_is_ended(content: Path, tmp_path: Path, kind: str) -> None:
    given_back(kind)
    passing = tmp_path / "passing"
    passing.mkdir()
    before = texts(content)
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT), "TMPDIR": str(passing)}
    environment |= {"PYTHONUNBUFFERED": "1", "XDG_CACHE_HOME": str(tmp_path / "cache")}
    command = [sys.executable, "-m", "handbook", "serve", str(content), "--port", "0"]
    with subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as ended:
        assert ended.stdout is not None
        said = next(line for line in ended.stdout if "http://" in line)
        address = said.partition("Open ")[2].partition(" ")[0]
        assert page_at(address)[0] == 200
        ended.send_signal(getattr(signal, kind))
        rest = ended.stdout.read()
        ended.wait(PATIENCE)
    assert "Traceback" not in rest
    assert [path.name for path in passing.iterdir() if "jinja" not in path.name] == []
    assert texts(content) == before
    assert [
        path for path in tmp_path.iterdir() if path.name not in {"my-band", "passing", "cache"}
    ] == []
