"""How a command ends: exit codes, and refusals in one sentence."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum
from typing import IO, Any

import click


class Exit(IntEnum):
    """What the shell is told."""

    CLEAN = 0  # warnings do no harm
    PROBLEMS = 1  # something in the content is to be mended; nothing was written
    MISUSE = 2  # the command cannot be meant this way
    FAULT = 3  # ours
    STOPPED = 130  # by Ctrl-C, as shells count it


class Misuse(click.ClickException):
    """A command that cannot be meant this way; shown as one line."""

    exit_code = Exit.MISUSE

    def show(self, file: IO[Any] | None = None) -> None:
        """Print the sentence to the error stream."""
        click.echo(f"handbook: {self.message}", file=file, err=True)


def refuse_unknown(kind: str, wanted: Iterable[str], known: list[str]) -> None:
    """Raise Misuse for the first name that is not a known one of its kind."""
    for name in wanted:
        if name not in known:
            raise Misuse(f"there is no {kind} `{name}`: the {kind}s are {', '.join(known)}")
