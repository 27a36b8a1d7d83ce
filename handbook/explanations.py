"""What each code means, for `handbook explain`: told where the problem is raised, gathered here."""

from __future__ import annotations

from types import ModuleType

from handbook.checks import LINK_CHECKS, PLAN_CHECKS, REFERENCE_CHECKS
from handbook.checks.check import code_of, explanation_of
from handbook.ledger import reading
from handbook.loader import discover, folder_walk, free_pages, validation_errors
from handbook.plan import agendas, dates, music, stages
from handbook.problems import Code
from handbook.schema.scalars import codes
from handbook.source import commas, decoding, lint, nodes, po_files, yaml_reader
from handbook.source.diagnose import layout, punctuation, syntax

READING: tuple[ModuleType, ...] = (
    decoding,
    nodes,
    lint,
    layout,
    punctuation,
    syntax,
    yaml_reader,
)
"""Modules that raise problems with the text of a file."""

_RAISING = (
    *READING,
    codes,
    commas,
    discover,
    folder_walk,
    po_files,
    reading,
    validation_errors,
    free_pages,
    agendas,
    dates,
    music,
    stages,
)


def explanation(code: str) -> str | None:
    """Give what a code means, or None for an unknown one."""
    return _all().get(code)


def all_codes() -> tuple[str, ...]:
    """Give all codes in alphabetical order."""
    return tuple(sorted(_all()))


def codes_of(module: ModuleType) -> dict[str, str]:
    """Give the codes that a module defines or uses, each with its explanation."""
    return {str(code): code.explanation for code in vars(module).values() if isinstance(code, Code)}


def _all() -> dict[str, str]:
    told = {code: text for module in _RAISING for code, text in codes_of(module).items()}
    told |= {code_of(check): explanation_of(check) for check in REFERENCE_CHECKS}
    told |= {code_of(check): explanation_of(check) for check in LINK_CHECKS}
    return told | {code_of(check): explanation_of(check) for check in PLAN_CHECKS}
