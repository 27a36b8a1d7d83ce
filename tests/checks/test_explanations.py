"""Every code has an explanation, every explanation a code, and both snippets are true."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from textwrap import dedent

import pytest

import handbook
from handbook.checks import LINK_CHECKS, PLAN_CHECKS, REFERENCE_CHECKS
from handbook.checks.check import code_of
from handbook.explanations import READING, all_codes, codes_of, explanation
from handbook.problems import Severity
from handbook.source.po_files import read_given
from handbook.source.yaml_reader import read_yaml
from tests.checks.snippet_places import PLACES
from tests.checks.snippets import Place, told

PACKAGE = Path(handbook.__file__).parent
MAKERS = {"Problem", "problem", "finding", "unknown", "unreadable", "read_by", "reader"}
SIGNS = {"␣": "\u00a0", "→": "\t"}
# Snippets that say in words what cannot be shown or is too long, or show a sign that stands for a
# hidden character.
NO_TEXT = {
    "file-too-large",
    "page-too-deep",
    "text-too-long",
    "too-many-entries",
    "too-many-passages",
    "linked-file",
    "linked-ledger",
    "damaged-ledger",
    "newer-ledger",
    "too-many-files",
    "not-utf-8",
    "hidden-character",
    "unreadable-file",
    "unreadable-value",
    "comma-in-text",  # whose pieces get a colon each when the data is written anew
}
# Snippets of files for translators, which are read by a reader of their own.
FOR_TRANSLATORS = {code for code in all_codes() if code.startswith("po-")}
READ_ALONE = {code for module in READING for code in codes_of(module)}


@cache
def walked() -> tuple[ast.AST, ...]:
    texts = (path.read_text("utf-8") for path in PACKAGE.rglob("*.py"))
    return tuple(node for text in texts for node in ast.walk(ast.parse(text)))


def is_read(name: ast.Name) -> bool:
    return isinstance(name.ctx, ast.Load)


def looks_like_code(value: object) -> bool:
    return isinstance(value, str) and "-" in value and " " not in value and value.islower()


def defined_codes() -> Iterator[tuple[str, str]]:
    """Each code that is defined below the checks, and the name of its constant."""
    for node in walked():
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Call):
            call, target = node.value, node.targets[0]
            if called(call) == "Code" and isinstance(target, ast.Name):
                assert isinstance(call.args[0], ast.Constant)
                yield str(call.args[0].value), target.id


def called(call: ast.Call) -> str:
    return str(getattr(call.func, "id", getattr(call.func, "attr", "")))


def snippet(code: str, heading: str) -> str:
    text = explanation(code) or ""
    after = text.split(f"{heading}:\n\n", 1)[1]
    lines = after.split("\nGood:")[0].rstrip("\n").split("\n")
    shown = dedent("\n".join(lines)).strip("\n")
    for sign, real in SIGNS.items():
        shown = shown.replace(sign, real)
    return shown


def test_no_problem_is_made_with_a_code_that_nothing_defines() -> None:
    literal = [
        ast.unparse(node)
        for node in walked()
        if isinstance(node, ast.Call)
        and called(node) in MAKERS
        and any(isinstance(arg, ast.Constant) and looks_like_code(arg.value) for arg in node.args)
    ]
    assert literal == []


def test_every_code_is_defined_once_explained_and_used() -> None:
    codes = dict(defined_codes())
    assert len(codes) == len(list(defined_codes()))
    assert len(codes) > 60
    used = {node.id for node in walked() if isinstance(node, ast.Name) and is_read(node)}
    assert [code for code, name in codes.items() if name not in used] == []
    checks = {code_of(check) for check in REFERENCE_CHECKS}
    checks |= {code_of(check) for check in PLAN_CHECKS}
    checks |= {code_of(check) for check in LINK_CHECKS}
    assert set(all_codes()) == checks | set(codes)


def test_no_check_runs_twice() -> None:
    assert len(set(REFERENCE_CHECKS)) == len(REFERENCE_CHECKS)


@pytest.mark.parametrize("code", all_codes())
def test_an_explanation_gives_the_rule_and_two_snippets(code: str) -> None:
    text = explanation(code) or ""
    rule = text.split("\n")[0]
    assert rule.endswith(".")
    assert rule[0].isupper()
    assert "\nBad:\n\n    " in text
    assert "\nGood:\n\n    " in text
    assert snippet(code, "Bad") != snippet(code, "Good")


def test_an_unknown_code_has_no_explanation() -> None:
    assert explanation("goal-above-start") is None


@pytest.mark.parametrize("code", sorted(READ_ALONE - NO_TEXT))
def test_the_reader_says_of_the_snippets_what_the_explanation_does(code: str) -> None:
    bad = read_yaml("f.yaml", snippet(code, "Bad").encode())
    good = read_yaml("f.yaml", snippet(code, "Good").encode())
    assert code in {problem.code for problem in bad.problems}
    assert good.problems == ()


@pytest.mark.parametrize("code", sorted(FOR_TRANSLATORS))
def test_the_reader_of_translations_says_of_the_snippets_what_the_explanation_does(
    code: str,
) -> None:
    bad = read_given("es.po", snippet(code, "Bad").encode(), "es")
    good = read_given("es.po", snippet(code, "Good").encode(), "es")
    assert [problem.code for problem in bad.problems] == [code]
    assert good.problems == ()
    assert len(good.words) == 1


@pytest.mark.parametrize("code", sorted(set(all_codes()) - READ_ALONE - NO_TEXT - FOR_TRANSLATORS))
def test_the_snippets_are_judged_as_the_explanation_says(code: str, tmp_path: Path) -> None:
    place = PLACES.get(code, Place())
    bad = told(snippet(code, "Bad"), place, tmp_path / "bad")
    good = told(snippet(code, "Good"), place, tmp_path / "good", good=True)
    assert code in bad
    assert code not in good
    assert Severity.ERROR not in good.values()


def test_without_a_snippet_nothing_is_told(tmp_path: Path) -> None:
    assert told("{}", Place(), tmp_path) == {}
