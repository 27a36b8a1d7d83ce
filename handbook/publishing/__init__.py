"""From a finished site to a folder of files: staged, verified, then put in place whole.

The folder that readers see is either the old site or the new one. Everything happens
beside it first; only a site that was verified file by file and link by link takes its
place, by renaming.
"""

from __future__ import annotations

from handbook.publishing.publish import Published, publish
from handbook.publishing.refusal import NotPublishedError, RefusedTargetError
from handbook.publishing.sitemap import web_address, with_sitemap
from handbook.publishing.verify_files import MEDIA_FOLDER

__all__ = [
    "MEDIA_FOLDER",
    "NotPublishedError",
    "Published",
    "RefusedTargetError",
    "publish",
    "web_address",
    "with_sitemap",
]
