"""The browser on this computer that the tests drive."""

import shutil
from pathlib import Path

# The first is Chromium without windows: the same pages take half the processor time in it.
NAMES = ("chromium-headless-shell", "chromium", "google-chrome", "chromium-browser", "chrome")
PROGRAMS = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
)


def find_chromium() -> "str | None":
    """Find Chromium or Chrome on the path or where macOS and Windows keep it."""
    on_path = (shutil.which(name) for name in NAMES)
    in_place = (program for program in PROGRAMS if Path(program).is_file())
    return next(filter(None, on_path), None) or next(in_place, None)
