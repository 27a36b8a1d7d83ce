"""The words of a page by themselves, so that a new frame or another style is no change of the page."""

from __future__ import annotations

import hashlib
import re

_TAG = re.compile(rb"<[^>]*>")
# Texts for who cannot see, and where links lead; what follows a question mark is the version of a file.
_TOLD = re.compile(rb' (?:alt|aria-label|href|src)="([^"?]*)')
_MAIN, _MAIN_ENDS = b"<main ", b"</main>"


def words_digest(page: bytes) -> str:
    """Give the digest of what a finished page says by itself: texts and links of its middle.

    Its frame, its drawing and the versions of its scripts are no part of it. SHA-256, in hex.
    """
    middle = page[page.index(_MAIN) : page.rindex(_MAIN_ENDS)]
    texts = b" ".join(_TAG.sub(b" ", middle).split())
    return hashlib.sha256(b"\n".join((texts, *_TOLD.findall(middle)))).hexdigest()
