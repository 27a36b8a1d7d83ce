"""`python -m tests` checks everything, exactly as CI does; more arguments go to pytest.

Format, lint, types, the arrows between packages, tests: the first that fails ends it. In a
fresh checkout it sets itself up first.
"""

import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from handbook.bootstrap import enter
from tests.chromium import find_chromium

CHECKOUT = Path(__file__).resolve().parents[1]
STEPS = (
    ["ruff", "format", "--check", "."],
    ["ruff", "check", "."],
    ["mypy"],
    ["lint-imports", "--no-logo"],
    ["pytest", "-n", "4", "--dist", "worksteal"],
)
# Reads all tests while types are checked, which takes one processor alone. Python keeps them
# compiled, which each worker of the last step would else do by itself.
READING = ["pytest", "--collect-only"]


def main(arguments: "list[str]") -> int:
    """Run the steps; give the exit code of the first that fails, or 0."""
    if arguments in (["-h"], ["--help"]):
        print(__doc__)
        return 0
    steps = [*STEPS[:-1], [*STEPS[-1], *arguments]]
    with beside([*READING, *arguments]) as reading:
        for step in steps:
            print("==", *step, flush=True)
            if step == steps[-1]:
                reading.wait()
            code = subprocess.call([program(step[0]), *step[1:]], cwd=CHECKOUT)
            if code:
                return code
    if find_chromium() is None:
        print("Not run: the tests in a browser, for there is no Chromium or Chrome here.")
    return 0


@contextmanager
def beside(step: "list[str]") -> "Iterator[subprocess.Popen[bytes]]":
    """Run a step beside others, unheard and for its traces alone; at the end it is stopped."""
    command = [program(step[0]), *step[1:]]
    silent = subprocess.DEVNULL
    with subprocess.Popen(command, cwd=CHECKOUT, stdout=silent, stderr=silent) as process:
        try:
            yield process
        finally:
            process.kill()


def program(name: str) -> str:
    """Find a tool beside this interpreter, on Windows with its ending."""
    found = shutil.which(name, path=sysconfig.get_path("scripts")) or shutil.which(name)
    if found is None:
        sys.exit(f"{name} is not installed beside this Python.")
    return found


if __name__ == "__main__":
    enter("tests", "dev")
    sys.exit(main(sys.argv[1:]))
