"""`handbook explain`: what a problem means and how to mend it."""

from __future__ import annotations

import click

from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.fields import fields_text
from handbook.explanations import all_codes, explanation
from handbook.source.names import nearest


@click.command("explain")
@click.argument("code", metavar="[CODE|FILE]", required=False)
def command(code: str | None) -> int:
    """Say what the problem CODE means, why it matters, and how to write it right.

    For the name of a content FILE, such as concert.yaml, list all that may stand in it;
    concert.program lists one of its entries. Without either, list all codes.
    """
    if code is None:
        click.echo("\n".join(f"{name:32} {_first_line(name)}" for name in all_codes()))
        return Exit.CLEAN
    text = explanation(code)
    if text is None and (fields := fields_text(code)):
        click.echo(fields)
        return Exit.CLEAN
    if text is None:
        from handbook.audit.concerns import concern_text  # noqa: PLC0415 - most codes are of problems

        text = concern_text(code)
    if text is None:
        likely = nearest(code, all_codes(), most=1)
        wish = (
            f"did you mean {likely[0]}?"
            if likely
            else "`handbook explain` lists all, and `handbook explain concert.yaml` what may stand in a file"
        )
        raise Misuse(f"there is no problem `{code}`: {wish}")
    click.echo(f"{code}\n\n{text}")
    return Exit.CLEAN


def _first_line(code: str) -> str:
    return (explanation(code) or "").partition("\n")[0]
