"""The words of a page by themselves, so that a new frame or another style is no change of the page."""

from __future__ import annotations

from handbook.outputs.html.words import texts_digest

_MAIN, _MAIN_ENDS = b"<main ", b"</main>"


def words_digest(page: bytes) -> str:
    """Give the digest of what a finished page says by itself: texts and links of its middle.

    Its frame, its drawing and the versions of its scripts are no part of it. SHA-256, in hex.
    """
    return texts_digest(page[page.index(_MAIN) : page.rindex(_MAIN_ENDS)])
