"""Short texts of the content files as HTML, read by `source.short_texts`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import EnvType, OptionsDict
from markupsafe import Markup, escape

from handbook.outputs import addresses
from handbook.outputs.i18n.other_language import within
from handbook.source.links import target_of
from handbook.source.short_texts import PARSER

_ROOT, _TOP = (
    "\x02root/",
    "\x02top/",
)  # stand in links for what each page has its own of; in no content

_LINK = re.compile(r"</?a\b[^>]*>")


def _link_open(
    renderer: RendererHTML,
    tokens: Sequence[Token],
    place: int,
    options: OptionsDict,
    env: EnvType,
) -> str:
    token = tokens[place]
    token.attrs["href"] = _address(str(token.attrs["href"]))
    return renderer.renderToken(tokens, place, options, env)


def _picture_as_link(
    renderer: RendererHTML,
    tokens: Sequence[Token],
    place: int,
    options: OptionsDict,
    env: EnvType,
) -> str:
    """Name a picture and link to it, since a page may load nothing from elsewhere."""
    token = tokens[place]
    words = renderer.renderInlineAsText(token.children, options, env) if token.children else ""
    source = str(token.attrs.get("src", ""))
    shown = escape(words or source)
    if sum(one.nesting for one in tokens[:place] if one.type in {"link_open", "link_close"}):
        return str(shown)
    return f'<a href="{escape(_address(source))}">{shown}</a>'


def _address(link: str) -> str:
    address = addresses.of_target(target_of(link))
    return link if address is None else way_to(address)


def way_to(address: str) -> str:
    """Give a link to an address of the site, from whichever page; `led` makes it whole."""
    return f"{_TOP if addresses.is_for_all(address) else _ROOT}{address}"


def led(html: str, root: str, top: str, languages: Sequence[str]) -> str:
    """Lead the links of a page: by the way to the root of its language, or to the top of the site.

    A link to a free page in a folder named by one of the `languages` leads to where these are.
    """
    for language in languages[1:]:
        tree, folder = addresses.tree(language, languages), f"{_ROOT}{addresses.FAMILIES}"
        html = html.replace(f"{folder}{language.lower()}/", f"{_TOP}{tree}{addresses.FAMILIES}")
    return html.replace(_ROOT, root).replace(_TOP, top)


PARSER.add_render_rule("link_open", _link_open)
PARSER.add_render_rule("image", _picture_as_link)


@lru_cache(maxsize=4096)
def prose(text: str) -> Markup:
    """Render Markdown as blocks."""
    return Markup(within(text, PARSER.render))  # noqa: S704 - the parser escapes all raw HTML


@lru_cache(maxsize=4096)
def line(text: str) -> Markup:
    """Render Markdown within one line: emphasis and links, no blocks."""
    return Markup(within(text, PARSER.renderInline))  # noqa: S704 - the parser escapes all raw HTML


def unlinked(text: str) -> Markup:
    """Render Markdown within one line and within a link, where no other link may stand."""
    return Markup(_LINK.sub("", line(text)))  # noqa: S704 - as above


def plain(text: str, root: str = "") -> str:
    """Give the words of Markdown within one line; addresses that it links to stand behind them.

    Those within the site are left out as long as the `root` at which it stands is not known.
    """
    found, link = list[str](), ""
    for token in (one for block in PARSER.parseInline(text) for one in block.children or ()):
        if token.type == "link_open":
            address = addresses.of_target(target_of(str(token.attrs["href"])))
            link = str(token.attrs["href"]) if address is None else root and f"{root}{address}"
        elif token.type == "link_close":
            found.append(f" ({link})" if link and link != "".join(found[-1:]) else "")
        elif token.type in {"softbreak", "hardbreak"}:
            found.append(" ")
        else:
            found.append(token.content)
    return "".join(found)
