"""The command `handbook`: its verbs, and the one way out for all of them."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from io import TextIOWrapper
from typing import NoReturn

import click

from handbook.cli.crash_log import fault_sentence
from handbook.cli.exit_codes import Exit
from handbook.cli.version import own_version

# A command makes millions of small records, none in a ring, and then ends: looking for rings
# after every 700 of them, as Python does, takes a twelfth of a build.
_RECORDS_BETWEEN_LOOKS = 100_000

VERBS = ("new", "check", "plan", "build", "serve", "explain")


class Verbs(click.Group):
    """The verbs in the order of work; each is loaded only when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """Give all verbs."""
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Load one verb."""
        if cmd_name not in VERBS:
            return None
        command = import_module(f"handbook.cli.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command


@click.command(cls=Verbs, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(own_version(), prog_name="handbook", message="%(prog)s %(version)s")
def handbook() -> None:
    """Turn a concert cycle, written down once, into a handbook for students and families.

    Begin with `handbook new content`, then `handbook serve` and write.

    Ends with 0 if all is well, 1 if there is something to mend, 2 if the command was
    given wrongly, 3 if handbook itself failed.
    """


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run a command and end the process with its exit code; no traceback is ever shown."""
    gc.set_threshold(_RECORDS_BETWEEN_LOOKS)
    _survive_any_console()
    ended = _run(sys.argv[1:] if arguments is None else list(arguments))
    gc.freeze()  # the process ends: to look through all it holds once more would be for nothing
    sys.exit(ended)


def _run(arguments: list[str]) -> int:
    try:
        ended = handbook.main(arguments, prog_name="handbook", standalone_mode=False)
    except click.ClickException as refusal:
        refusal.show()
        return refusal.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped.", err=True)
        return Exit.STOPPED
    except BrokenPipeError:  # such as `handbook plan | head`: nobody is left to tell
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.PROBLEMS
    except Exception as fault:  # noqa: BLE001 - the last line of defence
        click.echo(fault_sentence(fault, arguments), err=True)
        return Exit.FAULT
    return int(ended or Exit.CLEAN)


def _survive_any_console() -> None:
    """Write a question mark where a console lacks a sign such as a flat, instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
