"""The reckoned plan as JSON, for spreadsheets, scripts and other programs.

The document, `"format": 2`; fields are added, never renamed or given another meaning (format 1
had a passage's `rungs`, one a rehearsal, where `visits` has those in which it is played):

- dates are `2026-12-10`, moments `2026-12-10T19:00:00-06:00`, in the program's zone;
- lengths of music are `seconds`, lengths of rehearsal blocks `minutes`;
- a tempo is `{"beat": "quarter", "bpm": 96}`; a number that no decimal can hold is
  written as a fraction, `"200/3"`; `percent` of the goal is rounded to three places;
- a text is a mapping of language to text; `null` stands for what was not given;
- `concerts` of a cycle are in order of their downbeats, and `concert` is the last of them, which
  ends the cycle; one that is a `draft` is on no page yet;
- a concert's `groups` are those called together: `report` is when families bring players
  (to the buses, where there are any), `call` when they must be ready in the room, `off_stage`
  when the group itself has left the stage; `rain` is the concert in bad weather; `again` are later turns with an hour of their own;
- a concert or an event that was moved lists the days it was on before under `moved_from`, the
  newest last; one that is `cancelled` says why, and such a concert calls nobody;
- a rehearsal may stand `instead_of` that of another day, or `make_up_for` a lost one; of the
  `missed` ones `moved_to` and `made_up` are the days of these;
- `n` counts rehearsals from 1; `place`, `first_rehearsal` and `last_rehearsal` are places
  in the list of rehearsals, the first being 0, and a visit's `stage` one in that of stages;
- `school` lists days without school, days that run otherwise and days that are made up: all from
  `first` to `last`, or only the `dates` where these are given;
- a visit is `by` passage, join or run, or several of them;
- a `season` tells within how many rehearsals each passage comes back (`window`), the
  `minutes` of music by kind, and in `gave_way` each law that the hours did not suffice for;
- `home` of an ensemble, if a stage says so, has the minutes a day by stage and, for each set of
  `parts` with the same to practice, its `evenings`: `next` is the day of the rehearsal or concert
  after it, `resting` one in a break from school; a passage of a list is `played_next` if that plays it;
- `events` are those beside rehearsals and concerts, with one entry under `days` for each time
  they take place; a deadline has `due` and no days; `who` names ensembles, all for everyone;
  players are out of class for the two moments of `away`. A rehearsal's `missing` are players
  who are at an event: those on some instruments, or those who are in another band (`because`);
- a rehearsal's `materials` are what must lie ready for it, `for` the warm-up of a level, exercises
  and pieces, none for the day as a whole; one with `media` and no `text` is their recording;
- a rehearsal that is logged has its `log`: the `tempo` of each passage as it was reached, null
  where it was not played, beside the `planned` one, null where none was, minutes run `over`, and `notes`;
- a rehearsal's `thanks` are `to` sections and roles, nobody for everyone; not `stated` is whom the
  turns suggest.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from itertools import islice
from typing import Any

from handbook.cli.plan_materials import materials_json
from handbook.domain.evenings import HomeShare
from handbook.domain.home_days import HomeEvening
from handbook.domain.season import MusicKind
from handbook.domain.values.tempo import Tempo
from handbook.domain.values.text import Text
from handbook.plan.concert_model import AgainDay, GroupDay, ShowRow, StepRow
from handbook.plan.evenings import (
    evenings_of,
    has_evenings,
    home_days,
    home_sets,
    minutes_at_home,
)
from handbook.plan.events_model import EventDay, EventRow, PlaceRow, RainRow
from handbook.plan.logs import ReachedBeside, minutes_over, reached_beside
from handbook.plan.model import (
    AppearancePlan,
    BlockRow,
    ConcertPlan,
    ConcertRain,
    CyclePlan,
    DatedGoal,
    EnsemblePlan,
    PassageRow,
    PieceRow,
    Plan,
    RehearsalRow,
    SeasonRow,
    StageSpan,
    StrandRow,
)
from handbook.plan.opening_thanks import ThanksPlan, ThanksRow, opening_thanks
from handbook.plan.school_days import school_dates
from handbook.plan.season_words import gave_way
from handbook.schema.year import AlteredSchoolDay, MakeUp, SchoolClosure

FORMAT = 2
_DECIMAL_PLACES = 6
_PERCENT_PLACES = 3
_MOST_SETS = 24

Json = dict[str, Any]


def plan_text(plan: Plan, cycles: Iterable[CyclePlan], events: Iterable[EventRow] = ()) -> str:
    """Write the chosen cycles and events of a plan; the same plan gives the same text."""
    thanks = opening_thanks(plan)
    document = {
        "format": FORMAT,
        "program": {
            "name": _text(plan, plan.program.name),
            "school": _text(plan, plan.program.school),
            "time_zone": plan.zone.key,
            "languages": list(plan.languages),
            "staff": [{"id": one.id, "name": _text(plan, one.name)} for one in plan.program.staff],
        },
        "cycles": [_cycle(plan, cycle, thanks) for cycle in cycles],
        "events": [_event(plan, event) for event in events],
    }
    return json.dumps(document, ensure_ascii=False, indent=2)


def _date(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _dates(days: Iterable[date]) -> list[str]:
    return [day.isoformat() for day in days]


def _event(plan: Plan, event: EventRow) -> Json:
    return {
        "id": event.item.id,
        "name": _text(plan, event.item.name),
        "kind": _text(plan, event.item.kind),
        "who": [ensemble.id for ensemble in event.ensembles],
        "players": list(event.players),
        "due": event.due.isoformat() if event.due else None,
        "cancelled": _text(plan, event.item.cancelled),
        "moved_from": _dates(event.item.moved_from),
        "days": [_event_day(plan, day) for day in event.days],
    }


def _event_day(plan: Plan, day: EventDay) -> Json:
    moments = {
        name: getattr(day.moments, name)
        for name in ("call", "leaves", "starts", "ends", "back", "pick_up")
    }
    return {
        "first": day.first.isoformat(),
        "last": day.last.isoformat(),
        "name": _text(plan, day.name),
        "cancelled": _text(plan, day.facts.cancelled),
        "moved_from": _dates(day.moved_from),
        **{name: moment.isoformat() if moment else None for name, moment in moments.items()},
        "place": _place(plan, day.place),
        "meet": _place(plan, day.meet),
        "rain": _rain(plan, day.rain) if day.rain else None,
        "away": [moment.isoformat() for moment in day.away] if day.away else None,
    }


def _place(plan: Plan, place: PlaceRow | None) -> Json | None:
    if place is None:
        return None
    return {
        "venue": place.venue.id if place.venue else None,
        "room": place.room.id if place.room else None,
        "words": _text(plan, place.words),
    }


def _rain(plan: Plan, rain: RainRow) -> Json:
    return {
        "decided": rain.decided.isoformat() if rain.decided else None,
        "place": _place(plan, rain.place),
        "date": rain.day.isoformat() if rain.day else None,
        "starts": rain.starts.isoformat() if rain.starts else None,
    }


def _cycle(plan: Plan, cycle: CyclePlan, thanks: Mapping[tuple[str, str], ThanksPlan]) -> Json:
    return {
        "id": cycle.id,
        "name": _text(plan, cycle.item.name),
        "draft": cycle.item.draft,
        "first": cycle.first.isoformat(),
        "last": cycle.last.isoformat(),
        "school": _school(plan, cycle),
        "concert": _concert(plan, cycle.concert) if cycle.concert else None,
        "concerts": [_concert(plan, concert) for concert in cycle.concerts],
        "ensembles": [
            _ensemble(plan, cycle, ensemble, thanks[cycle.id, ensemble.item.id].rows)
            for ensemble in cycle.ensembles
        ],
    }


def _school(plan: Plan, cycle: CyclePlan) -> list[Json]:
    kinds = {SchoolClosure: "closed", AlteredSchoolDay: "altered", MakeUp: "made_up"}
    return [
        {
            "kind": kinds[type(dates.entry)],
            "name": _text(plan, dates.entry.name),
            "first": dates.first.isoformat(),
            "last": dates.last.isoformat(),
            "dates": [day.isoformat() for day in dates.single] or None,
            "bells": getattr(dates.entry, "bells", None),
        }
        for dates in school_dates(cycle.year)
        if dates.first <= cycle.last and cycle.first <= dates.last
    ]


def _concert(plan: Plan, concert: ConcertPlan) -> Json:
    return {
        "id": concert.id,
        "name": _text(plan, concert.item.name),
        "cancelled": _text(plan, concert.item.cancelled),
        "moved_from": _dates(concert.item.moved_from),
        "venue": concert.venue.id,
        "downbeat": concert.downbeat.isoformat(),
        "pick_up": concert.pick_up.isoformat() if concert.pick_up else None,
        "seconds": concert.seconds,
        **_about(concert),
        "program": [_appearance(plan, turn) for turn in concert.appearances],
        "ends": concert.day.ends.isoformat(),
        "run_of_show": [_show_row(plan, row) for row in concert.day.rows],
        "groups": [] if concert.cancelled else [_group(plan, one) for one in concert.day.groups],
        "rain": _concert_rain(plan, concert.rain)
        if concert.rain and not concert.cancelled
        else None,
    }


def _concert_rain(plan: Plan, rain: ConcertRain) -> Json:
    return {
        "given": rain.day is not None,
        "venue": rain.venue.id,
        "downbeat": rain.downbeat.isoformat(),
        "decided": rain.decided.isoformat() if rain.decided else None,
        "about": _text(plan, rain.item.about),
        "groups": [_group(plan, group) for group in rain.day.groups] if rain.day else [],
    }


def _show_row(plan: Plan, row: ShowRow) -> Json:
    return {
        "kind": row.kind.value,
        "start": row.start.isoformat(),
        "end": row.end.isoformat(),
        "seconds": float(row.seconds),
        **_about(row),
        "ensembles": [ensemble.id for ensemble in row.ensembles],
        "piece": row.piece,
        "title": _text(plan, row.title),
    }


def _group(plan: Plan, group: GroupDay) -> Json:
    moments = {
        "report": group.report,
        "call": group.call,
        "pick_up": group.pick_up,
        "in_place": group.times.in_place if group.reckoned else None,
        "first_note": group.times.first_note,
        "last_note": group.times.last_note,
        "off_stage": group.times.off_stage if group.reckoned else None,
        "packed": group.times.packed if group.reckoned else None,
    }
    return (
        {"id": group.id}
        | {name: moment.isoformat() if moment else None for name, moment in moments.items()}
        | {
            "room": group.room.id if group.room else None,
            "before": [_step(plan, step) for step in group.beforehand],
            "after": [_step(plan, step) for step in group.afterward],
            "again": [_again(again) for again in group.again],
        }
    )


def _step(plan: Plan, step: StepRow) -> Json:
    return {
        "name": _text(plan, step.item.name),
        "start": step.start.isoformat(),
        "end": step.end.isoformat(),
        "room": step.room.id if step.room else None,
    }


def _again(again: AgainDay) -> Json:
    return {
        "call": again.call.isoformat() if again.call else None,
        "first_note": again.times.first_note.isoformat(),
        "last_note": again.times.last_note.isoformat(),
    }


def _appearance(plan: Plan, turn: AppearancePlan) -> Json:
    return {
        "ensemble": turn.ensemble.id if turn.ensemble else None,
        "guest": turn.guest.id if turn.guest else None,
        "joined_by": list(turn.item.joined_by),
        "call": turn.call.isoformat() if turn.call else None,
        "first_note": turn.item.first_note.isoformat("minutes") if turn.item.first_note else None,
        "room": turn.item.room,
        "place": _text(plan, turn.item.place),
        "led_by": list(turn.item.led_by),
        "pieces": [piece.item.id for piece in turn.pieces],
        "seconds": turn.seconds,
        **_about(turn),
    }


def _ensemble(
    plan: Plan, cycle: CyclePlan, ensemble: EnsemblePlan, thanks: Sequence[ThanksRow]
) -> Json:
    reached = reached_beside(ensemble)
    return {
        "id": ensemble.item.id,
        "band": ensemble.band,
        "name": _text(plan, ensemble.item.name),
        "stages": [_stage(plan, stage) for stage in ensemble.stages],
        "rehearsals": [
            {
                **_rehearsal(plan, ensemble, row),
                "thanks": _thanks(whom),
                **_log(plan, row, reached.get(row.place, ())),
            }
            for row, whom in zip(ensemble.rehearsals, thanks, strict=True)
        ],
        "missed": [
            {
                "date": missed.day.isoformat(),
                "why": missed.reason(plan.languages[0]),
                "cause": missed.cause,
                "moved_to": _date(missed.moved_to),
                "made_up": _date(missed.made_up),
            }
            for missed in ensemble.missed
        ],
        "pieces": [_piece(plan, piece) for piece in ensemble.pieces],
        "joined": [
            {"piece": joined.piece.item.id, "ensemble": joined.host.id}
            for joined in ensemble.joined
        ],
        "season": _season(ensemble, ensemble.season) if ensemble.season else None,
        "strands": [_strand(plan, strand) for strand in ensemble.strands],
        **({"home": _home(cycle, ensemble)} if has_evenings(ensemble) else {}),
    }


def _home(cycle: CyclePlan, ensemble: EnsemblePlan) -> Json:
    """Give the evenings of each set of parts alike; of very many the first ones."""
    sets, meets = home_sets(ensemble), home_days(cycle, ensemble).meets
    evenings = islice(evenings_of(cycle, ensemble).items(), _MOST_SETS)
    return {
        "minutes": {
            stage.item.id: minutes_at_home(ensemble, stage) or None for stage in ensemble.stages
        },
        "sets": [
            {
                "parts": [part for part, one in sets.items() if one == own],
                "evenings": [_evening(one, meets[one.meet].day) for one in found],
            }
            for own, found in evenings
        ],
    }


def _evening(evening: HomeEvening, following: date) -> Json:
    return {
        "date": evening.day.isoformat(),
        "minutes": evening.minutes,
        "resting": evening.resting,
        "next": following.isoformat(),
        "practice": [_share(share) for share in evening.shares],
    }


def _share(share: HomeShare) -> Json:
    if share.exercise:
        return {"exercise": share.id, "minutes": share.minutes}
    piece, _, passage = share.id.partition("/")
    return {
        "piece": piece,
        "passage": passage,
        "minutes": share.minutes,
        "played_next": share.next,
    }


def _stage(plan: Plan, stage: StageSpan) -> Json:
    return {
        "id": stage.item.id,
        "name": _text(plan, stage.item.name),
        "first_rehearsal": stage.first,
        "last_rehearsal": stage.last,
        "begins": stage.begins.isoformat(),
        "ends": stage.ends.isoformat(),
    }


def _rehearsal(plan: Plan, ensemble: EnsemblePlan, row: RehearsalRow) -> Json:
    rehearsal = row.rehearsal
    return {
        "n": rehearsal.n,
        "of": rehearsal.of,
        "start": rehearsal.start.isoformat(),
        "end": rehearsal.end.isoformat(),
        "minutes": rehearsal.minutes,
        "kind": rehearsal.kind.value,
        "day_kind": row.day_plan.kind.value,
        "label": rehearsal.label,
        "name": rehearsal.name.read(plan.languages[0]) if rehearsal.name else None,
        "instead_of": _date(rehearsal.instead_of),
        "make_up_for": _date(rehearsal.make_up_for),
        "room": row.room.id if row.room else None,
        "led_by": [one.id for one in row.led_by],
        "stage": row.stage.item.id,
        "purpose": _text(plan, row.purpose),
        "habit": row.habit.id if row.habit else None,
        **materials_json(ensemble, row),
        "missing": [
            {
                "event": one.event.item.id,
                "players": list(one.players),
                "because": one.because.id if one.because else None,
            }
            for one in row.missing
        ],
        "blocks": [_block(block) for block in row.blocks],
    }


def _thanks(row: ThanksRow) -> Json:
    return {"to": [one.id for one in row.whom], "stated": row.stated}


def _log(plan: Plan, row: RehearsalRow, reached: Sequence[ReachedBeside]) -> Json:
    """Say what a rehearsal really reached, where that is logged; notes are the director's own."""
    if not row.logs:
        return {}
    log = {
        "reached": [
            {
                "piece": one.piece.id,
                "passage": one.passage.id,
                "tempo": _tempo(one.reached) if one.reached else None,
                "planned": _tempo(one.planned) if one.planned else None,
            }
            for one in reached
        ],
        "over": minutes_over(row),
        "notes": [_text(plan, log.item.note) for log in row.logs if log.item.note],
    }
    return {"log": log}


