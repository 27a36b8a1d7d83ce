"""Which handbook is running."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version

DISTRIBUTION = "cycle-handbook"


def own_version() -> str:
    """Give the installed version, or say that there is none."""
    try:
        return version(DISTRIBUTION)
    except PackageNotFoundError:
        return "from a checkout that is not installed"
