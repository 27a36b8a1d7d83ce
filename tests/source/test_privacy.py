"""Which lines are private; the spellings are those that a tired writer may use."""

from __future__ import annotations

import pytest

from handbook.source.privacy import own_lines, private_lines


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
        # Not private.
        ("program: x\npieces: 1\np: 2\npr: 3\nprivacy-page: no\nname: private", set()),
        ("about: a private lesson", set()),
        ("", set()),
    ],
)
def test_private_lines(text: str, private: set[int]) -> None:
    assert private_lines(text.split("\n")) == private


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
