"""Small sites to publish, and what stands in a folder afterwards."""

from __future__ import annotations

import hashlib
from pathlib import Path

from handbook.outputs.model import SiteFile
from handbook.publishing.manifest import MARKER


def finished_file(path: str, content: bytes) -> SiteFile:
    """Make the file of a site at `path` that holds `content`."""
    return SiteFile(path, hashlib.sha256(content).hexdigest(), lambda: content)


def site(**bodies: str) -> list[SiteFile]:
    """Make pages without a frame: `home` is the first page, each other name a folder's."""
    return [
        finished_file("index.html" if name == "home" else f"{name}/index.html", body.encode())
        for name, body in bodies.items()
    ]


OLD = site(home="<p>The old site</p>", fall="<p>Old page</p>", both="<p>The same</p>")
NEW = site(
    home="<p>The new site</p>",
    winter='<p id="goal"><a href="../">Up</a></p>',
    both="<p>The same</p>",
)


def snapshot(folder: Path) -> dict[str, bytes]:
    """Read all files below `folder`; note its empty folders, and where its links lead."""
    return {
        path.relative_to(folder).as_posix(): held
        for path in sorted(folder.rglob("*"))
        if (held := _held(path)) is not None
    }


def _held(path: Path) -> bytes | None:
    if path.is_symlink():
        return f"-> {path.readlink()}".encode()
    if path.is_dir():
        return None if any(path.iterdir()) else b"(folder)"
    return path.read_bytes()


def holds(folder: Path, files: list[SiteFile]) -> bool:
    """Whether `folder` holds these files and a marker, and nothing else."""
    found = snapshot(folder)
    return bool(found.pop(MARKER, b"")) and found == {file.path: file.read() for file in files}
