"""Every code has an explanation, every explanation a code, and both snippets are true."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from textwrap import dedent

import pytest

import handbook
from handbook.checks import PLAN_CHECKS, REFERENCE_CHECKS
from handbook.checks.check import code_of
from handbook.checks.explanations import all_codes, explanation
from handbook.checks.explanations.reader import READER_EXPLANATIONS
from handbook.source.yaml_reader import read_yaml

PACKAGE = Path(handbook.__file__).parent
MAKERS = {"Problem", "problem", "unknown", "unreadable", "_outside", "read_by", "reader"}
SIGNS = {"␣": "\u00a0", "→": "\t"}
# Snippets that show no text of a file, or a sign that only stands for a hidden character.
NO_TEXT = {"file-too-large", "not-utf-8", "hidden-character"}


def calls() -> Iterator[ast.Call]:
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                yield node


def made_codes() -> set[str]:
    """The codes that are written out where a problem is made."""
    codes = set()
    for call in calls():
        name = getattr(call.func, "id", getattr(call.func, "attr", ""))
        if name in MAKERS:
            codes |= {
                arg.value
                for arg in call.args[:3]
                if isinstance(arg, ast.Constant)
                and isinstance(arg.value, str)
                and "-" in arg.value
                and " " not in arg.value
            }
    return codes


def all_words() -> set[str]:
    texts = (
        path.read_text("utf-8")
        for path in PACKAGE.rglob("*.py")
        if "explanations" not in path.parts
    )
    return {
        node.value
        for text in texts
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def snippet(code: str, heading: str) -> str:
    text = explanation(code) or ""
    after = text.split(f"{heading}:\n\n", 1)[1]
    lines = after.split("\nGood:")[0].rstrip("\n").split("\n")
    shown = dedent("\n".join(lines)).strip("\n")
    for sign, real in SIGNS.items():
        shown = shown.replace(sign, real)
    return shown


def test_every_code_that_is_made_is_explained() -> None:
    assert made_codes() - set(all_codes()) == set()
    assert len(made_codes()) > 60


def test_every_explained_code_is_made() -> None:
    checks = {code_of(check) for check in REFERENCE_CHECKS}
    checks |= {code_of(check) for check in PLAN_CHECKS}
    assert set(all_codes()) - all_words() == set()
    assert checks <= all_words()


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


@pytest.mark.parametrize("code", [code for code in READER_EXPLANATIONS if code not in NO_TEXT])
def test_the_reader_says_of_the_snippets_what_the_explanation_does(code: str) -> None:
    bad = read_yaml("f.yaml", snippet(code, "Bad").encode())
    good = read_yaml("f.yaml", snippet(code, "Good").encode())
    assert code in {problem.code for problem in bad.problems}
    assert good.problems == ()
