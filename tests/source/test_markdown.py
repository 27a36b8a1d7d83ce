"""Free pages: MkDocs's Markdown, safe as it stands, and what CommonMark's writers are used to.

CommonMark 0.31 is checked against through markdown-it-py, which implements it; notes,
folds, footnotes and definition lists against what the pages of Python-Markdown 3 and
PyMdown Extensions say of them.
"""

from __future__ import annotations

import random
import re

import pytest
from markdown_it import MarkdownIt

from handbook.domain.anchors import TAKEN_ANCHORS
from handbook.resources import templates_folder
from handbook.source.links import scheme_of
from handbook.source.markdown import TooDeepError, read_markdown

COMMONMARK = MarkdownIt("commonmark", {"html": False}).enable(["table", "strikethrough"])
_BLOCKS = "p|ul|ol|li|h[1-6]|blockquote|pre|table|thead|tbody|tr|th|td|hr"


def shape(html: str) -> str:
    """Leave out anchors, spaces between blocks, and whether a list is loose: the reader's choice."""
    html = re.sub(r' id="[^"]*"| class="highlight"', "", html)
    html = re.sub(rf"\s*(</?(?:{_BLOCKS})[^>]*>)\s*", r"\1", re.sub(r"\s+", " ", html))
    html = re.sub(r"<div[^>]*>|</div>", "", html)
    return re.sub(r"</?p>", "", html.replace(" </code>", "</code>")).strip()


def html_of(text: str) -> str:
    return read_markdown(text).html


@pytest.mark.parametrize(
    "text",
    [
        "- a\n  - b\n    - c\n- d",  # set in by two
        "Bring:\n- a\n- b\n\nThen\n1. x\n2. y",  # no empty line before
        "1) a\n2) b",
        "- a\n\n  para\n\n      code\n- b",
        "- a\n1. x",
        "- a\n\ntext",
        "- a\n# Head",
        "- a\n***\n- b",
        "- a\nlazy\n- b",
        "1. a\n\n   ```\n   x\n   ```\n\n2. b",
        "10. a\n11. b\n    - c",
        "In\n1999. no list",
        "> q\n> - a\n>   - b",
        "a\\\nb  \nc",
        "<https://x.example/a_b> and <tel:+1555>",
        "\\<b> \\# \\~ a\\b",
        "#1 tag\n\n#No head",
        "# T #\n\nSub\n---\nTop\n===",
        "text\n| a | b |\n|---|---|\n| 1 | 2 |",
        "a*b*c snake_case_word __x__ ~~no~~",
        "`` a`b `` `<b>`",
        "[a]: https://x.example\n\n[a] and [b][a]",
        "x\n***\ny",
    ],
)
def test_what_other_readers_take_is_read_alike(text: str) -> None:
    assert shape(html_of(text)) == shape(COMMONMARK.render(text))


def lists(chance: random.Random, indent: int = 0, depth: int = 0) -> list[str]:
    """Write a list as CommonMark allows: items, further paragraphs, lists in them."""
    numbered, lines = chance.random() < 0.3, []
    for number in range(1, chance.randint(2, 4)):
        mark = (f"{number}." if numbered else "-") + " " * chance.choice([1, 1, 3])
        inside = " " * (indent + len(mark))
        lines.append(" " * indent + mark + chance.choice(["brass", "reeds", "drums"]))
        lines += [f"{inside}more"] if chance.random() < 0.3 else []
        lines += ["", f"{inside}further"] if chance.random() < 0.3 else []
        if depth < 3 and chance.random() < 0.5:
            lines += [""] if chance.random() < 0.2 else []
            lines += lists(chance, indent + len(mark), depth + 1)
        lines += [""] if chance.random() < 0.2 else []
    return lines


@pytest.mark.parametrize("seed", range(200))
def test_lists_in_lists_are_read_as_commonmark_reads_them(seed: int) -> None:
    chance = random.Random(seed)
    text = "\n".join(["Bring", *lists(chance), "", "And", "", *lists(chance), "", "End"])
    assert shape(html_of(text)) == shape(COMMONMARK.render(text)), text


def test_mkdocs_own_indents_of_four_are_read_too() -> None:
    text = "- a\n    - b\n        - c\n\n    para\n\n1. x\n\n    y\n"
    assert shape(html_of(text)) == (
        "<ul><li>a<ul><li>b<ul><li>c</li></ul></li></ul>para</li></ul><ol><li>xy</li></ol>"
    )


@pytest.mark.parametrize(
    ("text", "html"),
    [
        (
            '!!! warning "Bring"\n    one\n\n    - a\n      - b\n\nout',
            (
                '<div class="admonition pressing"><p class="admonition-title">Bring</p>one'
                "<ul><li>a<ul><li>b</li></ul></li></ul></div>out"
            ),
        ),
        (
            '??? "More"\n    one',
            '<details class="admonition"><summary>More</summary>one</details>',
        ),
        (
            "???+ tip\n    one",
            '<details class="admonition" open="open"><summary>Tip</summary>one</details>',
        ),
        ("Term\n:   one\n:   two", "<dl><dt>Term</dt><dd>one</dd><dd>two</dd></dl>"),
        (
            "| a | b |\n|:--|--:|\n| 1 | 2 |",
            (
                '<div aria-label="a, b" class="table" role="region" tabindex="0"><table><thead><tr><th class="left">a</th><th class="right">b</th></tr></thead>'
                '<tbody><tr><td class="left">1</td><td class="right">2</td></tr></tbody></table></div>'
            ),
        ),
        ('Say "too", it\'s', "Say “too”, it’s"),
    ],
)
def test_what_mkdocs_adds(text: str, html: str) -> None:
    made = re.sub(r"\s*(</?(?:div|details|summary|dl|dt|dd)[^>]*>)\s*", r"\1", html_of(text))
    made = re.sub(r"\s*\n\s*", "", made)
    assert re.sub(r"<p>|(?<!Bring)</p>", "", made) == html


