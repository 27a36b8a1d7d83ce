"""Groups that are called together: whole ensembles in the order they play, their sections, then the crew's roles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from handbook.domain.call_times import Allowances, CallGroup, CallTimes, ExtraStep, call_times
from handbook.domain.run_of_show import RunOfShow
from handbook.domain.values.text import Text
from handbook.plan.concert_day.ground import Ground
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.calls import EarlierEntry, GroupCall, LaterEntry, Steps
from handbook.schema.concert import Appearance
from handbook.schema.loads import CrewRole
from handbook.schema.program import Ensemble, Room

_STEPS = tuple(Steps.model_fields)


@dataclass(frozen=True, slots=True)
class CalledGroup:
    """A group with its evening at the venue, before travel is counted.

    `stated_call` and `stated_pick_up` are the director's own times, with the address each
    stands at (or would stand at). `host` is the band in whose turn, and so in whose room, it
    warms up, if that turn and nothing of its own says where. `in_place_address` is where its minutes in place are stated,
    by its own or its band's entry if `own_in_place`.
    """

    id: str
    ensemble: Ensemble | None
    section: str | None
    role: CrewRole | None
    name: Text | None
    room: Room | None
    place: Text | None
    times: CallTimes
    reckoned: bool
    stated_call: datetime | None
    stated_pick_up: datetime | None
    address: Address
    call_address: Address
    pick_up_address: Address
    own_in_place: bool
    in_place_address: Address
    host: str | None = None

    @property
    def call(self) -> datetime | None:
        """The stated call, else the reckoned one."""
        return self.stated_call or (self.times.call if self.reckoned else None)


def called_groups(ground: Ground, run: RunOfShow) -> tuple[CalledGroup, ...]:
    """Reckon every group that has something to do."""
    return tuple(_groups(ground, run))


def _groups(ground: Ground, run: RunOfShow) -> Iterator[CalledGroup]:
    whole = {call.ensemble: n for n, call in enumerate(ground.item.calls) if _is_whole(call)}
    for ensemble, place in _first_turns(ground).items():
        yield from _group(ground, run, ensemble, whole.get(ensemble), place)
        for n, call in enumerate(ground.item.calls):
            if call.ensemble == ensemble and call.section:
                yield from _group(ground, run, ensemble, n, place, whole.get(ensemble))
    for n, call in enumerate(ground.item.calls):
        if call.role and not call.ensemble:
            yield from _group(ground, run, None, n, None)


def _is_whole(call: GroupCall) -> bool:
    return bool(call.ensemble) and not call.section and not call.role


def _first_turns(ground: Ground) -> Mapping[str, int]:
    """Give each ensemble the place of the first turn it plays in; its own turns go first."""
    places: dict[str, int] = {}
    for place, turn in enumerate(ground.item.program):
        if turn.ensemble:
            places.setdefault(turn.ensemble, place)
    for place, turn in enumerate(ground.item.program):
        for joining in turn.joined_by:
            if joining not in ground.guests:
                places.setdefault(joining, place)
    return places


def _group(
    ground: Ground,
    run: RunOfShow,
    ensemble: str | None,
    entry: int | None,
    place: int | None,
    whole: int | None = None,
) -> Iterator[CalledGroup]:
    """Make one group from its entry under `calls`, its turn, and (for a section) its band's entry."""
    calls = ground.item.calls
    call = calls[entry] if entry is not None else GroupCall()
    around = calls[whole] if whole is not None else GroupCall()
    turn = ground.item.program[place] if place is not None else None
    usual = (ground.item.allowances or Steps()) if ensemble else Steps()
    allowances, reckoned = _allowances(call.minutes, around.minutes, usual)
    stays = next((one for one in (call.stays, around.stays) if one is not None), False)
    times = call_times(
        run,
        CallGroup(
            allowances,
            ensemble,
            stays=stays,
            beforehand=_steps(ground, ground.item.before, ensemble),
            afterward=_steps(ground, ground.item.after, ensemble),
        ),
    )
    if times is None:
        return
    address = ground.at("calls", entry) if entry is not None else ground.at("program", place or 0)
    stated_call, call_address = _stated_call(ground, call, turn, address, place)
    stated_pick_up, pick_up_address = _stated_pick_up(ground, (entry, whole), ensemble, address)
    own_in_place, in_place_address = _in_place_stated(ground, (entry, whole), address)
    room = _room(ground, call, around, turn)
    yield CalledGroup(
        id=_id_of(ensemble, call),
        ensemble=ground.ensembles.get(ensemble or ""),
        section=call.section,
        role=next((role for role in ground.item.crew if role.id == call.role), None),
        name=call.name,
        room=room,
        place=call.place or (None if call.room else around.place or (turn.place if turn else None)),
        times=times,
        reckoned=reckoned,
        stated_call=stated_call,
        stated_pick_up=stated_pick_up,
        address=address,
        call_address=call_address,
        pick_up_address=pick_up_address,
        own_in_place=own_in_place,
        in_place_address=in_place_address,
        host=_host(ground, call, around, turn, ensemble),
    )


