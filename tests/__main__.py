"""`python -m tests` checks everything, exactly as CI does; more arguments go to pytest.

Format, lint, types, the arrows between packages, tests: the first that fails ends it. In a
fresh checkout it sets itself up first.
"""

import shutil
import subprocess
import sys
import sysconfig
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


def main(arguments: "list[str]") -> int:
    """Run the steps; give the exit code of the first that fails, or 0."""
    if arguments in (["-h"], ["--help"]):
        print(__doc__)
        return 0
    steps = [*STEPS[:-1], [*STEPS[-1], *arguments]]
    for step in steps:
        print("==", *step, flush=True)
        code = subprocess.call([program(step[0]), *step[1:]], cwd=CHECKOUT)
        if code:
            return code
    if find_chromium() is None:
        print("Not run: the tests in a browser, for there is no Chromium or Chrome here.")
    return 0


def program(name: str) -> str:
    """Find a tool beside this interpreter, on Windows with its ending."""
    found = shutil.which(name, path=sysconfig.get_path("scripts")) or shutil.which(name)
    if found is None:
        sys.exit(f"{name} is not installed beside this Python.")
    return found


if __name__ == "__main__":
    enter("tests", "dev")
    sys.exit(main(sys.argv[1:]))
