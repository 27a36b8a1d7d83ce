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


def test_the_list_of_pages_shows_how_each_begins_by_language(tmp_path: Path) -> None:
    both = f"{base_files()['program.yaml']}languages: [en, es]\n"
    site = site_of(
        tmp_path / "content",
        both,
        trip="# Trip\n\nWe go by **bus**.\n\n## Before\n\nPack a lunch.\n",
        rules="# Rules\n\n## Noise\n\nNone.\n",
        es_reglas="# Reglas\n\nTodas.\n",
    )
    (body,) = (page.body for page in site.pages if page.path == "families/")
    assert re.findall(r'<span class="small">([^<]*)</span></a>', body)[1:] == [
        "None.",
        "We go by bus.",
        "Todas.",
    ]
    assert body.index("We go by") < body.index('<h2 lang="es">Español</h2>') < body.index("Todas")


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
