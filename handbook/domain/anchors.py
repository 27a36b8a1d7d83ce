"""Anchors: the names of places on a page, made of words."""

from __future__ import annotations

TAKEN_ANCHORS = frozenset(
    {
        "main",
        "q",
        "player-bar",
        "player-parts",
        "player-sheet",
        "click-button",
        "warm-up-button",
        "row-button",
        "drone-button",
        "sectionals",
    }
)
"""Anchors that any page may have for itself, so that no place made of words may have them."""


def anchor_of(words: str) -> str:
    """Make an anchor of words: their letters and digits, or the codes of their signs.

    One that a page may have for itself gets `word-` in front. Two sets of words may still
    have the same one.
    """
    letters = "".join(letter if letter.isalnum() else " " for letter in words.lower()).split()
    if not letters:
        return "-".join(f"{ord(sign):x}" for sign in words.strip()) or "word"
    anchor = "-".join(letters)
    return f"word-{anchor}" if anchor in TAKEN_ANCHORS or letters[0] == "letter" else anchor
