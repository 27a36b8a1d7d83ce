"""The phases in order: load, check references, plan, check the plan, render."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from handbook.checks import LINK_CHECKS, PLAN_CHECKS, REFERENCE_CHECKS
from handbook.checks.links import Linked
from handbook.domain.history import NO_HISTORY, History
from handbook.ledger import read_ledger
from handbook.loader import LoadResult, in_draft, load
from handbook.outputs.addresses import made_for
from handbook.outputs.model import Site
from handbook.partly import in_place, in_the_way, told_of_parts, without_wrong
from handbook.plan.build import build_plan
from handbook.plan.model import Plan
from handbook.problems import Problem, Severity
from handbook.records import dataclass
from handbook.schema.handbook import CycleContent, Handbook
from handbook.source.source_map import SourceMap, at_home

SubjectT = TypeVar("SubjectT")
_MOST_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a content folder; `sources` leads from a problem to its line.

    `plan` is there only if nothing is wrong, with the `handbook` that it is made of; warnings do
    no harm. `drafts` are the cycles that are kept out of it, as far as they could be read;
    `broken_drafts` are the ids of those that could not.
    """

    problems: tuple[Problem, ...]
    sources: SourceMap
    plan: Plan | None = None
    handbook: Handbook | None = None
    drafts: tuple[CycleContent, ...] = ()
    read: Handbook | None = None
    broken_drafts: tuple[str, ...] = ()


def load_plan(content: Path) -> Outcome:
    """Read, check and plan a content folder; writes nothing.

    All problems of all files are found in one run, as far as what is broken allows: checks
    run on whatever could be read, and what no error touches is planned for its problems.
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
    problems, sources = loaded.problems + read_ledger(content).problems, loaded.sources
    if loaded.handbook is None:
        if loaded.readable is not None:
            problems += _of_parts(loaded.readable, loaded)
        return Outcome(problems, sources)
    problems += checked(REFERENCE_CHECKS, loaded.handbook)
    linked = Linked(loaded.handbook, frozenset(made_for(loaded.handbook)))
    problems += checked(LINK_CHECKS, linked)
    if loaded.drafts:
        problems += of_drafts(loaded.handbook, loaded.drafts, problems, told=told)
    if has_errors(problems):
        told_of = problems + _of_sound_parts(loaded.handbook, problems)
        return Outcome(told_of, sources, read=loaded.handbook)
    plan, found = _planned(loaded.handbook, told=told)
    if has_errors(found) and not told:
        plan, found = _planned(loaded.handbook, told=True)
    sound = not told and not has_errors(found)
    if not sound:
        return Outcome(problems + found, sources, read=loaded.handbook)
    whole = loaded.handbook
    return Outcome(
        problems + found, sources, plan, whole, loaded.drafts, whole, loaded.broken_drafts
    )


def _of_parts(readable: Handbook, loaded: LoadResult) -> tuple[Problem, ...]:
    """Check and plan what could be read of content that has errors."""
    linked = Linked(readable, frozenset(made_for(readable)))
    found = (*checked(REFERENCE_CHECKS, readable), *checked(LINK_CHECKS, linked))
    sure = told_of_parts(found, loaded.problems, loaded.salvaged)
    broken = {problem.file for problem in loaded.problems if problem.severity is Severity.ERROR}
    planned = _of_sound_parts(readable, found, {*loaded.salvaged, *broken})
    return tuple(in_place(problem, loaded.salvaged) for problem in (*sure, *planned))


def _of_sound_parts(
    handbook: Handbook, problems: Iterable[Problem], lost: Collection[str] = ()
) -> tuple[Problem, ...]:
    """Plan what no error touches, for what is sure of its plan; entries that would then lead to nothing are left out too."""
    parts = without_wrong(handbook, problems, lost)
    for _ in range(_MOST_ROUNDS):
        if parts is None:
            return ()
        found = checked(REFERENCE_CHECKS, parts.handbook)
        if not in_the_way(parts.handbook, found):
            return parts.sure(_planned(parts.handbook, told=True)[1], found)
        parts = without_wrong(parts.handbook, found, missing=parts.missing)
    return ()


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


def render(plan: Plan, history: History = NO_HISTORY) -> Site:
    """Make the site of a plan, as values; of the `history` only the menu and the calendars tell yet."""
    from handbook.outputs.site import render_site  # noqa: PLC0415 - checking needs no templates

    return render_site(plan, history=history)


def _planned(handbook: Handbook, *, told: bool) -> tuple[Plan, tuple[Problem, ...]]:
    """Plan for a site; or for what is told, with the mends of seasons and without what players take home."""
    planned = build_plan(handbook, mended=told, for_players=not told)
    return planned.plan, planned.problems + checked(PLAN_CHECKS, planned.plan)


def plan_anew(handbook: Handbook, *, whole: bool = True) -> tuple[Plan | None, tuple[Problem, ...]]:
    """Check and plan content that was changed after it was read; there is no plan where it has errors.

    Without `whole` the mends of seasons and what players take home are left out, which is quicker.
    """
    problems = checked(REFERENCE_CHECKS, handbook)
    if has_errors(problems):
        return None, problems
    planned = build_plan(handbook, mended=whole, for_players=whole)
    problems += planned.problems + checked(PLAN_CHECKS, planned.plan)
    return None if has_errors(problems) else planned.plan, problems


def with_drafts(
    plan: Plan, handbook: Handbook, drafts: Iterable[CycleContent]
) -> tuple[Plan, tuple[str, ...]]:
    """Plan drafts beside the published cycles, which stay as they are in `plan` without them.

    Gives the plan with the drafts that are sound, and the ids of those that are not.
    """
    sound, left_out = list[CycleContent](), list[str]()
    planned = plan
    for draft in drafts:
        beside = replace(handbook, cycles=(*handbook.cycles, *sound, draft))
        found, _ = plan_anew(beside)
        if found is None:
            left_out.append(draft.id)
        else:
            planned = found
            sound.append(draft)
    own = [cycle for cycle in planned.cycles if cycle.item.draft]
    cycles = sorted((*plan.cycles, *own), key=lambda cycle: (cycle.first, cycle.id))
    return replace(plan, cycles=tuple(cycles)), tuple(left_out)


def has_errors(problems: Iterable[Problem]) -> bool:
    """Whether any of them stops a build."""
    return any(problem.severity is Severity.ERROR for problem in problems)


def checked(
    checks: Iterable[Callable[[SubjectT], tuple[Problem, ...]]], subject: SubjectT
) -> tuple[Problem, ...]:
    """Run checks in order."""
    return tuple(problem for check in checks for problem in check(subject))
