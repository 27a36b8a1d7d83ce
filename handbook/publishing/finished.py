"""From bytes to files that can be published."""

from __future__ import annotations

import hashlib

from handbook.outputs.model import SiteFile
from handbook.publishing.verify_links import link_facts

MEDIA_FOLDER = "media"
"""Where media lie, in the content folder as in the site."""


def finished_file(path: str, content: bytes) -> SiteFile:
    """Make the file of the site at `path` that holds `content`."""
    digest = hashlib.sha256(content).hexdigest()
    return SiteFile(path, digest, lambda: content, link_facts(path, content))
