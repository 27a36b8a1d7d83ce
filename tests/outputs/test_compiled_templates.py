"""Compiled templates are kept beside the templates, and made anew when they must be."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from jinja2 import Environment

from handbook.making import program_digest
from handbook.outputs.html.environment import page_environment


@pytest.fixture
def templates(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("sys.dont_write_bytecode", False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = tmp_path / "templates"
    folder.mkdir()
    (folder / "page.html").write_text("Play {{ view.name }}.")
    return folder


def page(templates: Path) -> str:
    return page_environment(templates).get_template("page.html").render(view=Path("a/tune"))


def refuse(*_: object, **__: object) -> None:
    raise AssertionError("compiled again")


def test_a_template_is_compiled_once(templates: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert page(templates) == "Play tune."
    monkeypatch.setattr(Environment, "compile", refuse)
    assert page(templates) == "Play tune."


def test_a_changed_template_is_compiled_again(templates: Path) -> None:
    page(templates)
    (templates / "page.html").write_text("Sing {{ view.name }}.")
    assert page(templates) == "Sing tune."


def test_where_nothing_can_be_written_they_are_kept_with_the_users_own(
    templates: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (templates / "__pycache__").write_text("in the way")
    assert page(templates) == "Play tune."
    assert list((tmp_path / "cache").rglob("*.template"))
    monkeypatch.setattr(Environment, "compile", refuse)
    assert page(templates) == "Play tune."


def test_no_file_is_written_where_python_is_told_to_write_none(
    templates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.dont_write_bytecode", True)
    assert page(templates) == "Play tune."
    assert [path.name for path in templates.iterdir()] == ["page.html"]


def test_compiled_templates_are_no_part_of_the_program(
    templates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(program_digest, "templates_folder", lambda: templates)
    before = program_digest.program_digest()
    page(templates)
    assert (templates / "__pycache__").is_dir()
    assert program_digest.program_digest() == before
    shutil.copy(templates / "page.html", templates / "other.html")
    assert program_digest.program_digest() != before
