"""What commands say of problems, in the terminal."""

from __future__ import annotations

from pathlib import Path

import click

from handbook.pipeline import Outcome
from handbook.problems import Severity


def tell_problems(outcome: Outcome, content: Path) -> None:
    """Print all problems to the error stream."""
    for problem in outcome.problems:
        place = problem.position or outcome.sources.position(problem.address, on_key=problem.on_key)
        where = f":{place.line}:{place.column}" if place else ""
        click.echo(
            f"{content / problem.file}{where}: {problem.severity} {problem.code}: {problem.message}",
            err=True,
        )
        if problem.hint:
            click.echo(f"  help: {problem.hint}", err=True)


def tell_findings(sentence: str, findings: tuple[str, ...]) -> None:
    """Print why a site was not published; the old one is as it was."""
    for finding in findings:
        click.echo(f"  {finding}", err=True)
    click.echo(f"handbook: {sentence}; the old site is as it was", err=True)


def warning_count(outcome: Outcome) -> int:
    """Count the warnings."""
    return sum(problem.severity is Severity.WARNING for problem in outcome.problems)
