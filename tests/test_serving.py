"""The preview shows what was saved last, or what is to be mended."""

from __future__ import annotations

import http.client
import os
import re
import signal
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.problems import Note, Position, Problem, Severity
from handbook.serving.problem_page import findings_page, problem_page
from handbook.serving.server import Preview, PreviewServer, Shown
from handbook.serving.watching import changes, fingerprint
from handbook.source.source_map import SourceFile, SourceMap

CHECKOUT = Path(__file__).resolve().parents[1]
PATIENCE = 20.0  # seconds; a busy machine may be slow, a right answer comes in under one


@pytest.fixture
def preview() -> Preview:
    return Preview()


@pytest.fixture
def server(preview: Preview) -> Iterator[PreviewServer]:
    with PreviewServer(preview, 0) as running:
        thread = threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.05})
        thread.start()
        yield running
        running.shutdown()
        thread.join()


@pytest.fixture
def site(tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    (folder / "fall").mkdir(parents=True)
    (folder / "index.html").write_text("<html><body><p>Home</p></body></html>")
    (folder / "fall" / "index.html").write_text(
        "<html><body>Fall ♭</body></html>", encoding="utf-8"
    )
    (folder / "404.html").write_text("<html><body>No page here</body></html>")
    (folder / "style.css").write_text("p {}")
    (folder / "click.mp3").write_bytes(b"sound")
    (tmp_path / "secret.txt").write_text("secret")
    return folder


def ask(server: PreviewServer, path: str, method: str = "GET") -> tuple[int, dict[str, str], bytes]:
    connection = http.client.HTTPConnection(*server.server_address[:2], timeout=PATIENCE)  # type: ignore[arg-type]
    connection.request(method, path)
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    return answer.status, dict(answer.getheaders()), body


def test_pages_and_files_of_the_site(server: PreviewServer, preview: Preview, site: Path) -> None:
    preview.show(Shown(site))
    status, headers, body = ask(server, "/fall/")
    assert (status, headers["Content-Type"]) == (200, "text/html; charset=utf-8")
    assert "Fall ♭" in body.decode()
    assert [ask(server, path)[::2] for path in ("/style.css", "/click.mp3?v=1")] == [
        (200, b"p {}"),
        (200, b"sound"),
    ]
    assert ask(server, "/style.css")[1]["Cache-Control"] == "no-store"


def test_a_folder_without_its_slash_leads_on(
    server: PreviewServer, preview: Preview, site: Path
) -> None:
    preview.show(Shown(site))
    status, headers, _ = ask(server, "/fall")
    assert (status, headers["Location"]) == (301, "/fall/")


@pytest.mark.parametrize(
    "path",
    ["/nowhere/", "/nowhere", "/../secret.txt", "/..%2fsecret.txt", "/fall/..%5c..%5csecret.txt"],
)
def test_what_is_not_there_shows_the_sites_own_error_page(
    server: PreviewServer, preview: Preview, site: Path, path: str
) -> None:
    preview.show(Shown(site))
    status, _, body = ask(server, path)
    assert status == 404
    assert b"No page here" in body
    assert b"secret" not in body


def test_the_server_listens_on_this_computer_only(server: PreviewServer) -> None:
    assert server.address == f"http://127.0.0.1:{server.server_address[1]}/"
    assert server.server_address[0] == "127.0.0.1"


def test_a_head_request_has_no_body(server: PreviewServer, preview: Preview, site: Path) -> None:
    preview.show(Shown(site))
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


def test_each_page_carries_the_reloading_script_as_a_file(
    server: PreviewServer, preview: Preview, site: Path
) -> None:
    # An inline script would be refused by the pages' own content security policy.
    preview.show(Shown(site))
    _, _, body = ask(server, "/")
    assert body == (
        b'<html><body><p>Home</p><script src="/-handbook-preview-/reload.js" data-version="1"></script></body></html>'
    )
    status, headers, script = ask(server, "/-handbook-preview-/reload.js")
    assert (status, headers["Content-Type"]) == (200, "text/javascript; charset=utf-8")
    assert b"/-handbook-preview-/news" in script


def test_a_question_for_news_is_answered_when_there_is_some(
    server: PreviewServer, preview: Preview
) -> None:
    preview.show(Shown(page=b"one"))
    assert ask(server, "/-handbook-preview-/news?mine=0")[2] == b"1"
    threading.Timer(0.2, lambda: preview.show(Shown(page=b"two"))).start()
    begun = time.monotonic()
    assert ask(server, "/-handbook-preview-/news?mine=1")[2] == b"2"
    assert time.monotonic() - begun >= 0.15


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


@pytest.mark.parametrize("act", ["write", "add", "delete", "rename", "touch"])
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
    else:
        os.utime(file, (1, 1))
    assert noticed.wait(PATIENCE)


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


def test_a_problem_without_a_line_still_names_its_file() -> None:
    page = problem_page(
        "content", [Problem("gone", "there is no `program.yaml`", ("program.yaml",))], SourceMap()
    )
    assert '<span class="file">content/program.yaml</span></p>' in page.decode()


def test_links_that_lead_nowhere_are_listed() -> None:
    page = findings_page(
        "the new site has links that lead nowhere", ("a.html: <b>: leads to no page",)
    )
    assert "<code>a.html: &lt;b&gt;: leads to no page</code>" in page.decode()


# --- The whole of it, as a director runs it -----------------------------------------------


@pytest.fixture
def content(tmp_path: Path) -> Path:
    folder = tmp_path / "my-band"
    write_starter(folder, *starter_dates(date(2026, 11, 25)))
    return folder


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


def page_at(address: str) -> tuple[int, str]:
    try:
        with urllib.request.urlopen(address, timeout=PATIENCE) as answer:
            return answer.status, answer.read().decode()
    except urllib.error.HTTPError as refusal:
        with refusal:
            return refusal.code, refusal.read().decode()


def wait_until(address: str, wanted: Callable[[int, str], bool]) -> str:
    """Ask again and again, as the page in the browser does."""
    ends = time.monotonic() + PATIENCE
    while time.monotonic() < ends:
        status, page = page_at(address)
        if wanted(status, page):
            return page
        time.sleep(0.1)
    raise AssertionError(page)


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
