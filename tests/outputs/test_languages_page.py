"""The page that says in which languages the site can be read, and how far that is sure."""

from __future__ import annotations

import re
from unittest.mock import patch

from handbook.outputs.i18n.languages import name_in, own_name
from handbook.outputs.pages import languages
from handbook.pipeline import load_plan, render
from handbook.plan.model import Plan
from tests.content_folders import BASE, base_files, changed, write_folder


def shown(plan: Plan) -> dict[str, str]:
    return {page.path: page.body for page in render(plan).pages}


def plan_with(given: str, tmp_path_name: object) -> Plan:
    files = changed(base_files(), "program.yaml", "rooms:", f"languages: [{given}]\nrooms:")
    outcome = load_plan(write_folder(tmp_path_name, files))  # type: ignore[arg-type]
    assert outcome.plan
    return outcome.plan


def test_one_language_needs_no_page() -> None:
    plan = load_plan(BASE).plan
    assert plan
    assert not [path for path in shown(plan) if "languages" in path]


def test_each_language_is_named_in_itself_with_how_far_it_was_read_over(tmp_path: object) -> None:
    pages = shown(plan_with("en, vi, ar, so", tmp_path))
    assert {path for path in pages if "languages" in path} == {
        "languages/",
        "vi/languages/",
        "ar/languages/",
        "so/languages/",
    }
    rows = re.findall(r"<li>(<a [^>]*><b>.*)", pages["languages/"])
    told = [re.sub(r"<[^>]*>", " ", row).split() for row in rows]
    assert [row[0] for row in told] == ["English", "Tiếng", "العربية", "Soomaali"]
    assert 'dir="rtl"' in rows[2]
    assert "written" in told[0]
    assert "no speaker has read them over yet" in " ".join(told[1])
    assert "not in it yet" in " ".join(told[3])
    assert all(
        'href="../languages/"' in body or 'href="./languages/"' in body or "languages/" in body
        for body in pages.values()
    )


def test_a_day_in_the_head_of_a_catalogue_says_that_it_was_read_over() -> None:
    head = b"# Vietnamese\n# Reviewed by a speaker: 2026-12-01\n"
    with (
        patch("handbook.outputs.i18n.catalogues.catalogue_text", return_value=head),
        patch.object(languages, "catalogue_text", return_value=head),
    ):
        assert "Dec 1, 2026" in languages._told("vi")


def test_languages_are_named_in_haitian_creole_where_unicode_has_french() -> None:
    """Names as US school districts write them to families, common practice, no source."""
    asked = ("en", "es", "es-US", "ht", "vi", "ar", "zh-Hans", "zh-CN", "pt-BR", "so")
    assert [name_in(code, "ht") for code in asked] == [
        "angle",
        "panyòl",
        "panyòl",
        "kreyòl ayisyen",
        "vyetnamyen",
        "arab",
        "chinwa senplifye",
        "chinwa senplifye",
        "pòtigè",
        "somali",
    ]
    assert name_in("es", "fr") == "espagnol"  # Unicode CLDR


def test_a_language_in_one_of_its_scripts_has_one_name() -> None:
    """Source: Unicode CLDR 47, names of languages."""
    assert own_name("zh-Hans") == "简体中文"
    assert name_in("zh-Hans", "en") == "Simplified Chinese"
    assert own_name("es") == "Español"
