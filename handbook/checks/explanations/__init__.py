"""What each code means: the one registry of all codes, for `handbook explain`."""

from __future__ import annotations

from handbook.checks import PLAN_CHECKS, REFERENCE_CHECKS
from handbook.checks.check import code_of, explanation_of
from handbook.checks.explanations.reader import READER_EXPLANATIONS
from handbook.checks.explanations.reckoned import PLAN_EXPLANATIONS
from handbook.checks.explanations.shape import SHAPE_EXPLANATIONS


def explanation(code: str) -> str | None:
    """Give what a code means, or None for an unknown one."""
    return _all().get(code)


def all_codes() -> tuple[str, ...]:
    """Give all codes in alphabetical order."""
    return tuple(sorted(_all()))


def _all() -> dict[str, str]:
    told = {**READER_EXPLANATIONS, **SHAPE_EXPLANATIONS, **PLAN_EXPLANATIONS}
    told |= {code_of(check): explanation_of(check) for check in REFERENCE_CHECKS}
    return told | {code_of(check): explanation_of(check) for check in PLAN_CHECKS}
