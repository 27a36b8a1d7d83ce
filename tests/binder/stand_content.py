"""A small content folder whose stand view has all that is to be told: two bands at once, a Sunday."""

from __future__ import annotations

from tests.content_folders import base_files, changed

# On Wednesdays both bands meet in period 3, from 10:05 to 10:50; on Sunday, November 1, 2026
# clocks go back in Chicago (Energy Policy Act of 2005, 15 U.S.C. 260a: first Sunday in November).
_BOTH = "  - {ensemble: harbor, weekdays: [Wed], period: p3, room: hut}\n"
_SUNDAY = "extra:\n  - {ensemble: lantern, date: Sun 2026-11-01, start: 14:00, end: 15:00, name: Sunday}\n"


def stand_files() -> dict[str, str]:
    """Give the texts of the folder by their names."""
    files = base_files()
    files["years/2026-27.yaml"] += _BOTH
    files = changed(files, "program.yaml", "venues:", "  - {id: hut, name: Music hut}\nvenues:")
    files["cycles/winter/cycle.yaml"] += _SUNDAY
    files["cycles/winter/cycle.yaml"] += "slots: {set_up: 4, warm_up: 6, notices: 3, close: 3}\n"
    return changed(
        files,
        "cycles/winter/music.yaml",
        "        goal: quarter = 96\n",
        "        goal: quarter = 96\n        watch:\n          - {measures: 3-4, text: Breathe together}\n",
    )
