"""A small whole content folder, and ways to change it, for tests that need files."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

BASE = Path(__file__).parent / "broken" / "_base"


def base_files() -> dict[str, str]:
    """Give the texts of the shared whole folder by their names."""
    return {
        path.relative_to(BASE).as_posix(): path.read_text("utf-8")
        for path in sorted(BASE.rglob("*"))
        if path.is_file()
    }


def write_folder(folder: Path, files: Mapping[str, str | bytes]) -> Path:
    """Write files into a folder and give it back."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return folder


def changed(files: Mapping[str, str], name: str, old: str, new: str) -> dict[str, str]:
    """Give the files with one place of one file changed; the old text must stand there once."""
    text = files[name]
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {name}"
    return {**files, name: text.replace(old, new)}
