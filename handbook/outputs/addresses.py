"""Where each page stands. Addresses never change once published."""

from __future__ import annotations

TODAY = ""
FUNDAMENTALS = "fundamentals/"
CALENDAR = "calendar/"
WORDS = "words/"
FAMILIES = "families/"
PAST = "past/"
SEARCH_INDEX = "search/index.js"
ASSETS = "assets/"


def search_part(cycle_id: str) -> str:
    """Give the address of the script with what search may find in a cycle."""
    return f"search/cycles/{cycle_id}.js"


def calendar_month(year: int, month: int) -> str:
    """Give the address of a month that no longer stands on the calendar's first page."""
    return f"{CALENDAR}{year}-{month:02}/"


def cycle(cycle_id: str) -> str:
    """Give the address of a cycle's page."""
    return f"{cycle_id}/"


def ensemble(cycle_id: str, ensemble_id: str) -> str:
    """Give the address of an ensemble's page in a cycle."""
    return f"{cycle_id}/{ensemble_id}/"


def piece(cycle_id: str, ensemble_id: str, piece_id: str) -> str:
    """Give the address of a piece's page."""
    return f"{cycle_id}/{ensemble_id}/{piece_id}/"


def part(cycle_id: str, ensemble_id: str, instrument: str) -> str:
    """Give the address of a part's page: one instrument of an ensemble in a cycle."""
    return f"{cycle_id}/{ensemble_id}/part/{instrument}/"


def concert(cycle_id: str) -> str:
    """Give the address of a concert's page."""
    return f"{cycle_id}/concert/"


def crew(cycle_id: str) -> str:
    """Give the address of a concert's page for its crew."""
    return f"{cycle_id}/concert/crew/"


def strand(strand_id: str) -> str:
    """Give the address of a strand of fundamentals."""
    return f"{FUNDAMENTALS}{strand_id}/"


def habit(habit_id: str) -> str:
    """Give the place of a habit on the page of fundamentals."""
    return f"{FUNDAMENTALS}#habit-{habit_id}"


def free_page(slug: str) -> str:
    """Give the address of a free page."""
    return f"{FAMILIES}{slug}/"


def media(name: str | None) -> str:
    """Give the address of a media file named in the content, or nothing for none."""
    return f"media/{name.removeprefix('media/')}" if name else ""


def root_of(path: str) -> str:
    """Give the relative way from a page back to the root: `./`, `../`, `../../`."""
    return "../" * path.count("/") or "./"
