"""The phases in order: load, check references, plan, check the plan, render."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from handbook.checks import LINK_CHECKS, PLAN_CHECKS, REFERENCE_CHECKS
from handbook.checks.links import Linked
from handbook.loader import in_draft, load
from handbook.outputs.addresses import made_for
from handbook.outputs.model import Site
from handbook.plan.build import build_plan
from handbook.plan.model import Plan
from handbook.problems import Problem, Severity
from handbook.records import dataclass
from handbook.schema.handbook import CycleContent, Handbook
from handbook.source.source_map import SourceMap, at_home

SubjectT = TypeVar("SubjectT")

# What these look for may stand in the very file that could not be read.
_UNSURE = frozenset({"unknown-term", "unknown-strand"})


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a content folder; `sources` leads from a problem to its line.

    `plan` is there only if nothing is wrong; warnings do no harm.
    """

    problems: tuple[Problem, ...]
    sources: SourceMap
    plan: Plan | None = None


def load_plan(content: Path) -> Outcome:
    """Read, check and plan a content folder; writes nothing.

    All problems of all files are found in one run, as far as what is broken allows: names
    are looked up in whatever could be read, and a plan is reckoned once all of it can be.
    The hints of warnings on seasons are left out beside a plan, since finding what would
    mend a season takes as long as many plans.
    """
    return _told_at_home(_load(content, told=False))


def load_problems(content: Path) -> Outcome:
    """Read and check a content folder as `load_plan` does, for the problems with all their hints alone."""
    return _told_at_home(_load(content, told=True))


def _told_at_home(outcome: Outcome) -> Outcome:
    """Tell what is wrong in lines that several cycles share once, and where they stand."""
    homes = outcome.sources.homes
    if not homes:
        return outcome
    told: dict[object, Problem] = {}
    for problem in outcome.problems:
        own = at_home(problem, homes)
        told.setdefault((own.code, own.address, own.message), own)
    return replace(outcome, problems=tuple(told.values()))


def _load(content: Path, *, told: bool) -> Outcome:
    loaded = load(content)
    problems, sources = loaded.problems, loaded.sources
    if loaded.handbook is None:
        if loaded.readable is not None:
            found = checked(REFERENCE_CHECKS, loaded.readable)
            problems += tuple(problem for problem in found if problem.code not in _UNSURE)
        return Outcome(problems, sources)
    problems += checked(REFERENCE_CHECKS, loaded.handbook)
    linked = Linked(loaded.handbook, frozenset(made_for(loaded.handbook)))
    problems += checked(LINK_CHECKS, linked)
    if loaded.drafts:
        problems += of_drafts(loaded.handbook, loaded.drafts, problems, told=told)
    if has_errors(problems):
        return Outcome(problems, sources)
    plan, found = _planned(loaded.handbook, told=told)
    if has_errors(found) and not told:
        plan, found = _planned(loaded.handbook, told=True)
    return Outcome(problems + found, sources, None if told or has_errors(found) else plan)


def of_drafts(
    handbook: Handbook,
    drafts: tuple[CycleContent, ...],
    known: Iterable[Problem],
    *,
    told: bool,
) -> tuple[Problem, ...]:
    """Check what drafts would bring, which stops nothing.

    Beside the published cycles they show what names lead to nothing; planned by
    themselves, if problems are to be told, what of them could not be held.
    """
    known_already = {(problem.code, problem.address, problem.message) for problem in known}
    beside = replace(handbook, cycles=(*handbook.cycles, *drafts))
    found = tuple(
        problem
        for problem in checked(REFERENCE_CHECKS, beside)
        if (problem.code, problem.address, problem.message) not in known_already
    )
    if told and not has_errors(found) and not has_errors(known):
        found += _planned(replace(handbook, cycles=drafts), told=True)[1]
    return tuple(map(in_draft, found))


def render(plan: Plan) -> Site:
    """Make the site of a plan, as values."""
    from handbook.outputs.site import render_site  # noqa: PLC0415 - checking needs no templates

    return render_site(plan)


def _planned(handbook: Handbook, *, told: bool) -> tuple[Plan, tuple[Problem, ...]]:
    """Plan for a site; or for what is told, with the mends of seasons and without what players take home."""
    planned = build_plan(handbook, mended=told, for_players=not told)
    return planned.plan, planned.problems + checked(PLAN_CHECKS, planned.plan)


def has_errors(problems: Iterable[Problem]) -> bool:
    """Whether any of them stops a build."""
    return any(problem.severity is Severity.ERROR for problem in problems)


def checked(
    checks: Iterable[Callable[[SubjectT], tuple[Problem, ...]]], subject: SubjectT
) -> tuple[Problem, ...]:
    """Run checks in order."""
    return tuple(problem for check in checks for problem in check(subject))
