"""When and where the players of a concert must be, in as few words as a square of a month has."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from handbook.outputs.components.concert_words import group_name, meeting_place
from handbook.outputs.components.event_words import be_there_from
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_clauses, with_semicolons
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan


def calls_by_place(context: Context, concert: ConcertPlan) -> Iterator[str]:
    """Say when and where players must be; by place and band, if not all do so at once."""
    found: dict[str, dict[datetime, list[GroupDay]]] = {}
    for group in sorted(filter(_has_players, concert.day.groups), key=_reports_at):
        place = meeting_place(context, concert, group)
        found.setdefault(place, {}).setdefault(_reports_at(group), []).append(group)
    if len(found) == 1 and len(times := next(iter(found.values()))) == 1:
        yield with_clauses(filter(None, (be_there_from(next(iter(times))), *found)))
        return
    for place, times in found.items():
        told = with_semicolons(
            f"{formatting.clock(at)} {_players_of(context, groups)}" for at, groups in times.items()
        )
        yield gettext("%(who)s: %(words)s", who=place, words=told) if place else told


def _has_players(group: GroupDay) -> bool:
    is_band = group.ensemble or (group.role and group.role.ensemble)
    return bool(is_band and group.report)


def _reports_at(group: GroupDay) -> datetime:
    return group.report or group.times.in_place


def _players_of(context: Context, groups: Sequence[GroupDay]) -> str:
    """Name groups; a section that meets with its band goes without saying."""
    whole = [one.ensemble for one in groups if not one.section]
    return formatting.listed(
        [group_name(context, one) for one in groups if not one.section or one.ensemble not in whole]
    )
