"""Texts that are for some players, as pages for all show them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.instrument_names import called
from handbook.outputs.page import Context
from handbook.plan.model import ConcertPlan
from handbook.plan.parts import takes_part
from handbook.plan.players import everyone
from handbook.records import dataclass
from handbook.schema.texts_for import TextFor, Texts, texts_for


@dataclass(frozen=True, slots=True)
class TextView:
    """One text; `who` says whom it is for, if not all."""

    who: str
    text: str


def text_views(context: Context, texts: Texts | None) -> tuple[TextView, ...]:
    """Show each text with those it is for."""
    return tuple(TextView(named_who(who), context.say(text)) for who, text in texts_for(texts))


def all_words(lines: Iterable[TextView]) -> str:
    """Give the words of them, for search."""
    return " ".join(f"{line.who} {line.text}".strip() for line in lines)


def said_for(context: Context, line: TextFor) -> str:
    """Say a text after those it is for, `Percussion: your own sticks`; for all by itself."""
    who, text = named_who(line.who), context.say(line.text)
    if not who:
        return text
    # Translators: instruments, and what is for those who play them.
    return gettext("%(players)s: %(words)s", players=f"{who[:1].upper()}{who[1:]}", words=text)


def named_who(ids: Iterable[str]) -> str:
    """Name instruments and families as they are said: `low brass, horn`."""
    return with_commas(map(called, ids))


def players_for(context: Context, concert: ConcertPlan, who: tuple[str, ...]) -> Iterator[str]:
    """Name the parts of a concert that something is for, `band/instrument`; none if it is for all.

    The reader's own part is kept on the device in these words.
    """
    bands = [group.ensemble for group in concert.day.groups if group.ensemble and not group.section]
    for one in everyone(bands) if who else ():
        for name in one.instruments:
            if takes_part(name, context.plan.program.instrument(name), who):
                yield f"{one.id}/{name}"
