"""The preview in a real browser: it follows what is saved, plays from anywhere, and is nobody else's."""

from __future__ import annotations

import wave
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request

from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.serving.server import PreviewServer
from handbook.serving.versions import OnDisk, Preview, Shown
from tests.browser.served import serving
from tests.serving.asking import answering, running

pytestmark = pytest.mark.browser

SECONDS = 60
ROWS = b"globalThis.handbookSearchRows=[1];"
TRY = """async (address) => {
  const load = (kind, name) => new Promise((done) => {
    const element = document.createElement(kind);
    element.onload = () => done("loaded");
    element.onerror = () => done("refused");
    element.src = address + name;
    document.body.append(element);
  });
  const read = (mode) => fetch(address + "search/index.js", { mode }).then(() => "read", () => "refused");
  return [await load("script", "search/index.js"), await load("img", "icon.svg"),
    await read("cors"), await read("no-cors"), String(globalThis.handbookSearchRows)];
}"""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page()
    yield opened
    opened.context.close()


@pytest.fixture
def server(tmp_path: Path) -> Iterator[PreviewServer]:
    with wave.open(str(tmp_path / "long.wav"), "wb") as recording:
        recording.setnchannels(2)
        recording.setsampwidth(2)
        recording.setframerate(44_100)
        recording.writeframes(bytes(4 * 44_100 * SECONDS))
    audio = b'<audio controls preload="metadata" src="media/long.wav"></audio>'
    site: dict[str, bytes | OnDisk] = {
        "index.html": b"<html><body>Home " + audio + b"</body></html>",
        "search/index.js": ROWS,
        "icon.svg": b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>',
        "media/long.wav": OnDisk(tmp_path / "long.wav", tmp_path),
    }
    with answering(Preview(Shown(site))) as started:
        yield started


def test_the_page_follows_what_is_saved(page: Page, tmp_path: Path) -> None:
    content = tmp_path / "content"
    write_starter(content, *starter_dates(date(2026, 11, 25)))
    program = content / "program.yaml"
    text = program.read_text(encoding="utf-8")
    with running(content) as run:
        page.goto(run.address)
        page.get_by_text("Your School").first.wait_for()
        program.write_text(text.replace("Your School", "Our School"), encoding="utf-8")
        page.get_by_text("Our School").first.wait_for()
        program.write_text(text.replace("time_zone:", "time_zoon:"), encoding="utf-8")
        page.get_by_text("to mend").first.wait_for()
        program.write_text(text, encoding="utf-8")
        page.get_by_text("Your School").first.wait_for()
        page.goto(f"{run.address}nowhere/at/all/")
        assert page.get_by_role("heading").first.inner_text() == "No page here"
        program.write_text(text.replace("Your School", "Our School"), encoding="utf-8")
        with page.expect_navigation():  # the page for lost readers follows too
            pass


def test_a_recording_plays_from_any_place(page: Page, server: PreviewServer) -> None:
    parts: list[str] = []

    def note(request: Request) -> None:
        parts.append(request.headers.get("range", ""))

    page.on("request", note)
    page.goto(server.address)
    page.wait_for_function("document.querySelector('audio').readyState >= 1")
    assert page.evaluate("document.querySelector('audio').duration") == pytest.approx(SECONDS)
    page.evaluate("document.querySelector('audio').currentTime = 50")
    page.wait_for_function("!document.querySelector('audio').seeking")
    assert page.evaluate("document.querySelector('audio').currentTime") == 50
    assert any(part.startswith("bytes=") and part != "bytes=0-" for part in parts)


def test_a_page_of_another_address_gets_nothing(
    page: Page, server: PreviewServer, tmp_path: Path
) -> None:
    (tmp_path / "other").mkdir()
    frame = f'<iframe src="{server.address}"></iframe><a href="{server.address}">open</a>'
    (tmp_path / "other" / "index.html").write_text(f"<html><body>{frame}</body></html>")
    with serving(tmp_path / "other") as other:
        page.goto(other)
        assert page.evaluate(TRY, server.address) == [*["refused"] * 4, "undefined"]
        assert all("Home" not in frame.content() for frame in page.frames)
        page.get_by_text("open").click()
        page.get_by_text("Home").wait_for()  # a person may follow a link
        assert page.evaluate(TRY, server.address)[:3] == ["loaded", "loaded", "read"]