def _block(block: BlockRow) -> Json:
    return {
        "kind": block.kind,
        "start": block.start.isoformat(),
        "minutes": block.minutes,
        "strand": block.strand.id if block.strand else None,
        "exercise": block.exercise.id if block.exercise else None,
        "piece": block.piece.id if block.piece else None,
        "passage": block.passage.id if block.passage else None,
        "tempo": _tempo(block.rung.tempo) if block.rung else None,
        "stretch": {
            "kind": block.stretch.kind.value,
            "first_measure": block.stretch.measures.first,
            "last_measure": block.stretch.measures.last,
            "passages": [passage.id for passage in block.stretch.passages],
        }
        if block.stretch
        else None,
    }


def _piece(plan: Plan, piece: PieceRow) -> Json:
    return {
        "id": piece.item.id,
        "title": _text(plan, piece.item.title),
        "seconds": piece.seconds,
        **_about(piece),
        **({"order": [str(step) for step in piece.item.order]} if piece.item.order else {}),
        **_turns(piece),
        "passages": [_passage(plan, passage) for passage in piece.passages],
    }


def _turns(piece: PieceRow) -> Json:
    """Say who plays what in percussion, by the numbers of the players, where that is stated."""
    said = piece.item.percussion
    return (
        {"percussion": {str(number): list(names) for number, names in said.items()}} if said else {}
    )


