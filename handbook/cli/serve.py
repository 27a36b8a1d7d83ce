"""`handbook serve`: the site on this computer, made anew whenever a file is saved."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import click

from handbook.cli.crash_log import fault_sentence
from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_findings, tell_problems
from handbook.making.model import FinishedSite
from handbook.publishing import NotPublishedError
from handbook.serving import Listener, PortError, Round, serve

USUAL_PORT = 8000
_LAST_PORT = 65535


@click.command("serve")
@folder_argument
@click.option(
    "--port",
    type=click.IntRange(0, _LAST_PORT),
    default=USUAL_PORT,
    show_default=True,
    help="Where on this computer; 0 takes any free one.",
)
def command(folder: Path | None, port: int) -> int:
    """Show the site in the browser while you write.

    Pages follow each time a file is saved; while something is to be mended they show
    what, where and how. Ctrl-C ends it. DIR is the content folder, the nearest one if left out.
    """
    content = content_folder(folder)
    listener = Listener(
        announce=lambda address: click.echo(f"Open {address} in a browser. Ctrl-C ends it."),
        made=lambda made: _tell(made, content),
        failed=_tell_fault,
    )
    try:
        serve(content, listener, port=port)
    except KeyboardInterrupt:
        click.echo("Ended.")
    except PortError as refusal:
        raise Misuse(str(refusal)) from None
    return Exit.CLEAN


def _tell(made: Round, content: Path) -> None:
    if isinstance(made, FinishedSite):
        count = made.warnings
        warnings = f", {count} warning{'' if count == 1 else 's'}" if count else ""
        click.echo(f"{_now()} {made.pages} pages{warnings}")
        return
    if isinstance(made, NotPublishedError):
        tell_findings(str(made), made.findings)
    else:
        tell_problems(made, content)
    click.echo(f"{_now()} Something is to be mended: the browser shows it too.")


def _tell_fault(fault: Exception) -> str:
    sentence = fault_sentence(fault, sys.argv[1:])
    click.echo(f"{_now()} {sentence}", err=True)
    return sentence


def _now() -> str:
    return time.strftime("%H:%M:%S")
