"""Nobody but this computer's own reader gets anything of the preview.

The headers by which a browser says who asks: Host in RFC 9110, 7.2; Origin in RFC 6454, 7;
Sec-Fetch-* in W3C Fetch Metadata Request Headers, 2 ("same-site" is another port of this
computer, "none" what a person typed); the answer's Cross-Origin-Resource-Policy in the
Fetch standard, 3.7.
"""

from __future__ import annotations

import http.client
import socket
from email.message import Message

import pytest

from handbook.serving.guard import own_hosts, refusal
from handbook.serving.server import PreviewServer
from handbook.serving.versions import Preview
from tests.serving.asking import PATIENCE, ask

HOSTS = own_hosts(8000)
LINK = {"Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}
FRAME = {"Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}
SCRIPT = {"Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "script"}
FETCH = {"Sec-Fetch-Mode": "cors", "Sec-Fetch-Dest": "empty"}


def refused(headers: dict[str, str], *, page: bool = False, host: str = "127.0.0.1:8000") -> str:
    message = Message()
    for name, value in {"Host": host, **headers}.items():
        message[name] = value
    return refusal(message, HOSTS, page=page)


@pytest.mark.parametrize(
    "host", ["127.0.0.1:8000", "localhost:8000", "[::1]:8000", "LocalHost:8000"]
)
def test_this_computers_own_names(host: str) -> None:
    assert not refused({}, host=host)


@pytest.mark.parametrize(
    "host",
    [
        *("evil.example", "evil.example:8000", "127.0.0.1.evil.example:8000", "localhost.:8000"),
        *(
            "127.0.0.1",
            "localhost",
            "127.0.0.1:8001",
            "127.0.0.2:8000",
            "0.0.0.0:8000",
            "[::]:8000",
        ),
        *(
            "localhost:8000@evil.example",
            "localhost:8000, evil.example",
            "",
            "127.1:8000",
            "2130706433:8000",
        ),
    ],
)
def test_any_other_name_is_refused(host: str) -> None:
    assert "its own address" in refused({}, host=host)


def test_a_question_with_two_hosts_or_none_is_refused() -> None:
    both = Message()
    assert refusal(both, HOSTS, page=True)
    both["Host"], both["host"] = "localhost:8000", "localhost:8000"
    assert len(both.get_all("Host", [])) == 2
    assert refusal(both, HOSTS, page=True)


def test_browsers_leave_out_the_usual_port() -> None:
    assert "localhost" in own_hosts(80)
    assert "localhost" not in HOSTS


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
@pytest.mark.parametrize(
    "how", [SCRIPT, FETCH, FRAME, {"Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "image"}, {}]
)
@pytest.mark.parametrize("page", [True, False])
def test_what_pages_of_others_load(site: str, how: dict[str, str], page: bool) -> None:
    assert "Another site" in refused({"Sec-Fetch-Site": site, **how}, page=page)


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_person_may_follow_a_link_to_it(site: str) -> None:
    assert not refused({"Sec-Fetch-Site": site, **LINK}, page=True)


@pytest.mark.parametrize(
    ("site", "how"), [("same-origin", SCRIPT), ("same-origin", FETCH), ("none", LINK)]
)
def test_its_own_pages_and_what_a_person_types(site: str, how: dict[str, str]) -> None:
    assert not refused({"Sec-Fetch-Site": site, **how})


@pytest.mark.parametrize(
    ("origin", "wrong"),
    [
        ("http://127.0.0.1:8000", False),
        ("http://localhost:8000", False),
        ("http://localhost:9000", True),
        ("https://evil.example", True),
        ("null", True),  # a page in a sandbox, or from a file
        ("http://localhost:8000.evil.example", True),
    ],
)
def test_origin(origin: str, wrong: bool) -> None:
    assert bool(refused({"Origin": origin}, page=True)) is wrong


@pytest.mark.parametrize(
    ("referer", "page", "wrong"),
    [
        ("http://127.0.0.1:8000/fall/", False, False),
        ("https://evil.example/", False, True),
        ("http://127.0.0.1:80001/", False, True),
        ("https://evil.example/", True, False),  # a link to a page
        ("", False, False),  # typed; or kept back, and then the answer's policy holds
    ],
)
def test_browsers_from_before_fetch_metadata(referer: str, page: bool, wrong: bool) -> None:
    assert bool(refused({"Referer": referer} if referer else {}, page=page)) is wrong


@pytest.mark.parametrize("path", ["/", "/style.css", "/nowhere", "/-handbook-preview-/news?mine=1"])
@pytest.mark.parametrize(
    "headers", [{"Host": "evil.example"}, {"Sec-Fetch-Site": "cross-site"}, {"Origin": "null"}]
)
def test_the_server_asks_the_guard_first(
    server: PreviewServer,
    path: str,
    headers: dict[str, str],
) -> None:
    status, sent, body = ask(server, path, **headers)
    assert (status, sent["Content-Type"]) == (403, "text/html; charset=utf-8")
    assert f"Open <code>{server.address}</code> instead." in body.decode()
    assert b"Home" not in body
    assert b"script" not in body


@pytest.mark.parametrize(
    "path", ["/", "/style.css", "/nowhere", "/fall", "/-handbook-preview-/reload.js"]
)
def test_every_answer_forbids_its_use_to_others(server: PreviewServer, path: str) -> None:
    sent = ask(server, path)[1]
    assert sent["Cross-Origin-Resource-Policy"] == "same-origin"
    assert sent["X-Content-Type-Options"] == "nosniff"
    assert sent["X-Frame-Options"] == "DENY"
    assert sent["Content-Security-Policy"] == "frame-ancestors 'none'"
    assert sent["Cache-Control"] == "no-store"
    assert not any(name.startswith("Access-Control") for name in sent)


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "CONNECT", "BREW", "get"])
def test_it_answers_no_question_but_to_read(server: PreviewServer, method: str) -> None:
    status, sent, _ = ask(server, "/", method)
    assert (status, sent["Connection"]) == (501, "close")


def test_a_second_server_answers_under_ipv6(preview: Preview) -> None:
    if not socket.has_ipv6:
        pytest.skip("a computer without IPv6")
    try:
        running = PreviewServer(preview, 0, "::1")
    except OSError:
        pytest.skip("a computer without IPv6")
    with running:
        assert running.server_address[0] == "::1"
        assert f"[::1]:{running.server_port}" in running.hosts
        connection = http.client.HTTPConnection("::1", running.server_port, timeout=PATIENCE)
        connection.request("GET", "/style.css")
        running.handle_request()
        assert connection.getresponse().read() == b"p {}"
        connection.close()
