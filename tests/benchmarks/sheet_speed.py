"""How long the sheets of a content folder take from their words on, and what each kind of them costs.

    python -m tests.benchmarks.sheet_speed content

First all public sheets in all languages are made as a build makes them, on all processors:
seconds by the clock and of the processor. Then they and the binder's, one after the other:
milliseconds of the processor by kind. Ends with 1 if the first takes longer than the bar.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from unittest.mock import patch

from handbook.binder import paper
from handbook.binder.assemble import binder_files, new_binder
from handbook.outputs import site
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.threads import side_by_side
from handbook.outputs.sheets.typesetting import typeset, words_digest
from handbook.pipeline import load_plan
from tests.outputs.sheets.small_site import public_sheets

BAR = 3.0  # seconds by the clock for all public sheets of the demo
_IMPRINT = Imprint("https://bands.tollgate.example/")
_Work = Callable[[], bytes]


def main(arguments: Sequence[str]) -> int:
    """Measure the sheets of one content folder."""
    parser = argparse.ArgumentParser(description="Time the making of sheets.")
    parser.add_argument("content", type=Path, nargs="?", default=Path("content"))
    content = parser.parse_args(arguments).content
    outcome = load_plan(content)
    assert outcome.plan is not None
    kinds: dict[MadeSheet, str] = {}
    with _noting(kinds):
        public = [one.made for one in public_sheets(outcome.plan, _IMPRINT)]
    seconds, of_processor = _timed(lambda: side_by_side(_made, public))
    sys.stdout.write(
        f"{len(public)} public sheets: {seconds:.2f} s by the clock, {of_processor:.2f} s of the processor\n"
    )
    _tell({made: _of_site(made) for made in public}, kinds)
    kinds.clear()
    with _noting(kinds):
        binder = new_binder(outcome, content)
        assert binder is not None
        files = [file.made for file in binder_files(binder)]
    private = [one for one in files if isinstance(one, paper.Typesetting)]
    sys.stdout.write(f"{len(private)} sheets of the binder\n")
    _tell({one.made: one for one in private}, kinds)
    return 1 if seconds > BAR else 0


def _made(sheet: MadeSheet) -> bytes:
    words_digest(sheet)
    return typeset(sheet, _IMPRINT)


def _of_site(sheet: MadeSheet) -> _Work:
    return lambda: _made(sheet)


@contextmanager
def _noting(kinds: dict[MadeSheet, str]) -> Any:
    """Note of what kind each sheet is whose words are written."""

    def noted(*given: Any) -> MadeSheet:
        made = made_sheet(*given)
        kinds[made] = given[-1].kind
        return made

    with patch.object(site, "made_sheet", noted), patch.object(paper, "made_sheet", noted):
        yield


def _timed(work: Callable[[], object]) -> tuple[float, float]:
    clock, processor = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - clock, time.process_time() - processor


def _tell(sheets: dict[MadeSheet, _Work], kinds: dict[MadeSheet, str]) -> None:
    taken = defaultdict[str, list[float]](list)
    for made, work in sheets.items():
        taken[kinds[made]].append(_timed(work)[1])
    for kind, each in sorted(taken.items(), key=lambda one: -sum(one[1])):
        total = sum(each)
        sys.stdout.write(
            f"  {kind:12} {len(each):4} {total:6.2f} s {1000 * total / len(each):6.0f} ms each,"
            f" at most {1000 * max(each):.0f}\n"
        )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