def test_footnotes_are_numbered_whatever_they_are_called() -> None:
    made = html_of("One[^♭] two[^a b] one[^♭].\n\n[^♭]: Flat\n[^a b]: Other\n")
    assert re.findall(r'id="([^"]*)"', made) == ["fnref-1", "fnref-2", "fnref2-1", "fn-1", "fn-2"]
    assert set(re.findall(r'href="#([^"]*)"', made)) == {
        *("fn-1", "fn-2", "fnref-1", "fnref-2", "fnref2-1")
    }


def test_no_place_on_a_page_meets_one_of_the_frame() -> None:
    frame = (templates_folder() / "pages" / "_frame.html.j2").read_text("utf-8")
    assert set(re.findall(r'\bid="([^"]*)"', frame)) <= TAKEN_ANCHORS
    made = html_of("## main\n\n## q\n\n## ♭\n\n## main\n\n## !!\n\n## é 中\n")
    anchors = re.findall(r'id="([^"]*)"', made)
    assert len(set(anchors)) == len(anchors) == 6
    assert all(anchors)
    assert not TAKEN_ANCHORS & set(anchors)


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "<b>bold</b>",
        "<!-- a remark -->",
        "<!-- a remark\n\nof two paragraphs -->",
        "<div>\n\ntext\n\n</div>",
        "!!! note\n    <i>x</i>",
        "- a\n\n    <i>x</i>",
        "[^1]\n\n[^1]: <i>x</i>",
        "| a |\n|---|\n| <br> |",
        "a <a\nhref='x'>b</a>",
        "<?php x ?>",
        "<img src=x onerror=alert(1)>",
        "</div>",
        "# <i>x</i>",
    ],
)
def test_html_is_found_wherever_it_stands_and_is_never_html(text: str) -> None:
    read = read_markdown(text)
    assert read.tags
    assert not re.search(r"<(?:script|b|i|!--|a\nhref|img|br|div>|\?)", read.html)


@pytest.mark.parametrize(
    "text", ["`<b>`", "    <b>", "```\n<b>\n```", "\\<b>", "&lt;b>", "1 < 2 > 0", "<3", "a<b"]
)
def test_what_only_looks_like_html_is_let_be(text: str) -> None:
    assert read_markdown(text).tags == ()


@pytest.mark.parametrize(
    "text",
    [
        "[x](javascript:a)",
        "[x](java&#115;cript:a)",
        "[x](JAVA\tscript:a)",
        "[x][y]\n\n[y]: vbscript:a",
        "<data:text/html,x>",
        "![x](data:image/png;base64,x)",
    ],
)
def test_a_link_that_runs_a_script_is_told_and_is_no_link(text: str) -> None:
    read = read_markdown(text)
    assert [scheme_of(link) for link in read.links] != [""]
    assert "<a" not in read.html


def test_no_link_stands_in_a_link_and_no_picture_is_loaded() -> None:
    made = html_of("[![*alt*](x.png)](u) [a <https://x.example> [^1]](v) ![p](q.png)\n\n[^1]: n\n")
    depth = 0
    for tag in re.findall(r"</?a\b", made):
        depth += 1 if tag == "<a" else -1
        assert depth in {0, 1}
    assert "<img" not in made
    assert '<a href="q.png">p</a>' in made


@pytest.mark.parametrize(
    "text", ["&#x202e;abc", "\\&#x202e;abc", "&#8238;abc", "&shy;abc", "&#7;abc"]
)
def test_a_character_reference_cannot_hide_or_turn_text(text: str) -> None:
    assert html_of(text) == "<p>abc</p>"


def test_no_style_and_no_class_of_the_authors_choice() -> None:
    made = html_of("!!! skip masthead\n    x\n\n| a |\n|:-:|\n| b |\n")
    assert "style=" not in made
    assert set(re.findall(r'class="([^"]*)"', made)) == {
        *("admonition", "admonition-title", "center", "table")
    }


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("# Title\n\nTwo *words*", "Title Two words"),
        ("- one\n- two", "one two"),
        ("first\nsecond", "first second"),
        ("| a | b |\n|---|---|\n| c | d |", "a b c d"),
        ("[rules](attendance/) here", "rules here"),
        ("`m. 14` &amp; <3", "m. 14 & <3"),
        ("One[^1].\n\n[^1]: Two", "One. Two"),
        ("", ""),
    ],
)
def test_search_reads_the_words_alone(text: str, words: str) -> None:
    assert read_markdown(text).words == words


def test_many_brackets_beside_each_other_are_no_depth() -> None:
    assert html_of("[a](b) " * 500).count("<a") == 500
    assert html_of("[ unclosed\n\n" * 500).count("[") == 500


@pytest.mark.parametrize(
    "text", [">" * 3000 + " a", "a\n:   b\n" * 3000, "[" * 100_000, "a ![" * 100_000]
)
def test_what_is_too_deep_is_said_and_the_next_text_is_read(text: str) -> None:
    with pytest.raises(TooDeepError):
        read_markdown(text)
    assert html_of("*a*") == "<p><em>a</em></p>"


@pytest.mark.parametrize(
    "text", ['`a href="b" src="c"`', '    a href="b"\n', '```\na href="b"\n```']
)
def test_no_word_looks_like_an_attribute(text: str) -> None:
    made = html_of(text)
    assert '="b"' not in made
    assert "a href=&quot;b&quot;" in made
