"""From a finished site to a folder of files: verified, staged, then put in place whole.

The folder that readers see is either the old site or the new one. Everything happens
beside it first; only a site that was verified file by file takes its place, by exchanging
names.
"""

from __future__ import annotations

from handbook.publishing.publish import Published, publish
from handbook.publishing.refusal import NotPublishedError, RefusedTargetError
from handbook.publishing.sitemap import with_sitemap
from handbook.publishing.troubles import temporary_folder_sentence
from handbook.publishing.workplace import put_right

__all__ = [
    "NotPublishedError",
    "Published",
    "RefusedTargetError",
    "publish",
    "put_right",
    "temporary_folder_sentence",
    "with_sitemap",
]
