"""What of a template's HTML reaches the typesetter."""

from __future__ import annotations

import pytest

from handbook.outputs.sheets.nodes import nodes_of, texts_of


def text(html: str) -> str:
    return " ".join("".join(texts_of(nodes_of(html))).split())


@pytest.mark.parametrize(
    "html",
    [
        "<script>let x = '<p>no</p>'</script>",
        "<style>p{}</style>",
        '<button type="button">Clear</button>',
        "<p hidden>no</p>",
        '<p><span class="vh">no</span></p>',
        "<noscript><p>no</p></noscript>",
        "<div hidden><div><p>no</p></div><svg><text>no</text></svg></div>",
        '<audio controls><source src="x"></audio>',
        "<details><summary>no</summary></details>",
    ],
)
def test_what_needs_a_screen_is_left_out(html: str) -> None:
    assert text(f"<p>before</p>{html}<p>after</p>") == "beforeafter"


def test_texts_are_as_a_browser_has_them() -> None:
    assert text("<p>a &amp; b\n  <b>c</b> &lt;i&gt; caf&eacute;</p>") == "a & b c <i> café"


def test_elements_keep_class_language_and_what_they_lead_to() -> None:
    html = '<p class="lead x"><a href="tel:+1555">call</a> <a href="../in/">in</a> <span lang="es" dir="ltr">Ñ</span></p>'
    assert nodes_of(html) == [
        {
            "t": "p",
            "k": ["lead", "x"],
            "c": [
                {"t": "a", "h": "tel:+1555", "c": ["call"]},
                " ",
                {"t": "a", "c": ["in"]},
                " ",
                {"t": "span", "l": "es", "d": "ltr", "c": ["Ñ"]},
            ],
        }
    ]


def test_a_drawing_stands_by_itself_in_black() -> None:
    html = '<svg role="img" aria-label="A &quot;B&quot;"><g><path fill="currentColor" d="M0 0"/><text>a &lt; b</text></g></svg>'
    (node,) = nodes_of(html)
    assert isinstance(node, dict)
    assert node["a"] == 'A "B"'
    assert node["s"] == (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="A &quot;B&quot;"><g>'
        '<path fill="#000" d="M0 0"/><text>a &lt; b</text></g></svg>'
    )
    (silent,) = nodes_of('<svg aria-hidden="true" aria-label="Bar"><path/></svg>')
    assert isinstance(silent, dict)
    assert silent["a"] == ""


def test_space_between_blocks_is_none_and_empty_ones_are_left_out() -> None:
    assert nodes_of("<div>\n  <p>a</p>\n  <p> </p><ul>\n</ul>\n</div>") == [
        {"t": "div", "c": [{"t": "p", "c": ["a"]}]}
    ]


ADDRESS = "band.office.of.the.northern.district@consolidated_schools.of.the.county.example.org"


@pytest.mark.parametrize(
    ("word", "parts"),
    [
        ("band.office@school.example", ["band.", "office@", "school.", "example"]),
        ("a" * 30, ["a" * 12, "a" * 12, "a" * 6]),
        # A mark on a letter stays with it.
        ("a" * 12 + "\u0301" + "a" * 14, ["a" * 12 + "\u0301", "a" * 12, "aa"]),
        # Behind a hyphen lines may end anyway (Unicode Standard Annex 14, class HY).
        ("Multipurpose-Auditorium-Building", ["Multipurpose-Auditorium-Building"]),
        ("office@school.example", ["office@school.example"]),
        ("when and where it was...and who", ["when and where it was...and who"]),
    ],
)
def test_only_a_word_that_may_be_longer_than_a_line_can_be_parted(
    word: str, parts: list[str]
) -> None:
    (paragraph,) = nodes_of(f"<p>{word}</p>")
    assert isinstance(paragraph, dict)
    inside = paragraph["c"]
    assert isinstance(inside, list)
    assert inside[::2] == parts
    assert inside[1::2] == [{"t": "wbr"}] * (len(parts) - 1)
