"""The one table of page kinds: each row has its module and its template, and no module is without a row."""

from __future__ import annotations

import pkgutil
from importlib import import_module
from inspect import signature

import pytest

from handbook.outputs import pages
from handbook.page_kinds import KINDS, Of, PageKind
from handbook.resources import templates_folder
from handbook.schema import site_names

PARAMETERS = {Of.HANDBOOK: 2, Of.CYCLE: 2, Of.ENSEMBLE: 3}


def test_every_module_of_pages_is_a_kind() -> None:
    assert {found.name for found in pkgutil.iter_modules(pages.__path__)} == {
        kind.name for kind in KINDS
    }


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_a_kind_has_what_makes_it(kind: PageKind) -> None:
    module = import_module(f"handbook.outputs.pages.{kind.name}")
    assert len(signature(module.pages).parameters) == PARAMETERS[kind.of]
    assert hasattr(module, "share") is (kind.of is Of.HANDBOOK)
    assert (templates_folder() / "pages" / f"{kind.name}.html.j2").is_file()


def test_what_is_kept_for_pages_may_be_no_id() -> None:
    """The addresses that the site had before there was a table, which never change."""
    assert {"fundamentals", "calendar", "words", "families", "past"} <= site_names.CYCLES
    assert {"search", "assets", "media", "404"} <= site_names.CYCLES
    assert [*site_names.ENSEMBLES, *site_names.PIECES] == ["concert", "part"]
