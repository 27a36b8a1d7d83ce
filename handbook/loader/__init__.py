"""A content folder to a handbook and all the problems of its files."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from handbook.loader.loading import LoadResult, in_draft, load

__all__ = ["LoadResult", "in_draft", "load"]


def __getattr__(name: str) -> object:
    """Load the readers when they are asked for: to see that nothing changed needs none."""
    if name not in __all__:
        raise AttributeError(name)
    from handbook.loader import loading  # noqa: PLC0415

    return getattr(loading, name)
