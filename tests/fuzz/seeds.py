"""The folders that are spoilt, and which input a seed stands for."""

from __future__ import annotations

import random
from functools import cache
from pathlib import Path

from tests.fuzz.spoiling import LEVELS, Files, Pool, pool_of, spoilt

TESTS = Path(__file__).resolve().parents[1]
SEEDS = (TESTS / "broken" / "_base", TESTS / "sites" / "one-band" / "content")
_POOLED = (*SEEDS, TESTS.parent / "content")


def folder_of(seed: int) -> Files:
    """Give the input of a seed: the same one on every run."""
    chance = random.Random(seed)
    files = read_folder(chance.choice(SEEDS))
    return spoilt(files, chance.choice(sorted(LEVELS)), _pool(), chance)


@cache
def _pool() -> Pool:
    return pool_of(map(read_folder, _POOLED))


@cache
def read_folder(folder: Path) -> Files:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.suffix in {".yaml", ".md"} and path.is_file()
    }
