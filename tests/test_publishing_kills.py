"""Whenever a build is cut off: readers have a whole site, the next build works, nothing is left.

Common practice, no source: each step that changes the disk fails in turn, before it is
done and, if it is a write, half-way through, and from then on nothing works any more, as
for a process that has ended. The steps are those of the module `os`, and the exchange of
two names.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from shutil import copytree

import pytest

from handbook.disk import exchange
from handbook.outputs.model import SiteFile
from handbook.publishing import lock, publish, put_right, workplace
from tests.published_sites import NEW, OLD, finished_file, holds, snapshot

STEPS = (
    *("open", "write", "fsync", "mkdir", "rmdir", "rename", "replace", "link", "unlink", "utime"),
)
WAYS = ("before", "half")


class KilledError(BaseException):
    """The end of a process, which no handler may survive."""


@dataclass
class Machine:
    """Ends at the step `last`, in one of the ways; from then on nothing works."""

    last: int
    way: str = "before"
    steps: list[str] = field(default_factory=list)
    ended: bool = False

    def step(self, name: str, real: Callable[..., object]) -> Callable[..., object]:
        def run(*arguments: object, **more: object) -> object:
            if self.ended:
                raise KilledError
            if name == "open" and not int(str(arguments[1])) & os.O_CREAT:
                return real(*arguments, **more)
            self.steps.append(name)
            if len(self.steps) < self.last:
                return real(*arguments, **more)
            self.ended = True
            if self.way == "half" and name == "write":
                written, content = arguments
                real(written, bytes(content)[: len(bytes(content)) // 2])  # type: ignore[call-overload]
            raise KilledError

        return run


MORE = [
    finished_file("assets/style.css", b"p { color: red }"),
    finished_file("fall/harbor/tweed-kites/index.html", b"<p>Tweed Kites</p>"),
    finished_file("media/tone.mp3", b"sound"),
]
FIRST = [*OLD, *MORE]
SECOND = [*NEW, *MORE[1:], finished_file("assets/style.css", b"p { color: blue }")]
THIRD = [*OLD[1:], *NEW[:1], *MORE]
WHOLE = (FIRST, SECOND, THIRD)


@dataclass(frozen=True)
class Kind:
    """A kind of system: can it exchange two names, has it links, has it locks."""

    exchanges: bool = True
    links: bool = True
    locks: bool = True


KINDS = {
    "usual": Kind(),
    "two renames": Kind(exchanges=False),
    "no links": Kind(links=False),
    "share without locks": Kind(exchanges=False, links=False, locks=False),
}
BEFORE: dict[str, list[SiteFile] | None] = {
    "first build": None,
    "changed": FIRST,
    "unchanged": SECOND,
}


@pytest.fixture(params=KINDS)
def kind(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Kind:
    chosen = KINDS[request.param]
    be_of_kind(chosen, monkeypatch)
    return chosen


def be_of_kind(chosen: Kind, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)  # takes time, and changes nothing seen here
    if not chosen.exchanges:
        monkeypatch.setattr(workplace, "exchange", lambda *_: False)
    if not chosen.links:
        monkeypatch.setattr(os, "link", failing(95))
    if not chosen.locks:
        monkeypatch.setattr(lock, "_lock", failing(37))
        monkeypatch.setattr(lock, "_LONGEST_WRITE", -1)


def failing(code: int) -> Callable[..., None]:
    def fail(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    return fail


def killed(deed: Callable[[], object], machine: Machine) -> None:
    """Do a deed until the machine ends, or the deed does."""
    with pytest.MonkeyPatch.context() as patch, suppress(KilledError):
        for name in STEPS:
            patch.setattr(os, name, machine.step(name, getattr(os, name)))
        if workplace.exchange is exchange:  # type: ignore[attr-defined]
            patch.setattr(workplace, "exchange", machine.step("exchange", exchange))
        deed()


def each_end(
    start: Path, files: list[SiteFile], first: int = 1, apart: int = 1
) -> Iterator[tuple[Path, Machine]]:
    """Build in a fresh copy of `start` for each step and way in which a build can be cut off.

    Of the steps only every one that is so far `apart`, from the `first` on.
    """
    for last in count(first, apart):
        for way in WAYS:
            machine = Machine(last, way)
            work = start.parent / f"{start.name}-{last}-{way}"
            copytree(start, work, symlinks=True)
            killed(lambda: publish(files, work / "site", content=work / "content"), machine)  # noqa: B023 - called at once
            if not machine.ended:
                return
            if way != "half" or machine.steps[-1] == "write":
                yield work, machine


def begun(tmp_path: Path, before: list[SiteFile] | None) -> Path:
    """Make a folder with the content, somebody's files, and a site."""
    start = tmp_path / "start"
    (start / "content").mkdir(parents=True)
    (start / "content" / "program.yaml").write_text("name: x")
    (start / ".handbook").mkdir()
    (start / ".handbook" / "mine.txt").write_text("mine")
    if before:
        publish(before, start / "site", content=start / "content")
    return start


def others(work: Path) -> dict[str, bytes]:
    return {name: held for name, held in snapshot(work).items() if not name.startswith("site/")}


def check_whole(work: Path, machine: Machine, kind: Kind, before: list[SiteFile] | None) -> None:
    """Whatever readers see is whole; once the next command has begun, there is a site again."""
    site, told = work / "site", (machine.last, machine.way, machine.steps[-1])
    absent = before is None or not kind.exchanges
    wholes = [whole for whole in (before, SECOND) if whole]
    assert any(holds(site, whole) for whole in wholes) or (absent and not site.exists()), told
    put_right(site)
    assert any(holds(site, whole) for whole in wholes) or not (before or site.exists()), told


@pytest.mark.parametrize("before", BEFORE)
def test_a_build_may_be_cut_off_anywhere(tmp_path: Path, kind: Kind, before: str) -> None:
    start, ends = begun(tmp_path, BEFORE[before]), 0
    alone = others(start)
    for work, machine in each_end(start, SECOND):
        ends += 1
        check_whole(work, machine, kind, BEFORE[before])
        assert others(work) == alone
        publish(SECOND, work / "site", content=work / "content")
        assert holds(work / "site", SECOND)
        assert others(work) == alone
    assert ends >= {"first build": 50, "changed": 50, "unchanged": 5}[before]


def test_a_build_after_one_that_was_cut_off_may_be_cut_off_anywhere(
    tmp_path: Path, kind: Kind
) -> None:
    start = begun(tmp_path, FIRST)
    alone, crashed = others(start), [work for work, _ in each_end(start, SECOND)]
    for first, share in enumerate((0.5, 0.8, 1), 1):  # a third of the steps after each crash
        for work, _ in each_end(crashed[int(share * (len(crashed) - 1))], THIRD, first, apart=3):
            put_right(work / "site")
            assert any(holds(work / "site", whole) for whole in WHOLE)
            publish(THIRD, work / "site", content=work / "content")
            assert holds(work / "site", THIRD)
            assert others(work) == alone
