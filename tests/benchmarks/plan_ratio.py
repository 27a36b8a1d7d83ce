"""How much of a build the planning of its seasons takes.

    python -m tests.benchmarks.plan_ratio

Builds invented content with 16 seasons of ensembles, about 25 rehearsals each, in one
process, and counts the process seconds of the whole build and those within the planning
of music and the climbing of tempos. Both are of the same run, so that a busy machine
slows both. Ends with 1 if the ratio is over the bar.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from functools import wraps
from pathlib import Path
from typing import ParamSpec, TypeVar
from unittest.mock import patch

from handbook.pipeline import load_plan
from handbook.plan import agendas, build
from handbook.plan.season import season_plan, with_ladders
from tests.benchmarks.invented_content import ENSEMBLES, write_content
from tests.whole_sites import make_site

BAR = 0.15
CYCLES = 4  # of four ensembles each

_P = ParamSpec("_P")
_T = TypeVar("_T")


def main() -> int:
    """Measure, print, and compare with the bar."""
    spent: list[float] = []
    rehearsals: list[int] = []

    def timed(function: Callable[_P, _T]) -> Callable[_P, _T]:
        @wraps(function)
        def call(*args: _P.args, **kwargs: _P.kwargs) -> _T:
            begun = time.process_time()
            result = function(*args, **kwargs)
            spent.append(time.process_time() - begun)
            return result

        return call

    def climbed(*args: object, weekly: bool) -> Iterable[object]:
        rehearsals.append(len(args[4]))  # type: ignore[arg-type]
        return list(with_ladders(*args, weekly=weekly))  # type: ignore[arg-type]

    with tempfile.TemporaryDirectory(prefix="handbook-measured-") as name:
        folder = Path(name)
        write_content(folder / "content", CYCLES)
        with (
            patch.object(agendas, "season_plan", timed(season_plan)),
            patch.object(build, "with_ladders", timed(climbed)),
        ):
            begun = time.process_time()
            outcome = load_plan(folder / "content")
            if outcome.plan is None:
                raise SystemExit(f"the content is not in order: {outcome.problems[0].message}")
            pages = make_site(outcome.plan, folder / "content", folder / "site").pages
            whole = time.process_time() - begun
    ratio = sum(spent) / whole
    print(  # noqa: T201
        f"{CYCLES * len(ENSEMBLES)} seasons, {sum(rehearsals)} rehearsals planned in"
        f" {sum(spent):.2f} s of {whole:.2f} s for {pages} pages: ratio {ratio:.3f}, bar {BAR:.2f}"
    )
    return int(ratio > BAR)


if __name__ == "__main__":
    sys.exit(main())
