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

from handbook.cli.exit_codes import Exit

# A command makes millions of small records, none in a ring, and then ends: looking for rings
# after every 700 of them, as Python does, takes a twelfth of a build.
_RECORDS_BETWEEN_LOOKS = 100_000

os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # to look for some takes a while

# The verbs in the order of work, each with its line of help: to list them, none is loaded.
VERBS = {
    "new": "Write a small content folder to begin with.",
    "check": "Say what is to be mended, all at once.",
    "fix": "Mend what can be mended in one way alone.",
    "next": "Begin the next cycle or school year from the last one.",
    "words": "Write what a language lacks into one file, and take it back translated.",
    "plan": "Show rehearsals with stages, minutes and tempos.",
    "compare": "Say what readers would learn anew since another folder.",
    "build": "Check the content and make the site.",
    "publish": "Put the site where readers see it, with all that is new.",
    "binder": "Write the director's own binder: stand view and sheets, private.",
    "serve": "Show the site in the browser while you write.",
    "explain": "Say what a problem means and how to mend it.",
}


class Verbs(click.Group):
    """The verbs; each is loaded only when it is called."""

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

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the verbs."""
        with formatter.section("Commands"):
            formatter.write_dl(list(VERBS.items()))


def _tell_version(ctx: click.Context, option: click.Parameter, wanted: bool) -> None:  # noqa: ARG001
    if wanted:
        from handbook.cli.version import own_version  # noqa: PLC0415 - asked for once in a while

        click.echo(f"handbook {own_version()}")
        ctx.exit()


@click.command(cls=Verbs, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_tell_version,
    help="Show the version and exit.",
)
def handbook() -> None:
    """Turn a concert cycle, written down once, into a handbook for students and families.

    Begin with `handbook new content`, then `handbook serve` and write, and `handbook publish`
    when readers are to see it.

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
        from handbook.cli.crash_log import fault_sentence  # noqa: PLC0415 - for a fault only

        click.echo(fault_sentence(fault, arguments), err=True)
        return Exit.FAULT
    return int(ended or Exit.CLEAN)


def _survive_any_console() -> None:
    """Write a question mark where a console lacks a sign such as a flat, instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