def _host(
    ground: Ground,
    call: GroupCall,
    around: GroupCall,
    turn: Appearance | None,
    ensemble: str | None,
) -> str | None:
    own = ground.room_in(call.room, call.place) or ground.room_in(around.room, around.place)
    joins = turn is not None and ensemble is not None and turn.ensemble not in {None, ensemble}
    return turn.ensemble if turn and joins and own is None else None


def _id_of(ensemble: str | None, call: GroupCall) -> str:
    return "/".join(part for part in (ensemble, call.section) if part) or f"role/{call.role}"


def _room(
    ground: Ground, call: GroupCall, around: GroupCall, turn: Appearance | None
) -> Room | None:
    """Take the room from the closest entry that says one: the group's, its band's, its turn's."""
    said = [(call.room, call.place), (around.room, around.place)]
    said += [(turn.room, turn.place)] if turn else []
    return next((room for one in said if (room := ground.room_in(*one))), None)


def _steps(
    ground: Ground, steps: Sequence[EarlierEntry | LaterEntry], ensemble: str | None
) -> tuple[ExtraStep, ...]:
    """Give the steps beside the usual ones that an ensemble has; a role of the crew has none."""
    return tuple(
        ExtraStep(n, step.minutes, ground.ending(step.starts) if step.starts else None)
        for n, step in enumerate(steps)
        if ensemble is not None and (ensemble in step.ensembles or not step.ensembles)
    )


def _in_place_stated(
    ground: Ground, entries: tuple[int | None, int | None], address: Address
) -> tuple[bool, Address]:
    """Find the closest place that states minutes in place, and whether it is one of the entries."""
    for entry in entries:
        if entry is not None and ground.item.calls[entry].minutes.in_place is not None:
            return True, ground.at("calls", entry, "minutes", "in_place")
    if ground.item.allowances and ground.item.allowances.in_place is not None:
        return False, ground.at("allowances", "in_place")
    return False, address


def _allowances(*closest_first: Steps) -> tuple[Allowances, bool]:
    """Take each step from the closest entry that states it; also tell whether any does."""
    minutes: dict[str, int] = {}
    for steps in reversed(closest_first):
        stated = ((step, getattr(steps, step)) for step in _STEPS)
        minutes |= {step: value for step, value in stated if value is not None}
    return Allowances(**{step: minutes.get(step, 0) for step in _STEPS}), bool(minutes)


def _stated_call(
    ground: Ground, call: GroupCall, turn: Appearance | None, address: Address, place: int | None
) -> tuple[datetime | None, Address]:
    if call.call:
        return ground.moment(call.call), (*address, "call")
    if turn and turn.call and not call.section:
        return ground.moment(turn.call), ground.at("program", place or 0, "call")
    return None, address


def _stated_pick_up(
    ground: Ground, entries: tuple[int | None, int | None], ensemble: str | None, address: Address
) -> tuple[datetime | None, Address]:
    """Take the closest stated pick-up: the group's own, its band's, the concert's."""
    for entry in entries:
        clock = None if entry is None else ground.item.calls[entry].pick_up
        if entry is not None and clock:
            return ground.ending(clock), ground.at("calls", entry, "pick_up")
    if ground.item.pick_up and ensemble is not None:
        return ground.ending(ground.item.pick_up), ground.at("pick_up")
    return None, address
