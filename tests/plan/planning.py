"""Plans made from the shared content folder with some files changed."""

from __future__ import annotations

from pathlib import Path

from handbook.loader import load
from handbook.plan.build import PlanResult, build_plan
from handbook.plan.model import CyclePlan, EnsemblePlan
from tests.content_folders import base_files, write_folder

CYCLE = "cycles/winter/cycle.yaml"
MUSIC = "cycles/winter/music.yaml"
CONCERT = "cycles/winter/concert.yaml"
YEAR = "years/2026-27.yaml"


_KEPT: dict[tuple[tuple[str, bytes], ...], PlanResult] = {}


def planned(folder: Path, changes: dict[str, str] | None = None) -> PlanResult:
    """Reckon the shared folder with whole files replaced or added; equal folders only once."""
    write_folder(folder, {**base_files(), **(changes or {})})
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    key = tuple((path.relative_to(folder).as_posix(), path.read_bytes()) for path in files)
    if key not in _KEPT:
        loaded = load(folder)
        assert loaded.handbook is not None, loaded.problems
        _KEPT[key] = build_plan(loaded.handbook)
    return _KEPT[key]


def lantern(result: PlanResult) -> EnsemblePlan:
    """Give the Lantern Band of the only cycle."""
    return ensemble(winter(result), "lantern")


def winter(result: PlanResult) -> CyclePlan:
    """Give the cycle of the shared folder."""
    return next(cycle for cycle in result.plan.cycles if cycle.id == "winter")


def ensemble(cycle: CyclePlan, name: str) -> EnsemblePlan:
    """Give an ensemble of a cycle."""
    return next(plan for plan in cycle.ensembles if plan.item.id == name)
