"""A content folder to a handbook and all the problems of its files."""

from __future__ import annotations

from handbook.loader.loading import LoadResult, in_draft, load

__all__ = ["LoadResult", "in_draft", "load"]
