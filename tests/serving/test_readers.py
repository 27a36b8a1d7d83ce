"""Readers that send nonsense, half a question or nothing hold a thread for a while, and no more."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from pathlib import Path

import pytest

from handbook.publishing.verify_files import PUBLISHED_SUFFIXES
from handbook.serving import server as server_module
from handbook.serving import versions
from handbook.serving.answers import TYPES, part_of
from handbook.serving.server import MOST_READERS, PreviewServer
from handbook.serving.versions import MOST_WAITING, OnDisk, Preview, Shown
from tests.serving.asking import PATIENCE, SITE, ask, news, version, wait_for

RECORDING = b"".join(  # 256,000 bytes of frames, of which the first 379 are padded
    b"\xff\xfb" + (b"\x92\x64" if place < 379 else b"\x90\x64") + bytes([place % 251]) * length
    for place, length in enumerate([414] * 379 + [413] * 234)
)


@pytest.fixture
def silent(capfd: pytest.CaptureFixture[str]) -> Iterator[None]:
    """Nothing was written to the terminal: no traceback above all."""
    yield
    assert capfd.readouterr() == ("", "")


def open_to(server: PreviewServer) -> socket.socket:
    return socket.create_connection(server.server_address[:2], timeout=PATIENCE)  # type: ignore[arg-type]


def sent(server: PreviewServer, raw: bytes) -> bytes:
    """Send bytes as they are, then nothing more; give all that comes back."""
    with open_to(server) as reader:
        reader.sendall(raw)
        reader.shutdown(socket.SHUT_WR)
        answer = b""
        while piece := _received(reader):
            answer += piece
        return answer


def _received(reader: socket.socket) -> bytes:
    try:
        return reader.recv(65536)
    except ConnectionResetError:  # it closed before it had read all that we sent
        return b""


HOST = b"Host: localhost:%d\r\n"
ODD_TARGETS = (
    *(
        b"/%00",
        b"/\x00",
        b"/%ff%fe",
        b"/\xff",
        b"/%",
        b"/%zz",
        b"/..%2f..%2fetc/passwd",
        b"/%2e%2e/%2e%2e/etc/passwd",
    ),
    *(
        b"/..\\..\\x",
        b"//etc/passwd",
        b"//[",
        b"//evil.example/fall",
        b"http://[/",
        b"http://evil.example/",
        b"*",
        b"fall/",
    ),
    *(
        b"/?" + b"x" * 60000,
        b"/" + b"a/" * 30000,
        b"/" + b"%41" * 20000,
        b"/;x",
        b"/#x",
        b"/fall;a=b",
        b"/\xc3\xa9",
    ),
    *(b"/-handbook-preview-/news?mine=\xb2", b"/-handbook-preview-/news?mine=" + b"9" * 5000),
    *(
        b"/-handbook-preview-/news?",
        b"/-handbook-preview-/",
        b"/CON",
        b"/nul.html",
        b"/fall/index.html/x",
    ),
)


@pytest.mark.usefixtures("silent")
@pytest.mark.parametrize("target", ODD_TARGETS)
def test_odd_addresses(server: PreviewServer, target: bytes) -> None:
    host = HOST % server.server_port
    answer = sent(server, b"GET " + target + b" HTTP/1.1\r\n" + host + b"Connection: close\r\n\r\n")
    assert answer.startswith((b"HTTP/1.1 404", b"HTTP/1.1 200", b"HTTP/1.1 301"))
    assert b"root:" not in answer
    assert b"Location: //" not in answer


@pytest.mark.usefixtures("silent")
@pytest.mark.parametrize(
    "raw",
    [
        *(b"", b"\r\n", b"\r\n\r\n", b"GET", b"GET /", b"GET / HTTP/1.1", b"GET / HTTP/1.1\r\n"),
        *(
            b"GET / HTTP/1.1\r\nHost: localhost",
            b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" * 20,
        ),
        *(
            b"\x00" * 1000,
            b"\xff\xfe\xfd" * 1000,
            b"GET / HTTP/9.9\r\n\r\n",
            b"GET / HTTP/\xb2.\xb2\r\n\r\n",
        ),
        *(b"GET / FTP/1.0\r\n\r\n", b"A" * 70000 + b"\r\n\r\n", b"GET  /  /  HTTP/1.1\r\n\r\n"),
        b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 500 + b"\r\n",
        b"GET / HTTP/1.1\r\nX: " + b"y" * 70000 + b"\r\n\r\n",
        b"GET / HTTP/1.1\r\n: no name\r\n folded\r\nno colon\r\n\r\n",
        *(b"__class__ / HTTP/1.1\r\n\r\n", b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"),
    ],
)
def test_what_is_no_question(server: PreviewServer, raw: bytes) -> None:
    answer = sent(server, raw)
    assert b"Home" not in answer
    assert b"Traceback" not in answer
    wait_for(lambda: server.readers == 0)
    assert ask(server, "/style.css")[2] == b"p {}"


@pytest.mark.usefixtures("silent")
@pytest.mark.parametrize("more", [b"Content-Length: 40\r\n", b"Transfer-Encoding: chunked\r\n"])
def test_a_body_is_no_second_question(server: PreviewServer, more: bytes) -> None:
    host = HOST % server.server_port
    first = b"GET /style.css HTTP/1.1\r\n" + host + more + b"\r\n"
    answer = sent(server, first + b"GET /fall/ HTTP/1.1\r\n" + host + b"\r\n")
    assert answer.count(b"HTTP/1.1 200") == 1
    assert b"Fall" not in answer


@pytest.mark.usefixtures("silent")
@pytest.mark.parametrize(
    "begun", [b"", b"GET / HT", b"GET / HTTP/1.1\r\nHost: loc", b"GET /style.css HTTP/1.1\r\n"]
)
def test_who_stops_in_the_middle_is_sent_away(
    server: PreviewServer,
    begun: bytes,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(server_module, "_ASKING", 0.3)
    with open_to(server) as reader:
        reader.sendall(begun)
        assert _received(reader) == b""


@pytest.mark.usefixtures("silent")
def test_who_sends_a_letter_at_a_time_is_sent_away(
    server: PreviewServer,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(server_module, "_ASKING", 0.5)
    with open_to(server) as reader:
        wait_for(lambda: server.readers == 1)
        ends = time.monotonic() + PATIENCE
        while server.readers and time.monotonic() < ends:
            with suppress(OSError):  # it is closed on the other side
                reader.sendall(b"G")
            time.sleep(0.05)
        assert not server.readers


@pytest.mark.usefixtures("silent")
def test_who_does_not_take_the_answer_is_left(
    server: PreviewServer,
    preview: Preview,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(server_module, "_TAKING", 0.3)
    preview.show(Shown({"media/long.wav": bytes(30_000_000)}))
    with open_to(server) as reader:
        reader.sendall(b"GET /media/long.wav HTTP/1.1\r\n" + HOST % server.server_port + b"\r\n")
        wait_for(lambda: server.readers == 1)
        wait_for(lambda: server.readers == 0)


def test_no_more_than_so_many_wait_for_news(server: PreviewServer, preview: Preview) -> None:
    mine = version(server)
    waiting = [threading.Thread(target=news, args=(server, mine)) for _ in range(MOST_WAITING)]
    for one in waiting:
        one.start()
    wait_for(lambda: preview.waiting == MOST_WAITING)
    status, headers, body = ask(server, f"/-handbook-preview-/news?mine={mine}")
    assert (status, headers["Retry-After"], body.decode()) == (200, "5", mine)
    assert ask(server, "/style.css")[2] == b"p {}"
    assert news(server, "older") == mine  # who has something to learn need not wait
    preview.show(Shown(SITE))
    for one in waiting:
        one.join(PATIENCE)
        assert not one.is_alive()


def test_who_closed_the_page_waits_no_more(server: PreviewServer, preview: Preview) -> None:
    question = f"GET /-handbook-preview-/news?mine={version(server)} HTTP/1.1\r\n".encode()
    with ExitStack() as readers:
        for _ in range(5):
            reader = readers.enter_context(open_to(server))
            reader.sendall(question + HOST % server.server_port + b"\r\n")
        wait_for(lambda: preview.waiting == 5)
    wait_for(lambda: preview.waiting == 0, seconds=versions._WAIT / 2)


@pytest.mark.usefixtures("silent")
def test_three_hundred_readers_hold_a_bounded_number_of_threads(
    server: PreviewServer,
    preview: Preview,
) -> None:
    before = threading.active_count()
    question = f"GET /-handbook-preview-/news?mine={version(server)} HTTP/1.1\r\n".encode()
    with ExitStack() as readers:
        for _ in range(300):
            reader = readers.enter_context(open_to(server))
            reader.sendall(question + HOST % server.server_port + b"\r\n")
        wait_for(lambda: preview.waiting == MOST_WAITING)
        assert threading.active_count() - before <= MOST_READERS
    wait_for(lambda: server.readers == 0)
    assert ask(server, "/style.css")[2] == b"p {}"


def test_who_is_one_too_many_is_told_to_come_again(server: PreviewServer) -> None:
    with ExitStack() as readers:
        for _ in range(MOST_READERS):
            readers.enter_context(open_to(server))
        wait_for(lambda: server.readers == MOST_READERS)
        with open_to(server) as late:
            assert late.recv(1000).startswith(b"HTTP/1.1 503 Service Unavailable\r\n")
    wait_for(lambda: server.readers == 0)
    assert ask(server, "/style.css")[2] == b"p {}"


def test_nothing_is_left_when_it_ends_with_pages_open() -> None:
    before = threading.active_count()
    own = Preview(Shown(SITE))
    running = PreviewServer(own, 0)
    serving = threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.05})
    serving.start()
    question = f"GET /-handbook-preview-/news?mine={version(running)} HTTP/1.1\r\n".encode()
    with ExitStack() as readers:
        for begun in (question + HOST % running.server_port + b"\r\n", b"", b"GET /") * 5:
            readers.enter_context(open_to(running)).sendall(begun)
        wait_for(lambda: own.waiting == 5)
        begun_at = time.monotonic()
        own.end()
        running.shutdown()
        running.server_close()
        serving.join(PATIENCE)
        assert threading.active_count() == before
        assert time.monotonic() - begun_at < 2.0


# --- Parts of a file, by which a player leaps in a recording -------------------------------


@pytest.mark.parametrize(
    ("asked", "first", "last"),
    [
        # RFC 9110, 14.1.2: the examples for a representation of 10000 bytes.
        ("bytes=0-499", 0, 499),
        ("bytes=500-999", 500, 999),
        ("bytes=-500", 9500, 9999),
        ("bytes=9500-", 9500, 9999),
        ("bytes=0-0", 0, 0),
        ("bytes=-20000", 0, 9999),  # "if the representation is shorter, the entire is used"
        ("bytes=9999-99999999", 9999, 9999),
        ("Bytes = 0-1", 0, 1),
    ],
)
def test_parts(asked: str, first: int, last: int) -> None:
    assert part_of(asked, 10_000) == range(first, last + 1)


@pytest.mark.parametrize("asked", ["bytes=10000-", "bytes=10000-10001", "bytes=-0"])
def test_parts_of_which_nothing_is_there(asked: str) -> None:
    assert part_of(asked, 10_000) == range(0)


@pytest.mark.parametrize(
    "asked",
    ["", "bytes=", "bytes=-", "bytes=5-2", "bytes=0-0,-1", "lines=0-5", "bytes=a-b", "bytes=٠-٩"],
)
def test_what_is_no_part_gives_the_whole(asked: str) -> None:
    assert part_of(asked, 10_000) is None


@pytest.fixture
def with_recording(preview: Preview, tmp_path: Path) -> Path:
    media = tmp_path / "media"
    media.mkdir()
    (media / "march.mp3").write_bytes(RECORDING + b"TAG" + b"A player".ljust(125, b"\0"))
    preview.show(Shown({**SITE, "media/march.mp3": OnDisk(media / "march.mp3", media)}))
    return media / "march.mp3"


@pytest.mark.usefixtures("with_recording")
def test_a_recording_whole_and_in_part(server: PreviewServer) -> None:
    status, headers, body = ask(server, "/media/march.mp3")
    assert (status, headers["Content-Type"], headers["Accept-Ranges"]) == (
        200,
        "audio/mpeg",
        "bytes",
    )
    assert body == RECORDING
    status, headers, body = ask(server, "/media/march.mp3", Range="bytes=255000-")
    assert (status, headers["Content-Range"]) == (206, "bytes 255000-255999/256000")
    assert body == RECORDING[255_000:]
    status, headers, body = ask(server, "/media/march.mp3", Range="bytes=256000-")
    assert (status, headers["Content-Range"], body) == (416, "bytes */256000", b"")
    # RFC 9110, 13.1.5: without a matching validator the Range is passed over.
    assert ask(server, "/media/march.mp3", **{"Range": "bytes=0-1", "If-Range": '"x"'})[0] == 200
    status, headers, body = ask(server, "/media/march.mp3", "HEAD", Range="bytes=0-9")
    assert (status, headers["Content-Length"], body) == (206, "10", b"")


def test_a_recording_that_became_a_link_elsewhere_is_not_there(
    server: PreviewServer,
    with_recording: Path,
) -> None:
    secret = with_recording.parent.parent / "secret.mp3"
    secret.write_bytes(b"secret")
    with_recording.unlink()
    assert ask(server, "/media/march.mp3")[0] == 404
    with_recording.symlink_to(secret)
    assert ask(server, "/media/march.mp3")[0] == 404
    with_recording.unlink()
    with_recording.symlink_to(with_recording)
    assert ask(server, "/media/march.mp3")[0] == 404
    with_recording.unlink()
    with_recording.mkdir()
    assert ask(server, "/media/march.mp3")[0] == 404


def test_browsers_are_told_the_kind_of_each_file_that_a_site_may_hold() -> None:
    assert set(TYPES) == PUBLISHED_SUFFIXES
