"""Reading a page takes time in a straight line, whatever is repeated on it.

Work is counted in calls, which are the same on every machine; a reader that goes over the
rest of the page for each sign shows in seconds alone, and is held by the limits tested below.
"""

from __future__ import annotations

import cProfile
import pstats

import pytest

from handbook.loader.free_pages import MOST_IN_PARAGRAPH, MOST_OF_ALL, read_page
from handbook.source.markdown import TooDeepError, read_markdown

SIZE = 6_000
ROOM = 1.25


def calls(text: str) -> int:
    profile = cProfile.Profile()
    profile.runcall(read_page, "pages/a.md", "a", f"# A\n\n{text}".encode())
    return int(pstats.Stats(profile).total_calls)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "piece",
    [
        "<script ",
        "<script>\n\n",
        "[a](javascript:b) `javascript:b`\n\n",
        "<!-- ",
        "# a\n\n",
        "---\n\n",
        "[^1]: a\n\n",
        "*_`[]\n\n",
        "[a][b] ",
        "&amp;\n\n",
    ],
)
def test_twice_the_page_takes_twice_the_calls(piece: str) -> None:
    calls(piece * 20)  # fills the caches of the libraries
    small, large = (calls(piece * (size // len(piece))) for size in (SIZE, 2 * SIZE))
    assert small > SIZE / len(piece)
    assert large / small < 2 * ROOM


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a\n" * MOST_IN_PARAGRAPH, None),
        ("a\n" * (MOST_IN_PARAGRAPH + 1), (3, "lines")),
        ("a\n" * 200 + "\n" + "a\n" * (MOST_IN_PARAGRAPH + 1), (204, "lines")),
        ("[a](a.md) " * MOST_IN_PARAGRAPH, None),
        ("[a](a.md) " * (MOST_IN_PARAGRAPH + 1), (3, "links")),
        ("[a](a.md)\n\n" * 400, None),
    ],
)
def test_a_paragraph_is_bounded(text: str, told: tuple[int, str] | None) -> None:
    page, _, problems = read_page("pages/a.md", "a", f"# A\n\n{text}".encode())
    if told is None:
        assert page is not None
        assert problems == ()
        return
    (only,) = problems
    assert only.code == "text-too-long"
    assert only.position is not None
    assert (only.position.line, told[1] in only.message) == (told[0], True)


def test_all_pages_together_are_bounded() -> None:
    raw = b"# A\n\nCome early.\n"
    assert read_page("pages/a.md", "a", raw, before=MOST_OF_ALL - len(raw))[2] == ()
    (only,) = read_page("pages/a.md", "a", raw, before=MOST_OF_ALL - len(raw) + 1)[2]
    assert only.code == "text-too-long"


@pytest.mark.parametrize("sign", ["![a](b ", "["])
def test_what_is_opened_again_and_again_is_refused(sign: str) -> None:
    with pytest.raises(TooDeepError):
        read_markdown(sign * 101)
    read_markdown(sign * 100)
    read_markdown(f"{sign * 60}\n\n{sign * 60}")


def test_a_note_that_nothing_refers_to_leads_nowhere_back() -> None:
    html = read_markdown("A[^1] b\n\n[^1]: one\n\n[^2]: two\n").html
    assert 'href="#fnref-1"' in html
    assert "fnref-2" not in html
