"""Every link of the site leads somewhere."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from handbook.outputs.model import LinkFacts, RenderedPage, Site
from handbook.outputs.web_address import web_address
from handbook.publishing.sitemap import with_sitemap
from handbook.publishing.verify_links import link_facts, link_findings

HERE = "fall/harbor/index.html"
GOOD = [
    'href="./"',
    'href=""',
    'href="#goal"',
    'href="../"',
    'href=".."',
    'href="../../"',
    'href="../../index.html"',
    'href="../harbor/#goal"',
    'href="../../style.css?v=1"',
    'href="../../caf%C3%A9/"',
    'href="../../café/"',
    'href="../../caf%C3%A9/#se%C3%B1al"',
    'href="https://example.org/nowhere"',
    'href="mailto:band-office@quillhaven.example"',
    'href="tel:555-0100"',
    'href="webcal://quillhaven.example/harbor.ics"',
    'src="data:image/png;base64,AAAA"',
    'src="../../media/tone.mp3"',
    'src="../../a&amp;b.png"',
    'data-href="nowhere"',
    '>href="nowhere" as words',
]
BAD = [
    ('href="nowhere/"', "nowhere/", "leads to no page"),
    ('href="../harbor"', "../harbor", "leads to no page"),
    ('href="../../../"', "../../../", "leads outside the site"),
    ('href="#gaol"', "#gaol", "leads to no such place on its page"),
    ('href="#goa"', "#goa", "leads to no such place on its page"),
    ('href="../../#goal"', "../../#goal", "leads to no such place on its page"),
    ('href="../../style.css#goal"', "../../style.css#goal", "leads to no such place on its page"),
    (
        'href="/fall/"',
        "/fall/",
        "counts from the root of the host, so it breaks where the site stands in a folder",
    ),
    (
        'href="javascript:alert(1)"',
        "javascript:alert(1)",
        "is a kind of link that is not published",
    ),
    ('href="file:///etc/hosts"', "file:///etc/hosts", "is a kind of link that is not published"),
    ('src="https://example.org/x.js"', "https://example.org/x.js", "is fetched from another host"),
    ('src="//example.org/x.js"', "//example.org/x.js", "is fetched from another host"),
    ('src="../../media/no.mp3"', "../../media/no.mp3", "leads to no page"),
]


def site_with(text: str, name: str = HERE) -> dict[str, LinkFacts | None]:
    files = {
        "index.html": "<p>Home</p>",
        "fall/index.html": "<p>Fall</p>",
        "café/index.html": '<p id="señal">Café</p>',
        HERE: '<p id="goal">Harbor</p>',
        "style.css": "p {}",
        "media/tone.mp3": "x",
        "a&b.png": "x",
    }
    files[name] = files.get(name, "") + text
    return {path: link_facts(path, content.encode()) for path, content in files.items()}


@pytest.mark.parametrize("link", GOOD)
def test_links_that_lead_somewhere(link: str) -> None:
    assert link_findings(site_with(f"<a {link}>x</a>")) == ()


@pytest.mark.parametrize(("attribute", "link", "why"), BAD)
def test_links_that_do_not(attribute: str, link: str, why: str) -> None:
    files = site_with(f"<a {attribute}>x</a>")
    assert link_findings(files) == (f"{HERE}: {link}: {why}",)


@pytest.mark.parametrize("rel", ["stylesheet", "icon", "preload", "manifest"])
def test_a_page_loads_nothing_from_another_host(rel: str) -> None:
    files = site_with(f'<link rel="{rel}" href="https://fonts.example.org/x">')
    assert link_findings(files) == (
        f"{HERE}: https://fonts.example.org/x: is fetched from another host",
    )


def test_a_canonical_link_is_not_loaded() -> None:
    files = site_with('<link rel="canonical" href="https://bands.example/x/">')
    assert link_findings(files) == ()


@pytest.mark.parametrize(
    ("rule", "found"),
    [
        ("src: url('media/tone.mp3')", ()),
        ("src: url(media/tone.mp3)", ()),
        ("fill: url(#hatch)", ()),
        ("src: url(fonts/no.woff2)", ("style.css: fonts/no.woff2: leads to no page",)),
        (
            "src: url(https://e.example/a.woff2)",
            ("style.css: https://e.example/a.woff2: is fetched from another host",),
        ),
    ],
)
def test_styles_are_read_too(rule: str, found: tuple[str, ...]) -> None:
    assert link_findings(site_with(f"@font-face {{{rule}}}", "style.css")) == found


@pytest.mark.parametrize(
    ("link", "found"),
    [
        ("/bands/fall/", ()),
        ("/bands/style.css", ()),
        ("/bands/", ()),
        ("/bands/nowhere/", ("404.html: /bands/nowhere/: leads to no page",)),
    ],
)
def test_the_error_page_may_count_from_the_root_of_the_host(
    link: str, found: tuple[str, ...]
) -> None:
    files = site_with(f'<a href="{link}">x</a>', "404.html")
    assert link_findings(files, "https://school.example/bands/") == found


@pytest.mark.parametrize(
    ("text", "address"),
    [
        ("https://bands.quillhaven.example/", "https://bands.quillhaven.example/"),
        ("https://quillhaven.example/bands", "https://quillhaven.example/bands/"),
        ("bands.quillhaven.example", None),
        ("ftp://bands.quillhaven.example/", None),
        ("", None),
        (None, None),
    ],
)
def test_only_full_web_addresses_are_used(text: str | None, address: str | None) -> None:
    assert web_address(text) == address


def test_the_sitemap_lists_each_page_without_a_date() -> None:
    # sitemaps.org protocol 0.9: <urlset><url><loc>, entity-escaped and URL-escaped.
    pages = tuple(RenderedPage(path, "", "", "en", "", "") for path in ("", "fall/", "q&a/"))
    (file,) = with_sitemap(Site(pages, ()), "https://bands.example/x/").files
    assert file.path == "sitemap.xml"
    assert file.content.decode().splitlines() == [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">',
        "<url><loc>https://bands.example/x/</loc></url>",
        "<url><loc>https://bands.example/x/fall/</loc></url>",
        "<url><loc>https://bands.example/x/q%26a/</loc></url>",
        "</urlset>",
    ]


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("https://bands.example/o'neill&sons/", "https://bands.example/o'neill&sons/fall/"),
        ("https://bands.example/a%20b/", "https://bands.example/a%20b/fall/"),
        ("https://bands.example/café <x>/", "https://bands.example/caf%C3%A9%20%3Cx%3E/fall/"),
    ],
)
def test_the_sitemap_is_xml_with_escaped_addresses(address: str, told: str) -> None:
    # sitemaps.org protocol 0.9: & ' " < > are entities; read back by the standard library.
    (file,) = with_sitemap(Site((RenderedPage("fall/", "", "", "en", "", ""),), ()), address).files
    assert ET.fromstring(file.content)[0][0].text == told
    assert b"'" not in file.content.partition(b"<loc>")[2]


def test_without_an_address_there_is_no_sitemap() -> None:
    assert with_sitemap(Site((), ()), None).files == ()
