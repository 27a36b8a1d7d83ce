"""What HTML says, whichever way it is marked."""

from __future__ import annotations

import hashlib
import re

_TAG = re.compile(rb"<[^>]*>")
# Texts for who cannot see, and where links lead; what follows a question mark is the version of a file.
_TOLD = re.compile(rb' (?:alt|aria-label|href|src)="([^"?]*)')


def texts_digest(html: bytes) -> str:
    """Give the digest of the texts and links of HTML. SHA-256, in hex."""
    texts = b" ".join(_TAG.sub(b" ", html).split())
    return hashlib.sha256(b"\n".join((texts, *_TOLD.findall(html)))).hexdigest()
