"""What is made of old files for new ones, and why it may not be possible."""

from __future__ import annotations

from handbook.records import dataclass

TO_DO = "TO DO"
"""Stands in each remark that asks the director for something."""


class CannotCarryError(Exception):
    """Nothing is made; the sentence says why, and what to do."""


@dataclass(frozen=True, slots=True)
class NewFile:
    """A file that is not there yet: its path from the content folder, and its text."""

    name: str
    text: str
