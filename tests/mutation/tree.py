"""A copy of the tree to break, and children of a process that has the large libraries ready."""

from __future__ import annotations

import contextlib
import importlib
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

PROFILE = "mutation"
OUT_OF_TIME = -1
WAITING = 10  # times as long as it works, a child may take
LIBRARIES = (
    "babel.dates",
    "click.testing",
    "dateutil.rrule",
    "hypothesis.strategies",
    "jinja2",
    "jsonschema",
    "markdown_it",
    "mkdocs.commands.build",
    "music21",
    "pydantic",
    "rich.console",
    "ruamel.yaml",
    "tinytag",
    "verovio",
    "yaml",
)


@dataclass(frozen=True)
class Child:
    """Where a child runs, None where its parent does, and for how many seconds of work at most."""

    tree: Path | None
    seconds: float


def warm_up() -> None:
    """Import what does not change, so that a child starts at once, and set a small profile."""
    for name in LIBRARIES:
        with contextlib.suppress(ImportError):
            importlib.import_module(name)
    settings.register_profile(
        PROFILE,
        max_examples=25,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )


def copy_tree(root: Path, to: Path) -> Path:
    """Copy the files that the repository knows, or would take in."""
    git = shutil.which("git") or "git"
    listed = subprocess.run(
        [git, "-C", str(root), "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        check=True,
        capture_output=True,
    ).stdout.decode()
    for name in filter(None, listed.split("\0")):
        if (root / name).is_file():
            (to / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(root / name, to / name)
    return to


def run_child(child: Child, work: Callable[[], int]) -> int:
    """Run work in a forked process inside a tree; OUT_OF_TIME if it does not end."""
    sys.stdout.flush()
    process = os.fork()
    if process == 0:
        code = 1
        try:
            os.setsid()
            _allow(int(child.seconds) + 1)
            if child.tree:
                settle(child.tree)
            code = work()
        finally:
            os._exit(code)
    ends = time.monotonic() + WAITING * child.seconds
    while time.monotonic() < ends:
        done, status = os.waitpid(process, os.WNOHANG)
        if done:
            code = os.waitstatus_to_exitcode(status)
            return OUT_OF_TIME if code == -signal.SIGKILL else code
        time.sleep(0.02)
    os.killpg(process, signal.SIGKILL)
    os.waitpid(process, 0)
    return OUT_OF_TIME


def _allow(seconds: int) -> None:
    """Bound this process's time on the processor, which others may want too."""
    import resource  # noqa: PLC0415 - not on every system

    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))


def settle(tree: Path) -> None:
    """Let this process know only the tree's own modules, and say nothing."""
    root = str(Path.cwd())
    for name in list(sys.modules):
        if name.partition(".")[0] in {"handbook", "tests"}:
            del sys.modules[name]
    sys.path[:] = [str(tree), *(path for path in sys.path if path not in {"", root})]
    os.environ["PYTHONPATH"] = str(tree)
    os.chdir(tree)
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)


def quiet_pytest(arguments: list[str], plugin: object) -> int:
    """Run pytest with the small profile and one plugin."""
    return int(pytest.main([*arguments, f"--hypothesis-profile={PROFILE}"], plugins=[plugin]))
