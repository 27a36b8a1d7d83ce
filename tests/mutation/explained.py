"""The survivors that change nothing anyone could see, each with its reason: survivors.md."""

from __future__ import annotations

from pathlib import Path

SURVIVORS = Path(__file__).with_name("survivors.md")
MARK = "- `"


def explained() -> dict[str, str]:
    """Give the reason for each explained mutant by its name: a line `- \\`name\\`: reason`."""
    lines = SURVIVORS.read_text("utf-8").splitlines()
    rows = [line.removeprefix(MARK).partition("`: ") for line in lines if line.startswith(MARK)]
    return {key: reason for key, _, reason in rows}


def explained_keys() -> frozenset[str]:
    """Give the names of the explained mutants."""
    return frozenset(explained())
