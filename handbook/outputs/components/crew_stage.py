"""What stands on the stage, turn by turn, in words for the crew."""

from __future__ import annotations

from handbook.outputs.components.concert_words import clock, names, span
from handbook.outputs.components.stage_things import counted, thing_name, things
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.page import Context
from handbook.plan.concert_model import SeatingDay, SetupRow
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class SetupLine:
    """One turn's set-up and the reset before it; `reset` is empty where it has no time of its own."""

    who: str
    time: str
    reset: str
    setup: str
    add: str
    strike: str


@dataclass(frozen=True, slots=True)
class StockLine:
    """One thing: the most that stands at once, what the venue has, how many are missing."""

    thing: str
    needed: int
    has: str
    short: str


@dataclass(frozen=True, slots=True)
class SetupView:
    """The stage over the evening."""

    opening: str
    turns: tuple[SetupLine, ...]
    stock: tuple[StockLine, ...]
    venue: str
    unstated: str


def stage_view(context: Context, seating: SeatingDay | None, venue: str) -> SetupView | None:
    """Gather the set-ups; None where no player is counted."""
    if seating is None:
        return None
    short = {each.thing: each for each in seating.stock.short}
    unstated = seating.stock.unstated if seating.stock_stated else ()
    return SetupView(
        opening=things(seating.opening),
        turns=tuple(_line(context, turn) for turn in seating.turns),
        stock=tuple(
            StockLine(
                thing=thing_name(thing),
                needed=count,
                has=str(seating.has.get(thing, "")),
                short=counted(thing, short[thing].short) if thing in short else "",
            )
            for thing, count in seating.largest.counts
        ),
        venue=venue,
        unstated=with_commas(map(thing_name, unstated)),
    )


def _line(context: Context, turn: SetupRow) -> SetupLine:
    return SetupLine(
        who=names(context, turn.ensembles),
        time=clock(turn.start),
        reset=span(turn.reset, turn.free) if turn.reset and turn.free else "",
        setup=things(turn.setup),
        add=things(turn.change.add),
        strike=things(turn.change.strike),
    )
