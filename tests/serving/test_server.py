"""The preview shows what was saved last, or what is to be mended."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from handbook.problems import Note, Position, Problem, Severity
from handbook.serving.problem_page import problem_page, sentence_page
from handbook.serving.server import PreviewServer
from handbook.serving.versions import Preview, Shown
from handbook.serving.watching import changes, fingerprint
from handbook.source.source_map import SourceFile, SourceMap
from tests.serving.asking import CHECKOUT, PATIENCE, SITE, ask, news, page_at, version, wait_until


def test_pages_and_files_of_the_site(server: PreviewServer) -> None:
    status, headers, body = ask(server, "/fall/")
    assert (status, headers["Content-Type"]) == (200, "text/html; charset=utf-8")
    assert "Fall ♭" in body.decode()
    assert ask(server, "/style.css?v=1")[::2] == (200, b"p {}")
    assert ask(server, "/style.css")[1]["Cache-Control"] == "no-store"


def test_a_folder_without_its_slash_leads_on(server: PreviewServer) -> None:
    status, headers, _ = ask(server, "/fall")
    assert (status, headers["Location"]) == (301, "/fall/")


@pytest.mark.parametrize("path", ["/nowhere/", "/nowhere", "/fall/nowhere.js", "/fall//", "/404/"])
def test_what_is_not_there_shows_the_sites_own_error_page(server: PreviewServer, path: str) -> None:
    status, headers, body = ask(server, path)
    assert (status, headers["Content-Type"]) == (404, "text/html; charset=utf-8")
    assert b"No page here" in body
    assert b"reload.js" in body  # it may be there after the next save


def test_the_error_pages_links_lead_to_the_site_wherever_it_will_stand(
    server: PreviewServer, preview: Preview
) -> None:
    # Its links count from the root of the host, since a host shows it at any depth.
    preview.show(Shown({**SITE, "bands/index.html": b"a cycle"}, base="/north/bands/"))
    assert ask(server, "/north/bands/style.css")[::2] == (200, b"p {}")
    assert b"Home" in ask(server, "/north/bands/")[2]
    assert b"a cycle" in ask(server, "/bands/")[2]
    assert ask(server, "/other/bands/style.css")[0] == 404


def test_the_server_listens_on_this_computer_only(server: PreviewServer) -> None:
    assert server.address == f"http://127.0.0.1:{server.server_address[1]}/"
    assert server.server_address[0] == "127.0.0.1"


def test_a_head_request_has_no_body(server: PreviewServer) -> None:
    status, headers, body = ask(server, "/style.css", "HEAD")
    assert (status, headers["Content-Length"], body) == (200, "4", b"")


@pytest.mark.parametrize("path", ["/", "/fall/", "/style.css", "/nowhere", "/a/b/c.html"])
def test_while_there_are_problems_every_address_shows_them(
    server: PreviewServer, preview: Preview, path: str
) -> None:
    preview.show(Shown(page=b"<html><body>To mend</body></html>"))
    status, headers, body = ask(server, path)
    assert (status, headers["Content-Type"]) == (503, "text/html; charset=utf-8")
    assert b"To mend" in body


def test_each_page_carries_the_reloading_script_as_a_file(server: PreviewServer) -> None:
    # An inline script would be refused by the pages' own content security policy.
    _, _, body = ask(server, "/")
    script = (
        f'<script src="/-handbook-preview-/reload.js" data-version="{version(server)}"></script>'
    )
    assert body.decode() == f"<html><body><p>Home</p>{script}</body></html>"
    status, headers, answer = ask(server, "/-handbook-preview-/reload.js")
    assert (status, headers["Content-Type"]) == (200, "text/javascript; charset=utf-8")
    assert b"/-handbook-preview-/news" in answer


def test_a_question_for_news_is_answered_when_there_is_some(
    server: PreviewServer, preview: Preview
) -> None:
    first = version(server)
    assert news(server, "another") == first
    threading.Timer(0.2, lambda: preview.show(Shown(page=b"two"))).start()
    begun = time.monotonic()
    assert news(server, first) == version(server) != first
    assert time.monotonic() - begun >= 0.15


def test_a_page_left_open_from_an_earlier_run_learns_that_this_is_another() -> None:
    assert Preview(Shown(SITE)).current[0] != Preview(Shown(SITE)).current[0]


def test_a_taken_port_is_an_error_at_once(server: PreviewServer, preview: Preview) -> None:
    with pytest.raises(OSError, match="in use"):
        PreviewServer(preview, server.server_address[1])


# --- Noticing changes ---------------------------------------------------------------------


def changed(folder: Path) -> threading.Event:
    """Watch in the background, and give what is set once a change is noticed."""
    noticed, stop, before = threading.Event(), threading.Event(), fingerprint(folder)

    def watch() -> None:
        for _ in changes(folder, stop, before):
            noticed.set()
            stop.set()

    threading.Thread(target=watch, daemon=True).start()
    return noticed


@pytest.mark.parametrize("act", ["write", "add", "delete", "rename", "touch", "same time"])
def test_any_change_is_noticed(tmp_path: Path, act: str) -> None:
    file = tmp_path / "cycles" / "music.yaml"
    file.parent.mkdir()
    file.write_text("pieces: 1")
    noticed = changed(tmp_path)
    if act == "write":
        file.write_text("pieces: 2")
    elif act == "add":
        (tmp_path / "new.yaml").write_text("")
    elif act == "delete":
        file.unlink()
    elif act == "rename":
        file.rename(file.with_name("other.yaml"))
    elif act == "same time":  # as a tool that copies a folder with its times
        before = file.stat()
        file.write_text("pieces: 3")
        os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    else:
        os.utime(file, (1, 1))
    assert noticed.wait(PATIENCE)


def test_a_file_that_is_still_being_written_is_waited_for(tmp_path: Path) -> None:
    file, stop, before = tmp_path / "music.yaml", threading.Event(), fingerprint(tmp_path)
    done = threading.Event()

    def write() -> None:
        with file.open("w") as opened:
            for line in range(20):
                opened.write(f"- {line}\n")
                opened.flush()
                time.sleep(0.02)
        done.set()

    threading.Thread(target=write).start()
    next(changes(tmp_path, stop, before))
    assert done.is_set() or len(file.read_text().splitlines()) > 15


def test_hidden_files_are_not_watched(tmp_path: Path) -> None:
    before = fingerprint(tmp_path)
    (tmp_path / ".music.yaml.swp").write_text("an editor's")
    (tmp_path / ".schema").mkdir()
    (tmp_path / ".schema" / "music.json").write_text("{}")
    assert fingerprint(tmp_path) == before


# --- The page of problems -----------------------------------------------------------------

LINES = ("pieces:", "  - id: march", "    gaol: 96 <fast>", "  - id: march")
SOURCES = SourceMap({"cycles/fall/music.yaml": SourceFile(LINES)})
MISSPELT = Problem(
    "unknown-field",
    "unknown field `gaol` in this entry",
    ("cycles/fall/music.yaml", "pieces", 0, "gaol"),
    hint="did you mean `goal`?",
    position=Position(3, 5, 4),
)
TWICE = Problem(
    "duplicate-id",
    "`march` is used twice",
    ("cycles/fall/music.yaml", "pieces", 1, "id"),
    position=Position(4, 9, 5),
    notes=(Note("first used here", ("cycles/fall/music.yaml",), Position(2, 9, 5)),),
)
WARNING = Problem("odd", "an odd thing", ("a.yaml",), severity=Severity.WARNING)


def test_the_page_holds_what_the_terminal_says() -> None:
    page = problem_page("content", [WARNING, TWICE, MISSPELT], SOURCES).decode()
    assert "<h1>2 things to mend</h1>" in page
    assert page.index("unknown field") < page.index("used twice") < page.index("an odd thing")
    assert '<span class="file">content/cycles/fall/music.yaml</span>, line 3' in page
    assert "unknown field <code>gaol</code> in this entry" in page
    assert '<pre><span class="number">3</span>    <mark>gaol</mark>: 96 &lt;fast&gt;</pre>' in page
    assert "did you mean <code>goal</code>?" in page
    assert "handbook explain unknown-field" in page
    assert '<pre><span class="number">2</span>  - id: <mark>march</mark></pre>' in page
    assert "first used here" in page


def test_one_problem_is_one_thing() -> None:
    assert "<h1>1 thing to mend</h1>" in problem_page("content", [MISSPELT], SOURCES).decode()


def test_many_of_a_kind_and_long_lines_are_cut_short() -> None:
    long = SourceMap({"a.yaml": SourceFile(("x" * 5000 + "gaol: 1",) * 500)})
    many = [
        Problem("unknown-field", f"no field {n}", ("a.yaml",), position=Position(n + 1, 5001, 4))
        for n in range(500)
    ]
    page = problem_page("content", many, long).decode()
    assert "<h1>500 things to mend</h1>" in page
    assert page.count("<mark>gaol</mark>: 1") == 20
    assert "and 480 more of unknown-field" in page
    assert len(page) < 30_000


def test_a_problem_without_a_line_still_names_its_file() -> None:
    page = problem_page(
        "content", [Problem("gone", "there is no `program.yaml`", ("program.yaml",))], SourceMap()
    )
    assert '<span class="file">content/program.yaml</span></p>' in page.decode()


def test_links_that_lead_nowhere_are_listed() -> None:
    page = sentence_page(
        "The site could not be made",
        "the new site has links that lead nowhere",
        ("a.html: <b>: leads to no page",),
    )
    assert "<code>a.html: &lt;b&gt;: leads to no page</code>" in page.decode()


# --- The whole of it, as a director runs it -----------------------------------------------


@pytest.fixture
def address(content: Path) -> Iterator[str]:
    """Run `handbook serve` on a free port; it must end cleanly when interrupted."""
    # A job in the background is started deaf to interrupts, and so would be what it starts.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    command = [sys.executable, "-m", "handbook", "serve", str(content), "--port", "0"]
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT), "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        command,
        cwd=content.parent,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    ) as running:
        assert running.stdout is not None
        said = []
        for line in running.stdout:
            said.append(line)
            if found := re.search(r"http://\S+", line):
                yield found[0]
                break
        else:
            pytest.fail("".join(said))
        running.send_signal(signal.SIGINT)
        rest = running.stdout.read()
        assert running.wait(PATIENCE) == 0, rest
        assert "Traceback" not in rest


@pytest.mark.skipif(sys.platform == "win32", reason="interrupts a process by a signal")
def test_pages_follow_what_is_saved_and_show_what_is_to_be_mended(
    address: str, content: Path
) -> None:
    file = content / "program.yaml"
    text = file.read_text(encoding="utf-8")
    assert "Your School" in page_at(address)[1]
    first = page_at(f"{address}-handbook-preview-/news?mine=0")

    file.write_text(text.replace("Your School", "Quillhaven School"), encoding="utf-8")
    wait_until(address, lambda status, page: status == 200 and "Quillhaven School" in page)
    assert page_at(f"{address}-handbook-preview-/news?mine=0") != first

    file.write_text(text.replace("time_zone:", "time_zoon:"), encoding="utf-8")
    page = wait_until(f"{address}words/", lambda status, _: status == 503)
    assert "my-band/program.yaml" in page
    assert "<mark>time_zoon</mark>" in page
    assert "time_zone" in page

    file.write_text(text, encoding="utf-8")
    wait_until(address, lambda status, page: status == 200 and "Your School" in page)


@pytest.mark.skipif(sys.platform == "win32", reason="interrupts a process by a signal")
def test_a_link_that_leads_nowhere_is_shown_too(address: str, content: Path) -> None:
    page = content / "pages" / "welcome.md"
    page.write_text("# Welcome\n\nSee [the plan](../nowhere/).\n", encoding="utf-8")
    shown = wait_until(address, lambda status, _: status == 503)
    assert "../nowhere/" in shown
