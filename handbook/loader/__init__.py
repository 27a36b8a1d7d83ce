"""A content folder to a handbook and all the problems of its files."""

from __future__ import annotations

from handbook.loader.loading import LoadResult, load

__all__ = ["LoadResult", "load"]