def _passage(plan: Plan, passage: PassageRow) -> Json:
    return {
        "id": passage.item.id,
        "name": _text(plan, passage.item.name),
        "first_measure": passage.item.measures.first,
        "last_measure": passage.item.measures.last,
        "goal": _tempo(passage.item.goal),
        **({"goals": [_by_date(goal) for goal in passage.goals]} if passage.goals else {}),
        "visits": [
            {
                "place": visit.place,
                "by": [kind.value for kind in visit.kinds],
                "tempo": _tempo(visit.rung.tempo),
                "percent": round(float(visit.rung.percent), _PERCENT_PLACES),
                "stage": visit.rung.stage,
                "click": {
                    "note": visit.rung.click.name,
                    "bpm": number(visit.rung.click.bpm),
                }
                if visit.rung.click
                else None,
            }
            for visit in passage.visits
        ],
        "weeks": [
            {
                "monday": week.monday.isoformat(),
                "target": _tempo(week.target),
                "steps": [_tempo(step) for step in week.steps],
            }
            for week in passage.weeks
        ],
    }


def _season(ensemble: EnsemblePlan, season: SeasonRow) -> Json:
    return {
        "window": season.window,
        "minutes": {kind.value: season.minutes.get(kind, 0) for kind in MusicKind},
        "gave_way": [
            {
                "law": one.law.name.lower(),
                "piece": one.piece.id if one.piece else None,
                "passage": one.passage.id if one.passage else None,
                "lack": max(row.lack for row in one.rows),
                "first_rehearsal": min(row.first for row in one.rows),
                "last_rehearsal": max(row.last for row in one.rows),
                "sentence": one.sentence,
            }
            for one in gave_way(ensemble)
        ],
    }


