"""Free text: a safe subset of Markdown (CommonMark 0.31), nothing raw, nothing fetched."""

from __future__ import annotations

import pytest

from handbook.outputs.html.prose import line, prose, unlinked, way_to


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("**Eight** beats", "<p><strong>Eight</strong> beats</p>\n"),
        ("- one\n- two", "<ul>\n<li>one</li>\n<li>two</li>\n</ul>\n"),
        ("[x](https://x.example/)", '<p><a href="https://x.example/">x</a></p>\n'),
        ("[rules](calendar/)", f'<p><a href="{way_to("calendar/")}">rules</a></p>\n'),
        (
            "[rules](pages/rules.md#noise)",
            f'<p><a href="{way_to("families/rules/#noise")}">rules</a></p>\n',
        ),
        ("![map](<media/a b.pdf>)", f'<p><a href="{way_to("media/a%20b.pdf")}">map</a></p>\n'),
        ('Say "too"', "<p>Say “too”</p>\n"),
        ("Sticking (r) (l), choice (c)", "<p>Sticking (r) (l), choice (c)</p>\n"),
    ],
)
def test_the_usual_marks(text: str, html: str) -> None:
    assert prose(text) == html


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "a <iframe src='//elsewhere.example'></iframe>",
        "<!-- a note to myself -->",
        "[go](javascript:alert(1))",
        "[go](JaVaScRiPt:alert(1))",
        "[go](data:text/html;base64,PHN2Zz4=)",
        "[go](vbscript:x)",
        '[go](x" onclick="alert(1))',
        "![pixel](https://elsewhere.example/count.png)",
        "![pixel](//elsewhere.example/count.png)",
        "[![badge](https://elsewhere.example/badge.svg)](https://elsewhere.example)",
        '![x](x.png "title" onerror="alert(1)")',
    ],
)
@pytest.mark.parametrize("render", [prose, line])
def test_nothing_runs_and_nothing_is_fetched(text: str, render: object) -> None:
    assert callable(render)
    html = str(render(text))
    for unwanted in ("<script", "<img", "<iframe", "<!--", 'href="java', 'href="data', 'href="vb'):
        assert unwanted not in html.lower()
    assert ' onclick="' not in html
    assert ' onerror="' not in html


def test_a_picture_is_named_and_linked() -> None:
    shown = line("![The *band* room](room.png)")
    assert shown == '<a href="room.png">The band room</a>'
    # HTML, 13.1.2.3: an ampersand in an attribute may not look like a named character.
    assert line("![Room](room.png?a=1&lt=2)") == '<a href="room.png?a=1&amp;lt=2">Room</a>'
    assert line("![Up & <b>down</b>](room.png)") == (
        '<a href="room.png">Up &amp; &lt;b&gt;down&lt;/b&gt;</a>'
    )
    assert line("![](room.png)") == '<a href="room.png">room.png</a>'


def test_no_link_stands_in_a_link() -> None:
    assert line("[![a *b*](c.png)](https://d.example)") == '<a href="https://d.example">a b</a>'
    assert line("[x](https://d.example) ![a](c.png)").endswith('<a href="c.png">a</a>')
    assert unlinked("a [*b*](https://c.example) ![d](e.png)") == "a <em>b</em> d"
