"""Spoil content at random, and see that nothing escapes.

    python -m tests.fuzz --number 100000 --jobs 2

Each input is a small content folder with a few changes of one level, by a seed of its own, so
that one can be tried again: `--number 1 --seed 4711`. Ends with 1 if anything escaped.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from time import perf_counter

from tests.fuzz.batch import tried_batch
from tests.fuzz.seeds import folder_of
from tests.fuzz.trial import Verdict

_BATCH = 250
_BATCHES_EACH = 8


def main() -> int:
    """Try the inputs in batches, each kind of fault told once with the first seed that shows it."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--number", type=int, default=2_000, help="so many inputs")
    parser.add_argument("--seed", type=int, default=0, help="the first input's seed")
    parser.add_argument("--jobs", type=int, default=1, help="so many processes")
    parser.add_argument("--keep", type=Path, help="write the inputs that fail below this folder")
    wanted = parser.parse_args()
    begun, ends, faults = perf_counter(), Counter[str](), dict[str, int]()
    last = wanted.seed + wanted.number
    batches = [range(at, min(at + _BATCH, last)) for at in range(wanted.seed, last, _BATCH)]
    for tried in _tried(batches, wanted.jobs):
        for seed, verdict in tried:
            ends[_end(verdict)] += 1
            if verdict.fault and verdict.fault not in faults:
                faults[verdict.fault] = seed
                print(f"{seed}: {verdict.fault}", flush=True)  # noqa: T201
    if wanted.keep:
        for seed in faults.values():
            _keep(wanted.keep / str(seed), seed)
    told = ", ".join(f"{count} {end}" for end, count in ends.most_common())
    print(  # noqa: T201
        f"{wanted.number} inputs in {perf_counter() - begun:.0f} s: {told}; {len(faults)} kinds of fault"
    )
    return int(bool(faults))


def _tried(batches: Sequence[range], jobs: int) -> Iterator[list[tuple[int, Verdict]]]:
    """Try batches, a few in each process, so that what one process holds stays one's own."""
    for at in range(0, len(batches), jobs * _BATCHES_EACH):
        with ProcessPoolExecutor(jobs, get_context("spawn")) as pool:
            yield from pool.map(tried_batch, batches[at : at + jobs * _BATCHES_EACH])


def _end(verdict: Verdict) -> str:
    if verdict.fault:
        return "escaped"
    return "became a site" if verdict.planned else "were refused"


def _keep(folder: Path, seed: int) -> None:
    for name, raw in folder_of(seed).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(raw)


if __name__ == "__main__":
    sys.exit(main())