def _strand(plan: Plan, strand: StrandRow) -> Json:
    return {
        "id": strand.item.id,
        "name": _text(plan, strand.item.name),
        "first_level": strand.first_level,
        "last_level": strand.last_level,
        "appearances": [
            {"place": place, "exercise": exercise.id} for place, exercise in strand.appearances
        ],
    }


def _text(plan: Plan, text: Text | None) -> dict[str, str] | None:
    """Map language to text; a text in one language is in the program's first."""
    return {code or plan.languages[0]: words for code, words in text.versions} if text else None


def _by_date(goal: DatedGoal) -> Json:
    by = goal.by if isinstance(goal.by, str) else goal.by.isoformat()
    return {"by": by, "tempo": _tempo(goal.tempo)}


def _about(lasting: PieceRow | AppearancePlan | ConcertPlan | ShowRow) -> Json:
    """Say that what lasts so long does so about, if a tempo in it is a range or free."""
    return {"about": True} if lasting.about else {}


def _tempo(tempo: Tempo) -> Json:
    free = {"free": True} if tempo.free else {}
    return {"beat": tempo.beat.name, "bpm": number(tempo.bpm), **free}


def number(value: Fraction) -> int | float | str:
    """Write an exact number: whole, as a decimal of six places at most, else as `"n/d"`."""
    if value.denominator == 1:
        return value.numerator
    return float(value) if (value * 10**_DECIMAL_PLACES).denominator == 1 else str(value)
