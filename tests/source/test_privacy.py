"""Which lines are private; the spellings are those that a tired writer may use."""

from __future__ import annotations

import pytest

from handbook.source.privacy import own_lines, private_lines
from handbook.source.yaml_reader import read_yaml


@pytest.mark.parametrize(
    ("text", "private"),
    [
        ("a: 1\nprivate: x\nb: 2", {2}),
        ("- id: x\n  private: |\n    one\n\n    two\n  b: 2", {2, 3, 4, 5}),
        ("private:\n  deep:\n    deeper: x\nb: 2", {1, 2, 3}),
        ("private:\n- one\n- two\nb: 2", {1, 2, 3}),
        ("- private: one\n  b: 2\n- c: 3", {1}),
        ("- a: 1\n  private: one\n- c: 3", {2}),
        ("- {id: x, private: one}\n- c: 3", {1}),
        ("- {id: x, private: [one,\n    two]}\n- c: 3", {1, 2}),
        ('"private": x\nb: 2', {1}),
        ("private: x\nprivate: y\nb: 2", {1, 2}),
        # Misspelt, and so refused, but meant all the same.
        *((f"{name}: x\nb: 2", {1}) for name in ("Private", "privat", "private notes", "pirvate")),
        *((f"{name}: x\nb: 2", {1}) for name in ("PRIVATE", "private-notes", "privte")),
        ("private:x\nb: 2", {1}),
        ("private : x\nb: 2", {1}),
        ("private x\nb: 2", {1}),
        # Broken: text that goes on without its indent begins no field of its own.
        ("private: one\ntwo, and more\nb: 2", {1, 2}),
        ("private: one\nAsk Robin: two\nb: 2", {1, 2}),
        ("private:\nask: two\nb: 2", {1, 2}),  # with nothing behind it, what follows is meant
        ("private:\n\nask: two\nb: 2", {1, 2, 3}),
        ("private:\n  one\nb: 2", {1, 2}),
        # As YAML allows it (1.2.2, 5.7, 6.8, 8.2.2), though nobody should.
        ("? private\n: one\nb: 2", {1, 2}),
        ("? private\n:\n  one\nb: 2", {1, 2, 3}),
        *((f"{mark} private: x\nb: 2", {1}) for mark in ("!!str", "!own", "&mark", "&m !!str")),
        ('"pri\\u0076ate": x\nb: 2', {1}),
        ('"pri\\x76ate": x\nb: 2', {1}),
        ('"pri\\U00000076ate": x\nb: 2', {1}),
        ('"pri\\UFFFFFFFFate": x\nb: 2', set()),
        # Not private.
        ("program: x\npieces: 1\np: 2\npr: 3\nprivacy-page: no\nname: private", set()),
        ("about: a private lesson", set()),
        ("", set()),
    ],
)
def test_private_lines(text: str, private: set[int]) -> None:
    assert private_lines(text.split("\n")) == private


@pytest.mark.parametrize(
    ("text", "private"),
    [
        ("a: 1\n? |-\n  private\n: x\nb: 2", {2, 3, 4}),
        ('? "pri\\\n  vate"\n: |\n  one\n  two\nb: 2', {1, 2, 3, 4, 5}),
        ("a: [1]\n'private': {x:\n\n  y}\nb: 2", {2, 3, 4}),
        ('? "pri\\\n  vate"\n:\n  - x: 1\n    y: 2\n\nb: 2', {1, 2, 3, 4, 5}),
        ("a: [{c: {'private' : x}}, {b: 2}]", {1}),
        ("a: 1\nb: {c: 3}", set()),
    ],
)
def test_what_could_be_read_tells_itself_what_is_private(text: str, private: set[int]) -> None:
    file = read_yaml("program.yaml", text.encode())
    assert own_lines(file.file, file.lines, file.root) == private


def test_of_what_could_not_be_read_a_line_with_the_word_is_withheld() -> None:
    lines = ["name: x private: one", "b: [", "not: private", "privates: x", "in private note: x"]
    assert own_lines("program.yaml", lines) == {1, 4, 5}
    assert own_lines("pages/trip.md", ["We meet. Private: one", "Private: two"]) == {2}


@pytest.mark.parametrize(
    ("file", "own"),
    [
        ("cycles/winter/log/2026-11-09.yaml", {1, 2}),
        ("cycles/winter/cycle.yaml", {2}),
        ("cycles/log/music.yaml", {2}),
        ("pages/log/a.md", {2}),
    ],
)
def test_a_log_is_the_directors_own(file: str, own: set[int]) -> None:
    assert own_lines(file, ["date: 2026-11-09", "private: x"]) == own
