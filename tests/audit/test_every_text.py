"""Whatever a director may write in any field or on any page is looked at, wherever it is shown."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any

import yaml

from handbook.checks import traversal
from handbook.loader import load
from handbook.outputs.model import SiteFile
from handbook.pipeline import load_plan, render
from tests.audit.looking import CONTENT, looked
from tests.published_sites import finished_file

MARK = re.compile(rb"x\d+@elsewhere\.example")


def marked(folder: Path) -> int:
    """Put a mail address of nobody's into every text and every line of a page; give how many."""
    numbers = count(1)
    handbook = load(folder).handbook
    assert handbook is not None
    for file, item in traversal.items(handbook):
        data = yaml.load((folder / file).read_text("utf-8"), Loader=yaml.BaseLoader)
        for address, _ in traversal.texts(item, ()):
            mark_text(data, address, numbers)
        text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True, width=10_000)
        (folder / file).write_text(text, "utf-8")
    for page in folder.rglob("*.md"):
        lines = page.read_text("utf-8").split("\n")
        shown = (f"{line} {mark(numbers)}" if line.strip() else line for line in lines)
        page.write_text("\n".join(shown), "utf-8")
    return next(numbers) - 1


def mark_text(data: Any, address: tuple[str | int, ...], numbers: Iterator[int]) -> None:
    try:
        for step in address[:-1]:
            data = data[step]
        said = data[address[-1]]
    except (KeyError, IndexError, TypeError):
        return  # taken from elsewhere, or written short
    if isinstance(said, dict):
        data[address[-1]] = {code: f"{text} {mark(numbers)}" for code, text in said.items()}
    elif isinstance(said, str):
        data[address[-1]] = f"{said} {mark(numbers)}"


def mark(numbers: Iterator[int]) -> str:
    return f"x{next(numbers)}@elsewhere.example"


def test_whatever_is_shown_is_looked_at(tmp_path: Path) -> None:
    folder = shutil.copytree(CONTENT, tmp_path / "content")
    written = marked(folder)
    plan = load_plan(folder).plan
    assert plan is not None
    site = render(plan)
    files: list[SiteFile] = [
        finished_file(f"{page.path}index.html", f"{page.head}\n{page.body}".encode())
        for page in site.pages
    ]
    files += [finished_file(file.path, file.content) for file in site.files]
    shown = {
        name.decode() for file in files for name in MARK.findall(file.read().replace(b"\r\n ", b""))
    }
    found = {
        one.words
        for one in looked(*files, plan=plan, content=folder)
        if one.concern.code == "mail-address"
    }
    assert found == shown
    assert len(shown) > 0.8 * written > 40
