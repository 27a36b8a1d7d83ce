"""A concert as a family needs it: when, where, what to wear, what is played."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from handbook.outputs.base import SearchEntry
from handbook.outputs.pages import addresses, formatting
from handbook.outputs.pages.draft import Context, Link, PageDraft
from handbook.outputs.pages.spellings import day_spellings, spellings
from handbook.plan.model import ConcertPlan, CyclePlan


@dataclass(frozen=True, slots=True)
class TurnView:
    """One ensemble's turn: its call, its place, its pieces (title, path, maker, duration)."""

    ensemble: str
    path: str
    call: str
    place: str
    pieces: tuple[tuple[str, str, str, str], ...]
    duration: str


@dataclass(frozen=True, slots=True)
class ConcertView:
    """The page of a concert."""

    name: str
    about: str
    cycle: str
    day: date
    date: str
    downbeat: str
    downbeat_iso: str
    pick_up: str
    venue: str
    address: str
    parking: str
    access: str
    attire: tuple[str, ...]
    bring: tuple[str, ...]
    turns: tuple[TurnView, ...]
    music: str
    calls: bool


def drafts(context: Context) -> Iterator[PageDraft]:
    """Make a page for each concert."""
    for cycle in context.plan.cycles:
        if cycle.concert:
            yield _draft(context, cycle, cycle.concert)


def _draft(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> PageDraft:
    view = _view(context, cycle, concert)
    calls = " ".join(f"{turn.ensemble} call {turn.call} {turn.place}" for turn in view.turns)
    pieces = " ".join(title for turn in view.turns for title, *_ in turn.pieces)
    text = f"{view.date} downbeat {view.downbeat} {view.venue} {view.address} {calls} pick-up {view.pick_up}"
    return PageDraft(
        path=addresses.concert(cycle.id),
        kind="concert",
        title=view.name,
        description=f"{view.name}: {view.date}, {view.downbeat}, {view.venue}. Call times, attire, program, pick-up.",
        section="concert",
        view=view,
        crumbs=(Link(view.cycle, addresses.cycle(cycle.id)),),
        search=(
            SearchEntry(
                view.name,
                text,
                keywords=f"concert {day_spellings(view.day)} {spellings(text)} start begins time where parking",
            ),
            SearchEntry(
                f"Attire, {view.name}",
                " ".join(view.attire),
                "attire",
                "clothes wear uniform dress shoes concert",
            ),
            SearchEntry(
                f"What to bring, {view.name}", " ".join(view.bring), "bring", "take need concert"
            ),
            SearchEntry(
                f"Program, {view.name}", pieces, "program", "pieces music order plays concert"
            ),
        ),
    )


def _view(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> ConcertView:
    item, venue = concert.item, concert.venue
    turns = tuple(
        TurnView(
            ensemble=context.say(turn.ensemble.name),
            path=addresses.ensemble(cycle.id, turn.ensemble.id),
            call=formatting.clock(turn.call) if turn.call else "",
            place=context.say(turn.place),
            pieces=tuple(
                (
                    context.say(piece.item.title),
                    addresses.piece(cycle.id, turn.ensemble.id, piece.item.id),
                    context.say(piece.item.by),
                    formatting.duration(piece.seconds),
                )
                for piece in turn.pieces
            ),
            duration=formatting.duration(turn.seconds),
        )
        for turn in concert.appearances
    )
    return ConcertView(
        name=context.say(item.name),
        about=context.say(item.about),
        cycle=context.say(cycle.item.name),
        day=item.date,
        date=formatting.long_day(item.date),
        downbeat=formatting.clock(concert.downbeat),
        downbeat_iso=concert.downbeat.isoformat(),
        pick_up=formatting.clock(concert.pick_up) if concert.pick_up else "",
        venue=context.say(venue.name),
        address=context.say(venue.address),
        parking=context.say(venue.parking),
        access=context.say(venue.access),
        attire=tuple(context.say(text) for text in item.attire),
        bring=tuple(context.say(text) for text in item.bring),
        turns=turns,
        music=formatting.duration(concert.seconds),
        calls=any(turn.call for turn in turns),
    )
