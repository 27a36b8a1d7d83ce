"""The command line: `handbook new`, `check`, `plan`, `build`, `serve`, `explain`."""

from __future__ import annotations

from handbook.cli.main import main

__all__ = ["main"]
