"""Free pages on the site: links between them, the page for lost readers, the strict policy."""

from __future__ import annotations

import re
from pathlib import Path

from handbook.outputs.model import Site
from handbook.pipeline import load_plan, render
from handbook.publishing.verify_links import link_facts, link_findings
from tests.content_folders import base_files, write_folder

POLICY = re.compile(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)">')


def site_of(folder: Path, program: str = base_files()["program.yaml"], **pages: str) -> Site:
    files = {f"pages/{name.replace('_', '/')}.md": text for name, text in pages.items()}
    outcome = load_plan(write_folder(folder, {**base_files(), **files, "program.yaml": program}))
    assert outcome.plan is not None, outcome.problems
    return render(outcome.plan)


def test_a_link_to_a_page_s_file_leads_to_the_page(tmp_path: Path) -> None:
    text = "# Trip\n\n[rules](rules.md#noise) [ours](es/reglas.md) [away](https://x.example/a.md)\n"
    site = site_of(
        tmp_path / "content",
        trip=text,
        rules="# Rules\n\n## Noise\n\nNone.\n",
        es_reglas="# Reglas\n\n[viaje](../trip.md)\n",
    )
    files = {f"{page.path}index.html": page.body.encode() for page in site.pages}
    files |= {file.path: file.content for file in site.files}
    body = files["families/trip/index.html"].decode()
    assert 'href="../../families/rules/#noise"' in body
    assert 'href="../../families/es/reglas/"' in body
    assert 'href="https://x.example/a.md"' in body
    assert link_findings({name: link_facts(name, content) for name, content in files.items()}) == ()


BOTH = f"{base_files()['program.yaml']}languages: [en, es]\n"


def body_of(site: Site, path: str) -> str:
    (body,) = (page.body for page in site.pages if page.path == path)
    return body


def beginnings(site: Site, tree: str) -> list[str]:
    """What the list of pages in a language shows of each."""
    body = body_of(site, f"{tree}families/")
    (listed,) = re.findall(r'<ul class="piece-list">.*?</ul>', body, re.DOTALL)
    found = re.findall(r'<span class="small">(.*?)</span></a>', listed)
    return [re.sub("<[^>]*>", "", one) for one in found]


def test_the_list_of_pages_shows_how_each_begins_in_its_language(tmp_path: Path) -> None:
    """Rules have a Spanish version, the trip has none, and what stands in Spanish alone comes last."""
    site = site_of(
        tmp_path / "content",
        BOTH,
        trip="# Trip\n\nWe go by **bus**.\n\n## Before\n\nPack a lunch.\n",
        rules="# Rules\n\n## Noise\n\nNone.\n",
        es_rules="# Reglas\n\nTodas.\n",
        es_clases="# Clases\n\nDe noche.\n",
    )
    school = beginnings(site, "")[0]
    assert beginnings(site, "") == [school, "None.", "We go by bus."]
    assert beginnings(site, "es/") == [school, "Todas.", "We go by bus.", "De noche."]
    # A page that English has not leads from the choice of languages to the list that it has.
    assert 'href="../../../families/" lang="en"' in body_of(site, "es/families/clases/")
    assert 'href="../../../families/trip/" lang="en"' in body_of(site, "es/families/trip/")
    assert "families/clases/" not in {page.path for page in site.pages}


def test_what_is_not_in_a_language_says_which_one_it_is_in(tmp_path: Path) -> None:
    """WCAG 2.2, 3.1.2: the language of each passage can be told."""
    site = site_of(tmp_path / "content", BOTH, trip="# Trip\n\nWe go by **bus** to the hall.\n")
    body = body_of(site, "es/families/trip/")
    assert '<h1><span lang="en">Trip</span></h1>' in body
    assert '<div lang="en"><p>We go by <strong>bus</strong> to the hall.</p>' in body
    assert 'class="partly' in body
    assert 'class="partly' not in body_of(site, "families/trip/")


def test_a_place_on_a_page_is_there_in_each_version_of_it(tmp_path: Path) -> None:
    """The ids of headings are made of their words, so each version has those of the original too."""
    site = site_of(
        tmp_path / "content",
        BOTH,
        trip="# Trip\n\nSee [noise](rules.md#noise).\n",
        rules="# Rules\n\n## Noise\n\nNone.\n\n## Food\n\nMuch.\n",
        es_rules="# Reglas\n\nVea [el ruido](#ruido).\n\n## Ruido\n\nNada.\n",
    )
    body = body_of(site, "es/families/rules/")
    assert '<span id="noise"></span><h2 id="ruido">' in body
    assert '<span id="food"></span>' in body
    files = {f"{page.path}index.html": page.body.encode() for page in site.pages}
    files |= {file.path: file.content for file in site.files}
    assert link_findings({name: link_facts(name, content) for name, content in files.items()}) == ()


def test_the_address_that_a_translated_page_had_leads_on(tmp_path: Path) -> None:
    """Addresses never change: `families/es/...` was where such pages stood beside the others."""
    trip = "# Trip\n\n[ours](es/reglas.md)\n"
    site = site_of(tmp_path / "content", BOTH, trip=trip, es_reglas="# Reglas\n\nTodas.\n")
    files = {file.path: file.content for file in site.files}
    moved = files["families/es/reglas/index.html"].decode()
    assert 'content="0; url=../../../es/families/reglas/"' in moved
    assert '<a href="../../../es/families/reglas/">Reglas</a>' in moved
    assert '<html lang="es">' in moved
    assert 'href="../../es/families/reglas/"' in body_of(site, "families/trip/")


def test_pages_stand_in_the_order_of_the_program_and_others_follow(tmp_path: Path) -> None:
    ordered = f"{base_files()['program.yaml']}languages: [en, es]\npages: [trip, about-us]\n"
    pages = {name: f"# {name}\n\nWords.\n" for name in ("about-us", "bells", "trip")}
    site = site_of(tmp_path / "content", ordered, **pages, es_trip="# Viaje\n\nTexto.\n")
    (body,) = (page.body for page in site.pages if page.path == "families/")
    names = re.findall(r'<span class="piece-title">([^<]*)</span>', body)
    assert [one for one in names if one != "Viaje"] == ["trip", "about-us", "Attendance", "bells"]


def test_the_page_for_lost_readers_has_the_policy_of_all_pages(tmp_path: Path) -> None:
    site = site_of(tmp_path)
    (lost,) = [file.content.decode() for file in site.files if file.path == "404.html"]
    policies = {
        *POLICY.findall(lost),
        *(found for p in site.pages for found in POLICY.findall(p.head)),
    }
    assert len(POLICY.findall(lost)) == 1
    assert len(policies) == 1
    assert "default-src 'none'" in policies.pop()
