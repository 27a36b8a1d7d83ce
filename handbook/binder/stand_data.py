"""What the stand view knows of a cycle, as data for its scripts.

Times are whole minutes, beside the seconds since 1970 at which a rehearsal begins, so that a
script needs to know no time zone. Names are words, whatever else is said is HTML, made of the
same parts as pages of the site. What is empty is left out.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from typing import cast

from handbook.binder.class_screen import warm_up_key, warm_ups
from handbook.binder.model import Binder
from handbook.binder.private_notes import notes_of_rehearsal, told_lines
from handbook.binder.stand_concerts import concerts_data
from handbook.binder.stand_words import exercise_notes, passage_notes
from handbook.binder.thanks import thanks_by_ensemble
from handbook.checks import traversal
from handbook.domain.metronome_marks import Marks, marks_named
from handbook.domain.reached import in_beat_of
from handbook.domain.values.clock import format_clock
from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.blocks import BlockView, block_views
from handbook.outputs.components.drones import piece_drones
from handbook.outputs.components.event_words import capital, missing_words
from handbook.outputs.components.leaders import led_by
from handbook.outputs.components.section_rooms import room_words
from handbook.outputs.components.sound import click_view, steady_click
from handbook.outputs.components.weeks import measures
from handbook.outputs.html.page_data import Json
from handbook.outputs.i18n import pgettext
from handbook.outputs.i18n.other_language import bare
from handbook.plan.materials import NeedRow, needs_of
from handbook.plan.model import (
    BlockRow,
    CyclePlan,
    EnsemblePlan,
    PassageRow,
    PieceRow,
    RehearsalRow,
)
from handbook.plan.players import Players, players_of
from handbook.plan.rhythms import USUAL_METER
from handbook.plan.steering import PassageKey, passage_keys
from handbook.schema.fundamentals import Exercise, Habit, Strand
from handbook.schema.music import Piece

_MINUTES_OF_HOUR = 60


def stand_data(binder: Binder, cycle: CyclePlan, day: date | None = None) -> Json:
    """Give all that the stand view shows of a cycle, or of one day of it: bands, and rehearsals as they come."""
    return _Gathering(binder, cycle).data(day)


class _Gathering:
    """The data of a cycle while it is gathered: passages and exercises stand once, by their places in lists."""

    def __init__(self, binder: Binder, cycle: CyclePlan) -> None:
        self.binder, self.cycle, self.context = binder, cycle, binder.context
        self.marks: Marks = marks_named(cycle.item.marks.kind, cycle.item.marks.step)
        self.passages: list[Json] = []
        self.exercises: list[Json] = []
        self.kinds: Json = {}
        self.habits: list[list[str]] = []
        self.thanks = thanks_by_ensemble(binder.context)
        self._exercise_places: dict[str, int] = {}
        found = traversal.exercises(binder.handbook)
        self._notes_of_exercises = {exercise.id: address for address, exercise in found}

    def data(self, day: date | None) -> Json:
        rehearsals: list[tuple[float, int, Json]] = []
        for place, ensemble in enumerate(self.cycle.ensembles):
            known = {
                (piece.item.id, row.item.id): self._passage(ensemble, piece, row)
                for piece in ensemble.pieces
                for row in piece.passages
            }
            for row in ensemble.rehearsals:
                if day not in {None, row.rehearsal.day}:
                    continue
                shown = self._rehearsal(ensemble, row, known)
                rehearsals.append(
                    (row.rehearsal.start.timestamp(), place, {"band": place, **shown})
                )
        return {
            "cycle": self.cycle.id,
            "name": bare(self.context.say(self.cycle.item.name)),
            "bands": [self._band(ensemble) for ensemble in self.cycle.ensembles],
            "passages": self.passages,
            "exercises": self.exercises,
            "kinds": self.kinds,
            "habits": self.habits,
            "concerts": concerts_data(self.binder, self.cycle, day),
            "alone": day is not None,
            **warm_ups(self.binder, self.cycle),
            "rehearsals": [shown for _, _, shown in sorted(rehearsals, key=lambda one: one[:2])],
        }

    def _band(self, ensemble: EnsemblePlan) -> Json:
        players = _players(self.binder, ensemble)
        drones = json.loads(piece_drones(self.context, ensemble, None).data)["notes"]
        return _filled(
            {
                "id": ensemble.item.id,
                "name": bare(self.context.say(ensemble.item.name)),
                "ensemble": players.band.id,
                "group": players.group.id if players.group else "",
                "drones": drones,
            }
        )

    def _passage(self, ensemble: EnsemblePlan, piece: PieceRow, row: PassageRow) -> int:
        """Add a passage, and give its place."""
        click = click_view(self.context, self.marks, piece, row)
        goal, keys = row.item.goal, passage_keys([one.item for one in ensemble.pieces])
        alone = len(keys[row.item.id]) == 1
        self.passages.append(
            _filled(
                {
                    # As a log names it.
                    "key": row.item.id if alone else f"{piece.item.id}/{row.item.id}",
                    "piece": bare(self.context.say(piece.item.title)),
                    "name": bare(self.context.say(row.item.name)),
                    "where": measures(row.item.measures.first, row.item.measures.last),
                    "beat": goal.beat.name,  # as a log counts it
                    "goal": _tempo(goal),
                    "free": goal.free,
                    "click": click and self._beyond_goal(json.loads(click.data), goal),
                    "drones": self._key_drones(ensemble, piece),
                    "notes": passage_notes(self.binder, row),
                    "reached": [
                        [
                            ensemble.rehearsals[one.at.place].rehearsal.day.isoformat(),
                            _tempo(one.at.tempo) if one.at.tempo else None,
                        ]
                        for one in row.reached
                    ],
                }
            )
        )
        return len(self.passages) - 1

    def _beyond_goal(self, click: Json, goal: Tempo) -> Json:
        """Leave the weeks out of a click, and let it go some marks beyond the goal, as a band may."""
        marks = steady_click("", self.marks, goal, USUAL_METER)["marks"]
        both = {*cast("list[float]", click["marks"]), *cast("list[float]", marks)}
        return {**click, "weeks": [], "marks": sorted(both)}

    def _key_drones(self, ensemble: EnsemblePlan, piece: PieceRow) -> object:
        """Give the note that a piece's key is built on, if that is not the tuning note."""
        notes = json.loads(piece_drones(self.context, ensemble, piece.item.key).data)["notes"]
        return notes[1:]

    def _exercise(self, strand: Strand, exercise: Exercise, shown: BlockView) -> int:
        """Add an exercise, if it is not there yet, and give its place."""
        key = exercise.id
        if key not in self._exercise_places:
            private = self.binder.private.at(self._notes_of_exercises.get(key, ()))
            self.exercises.append(
                _filled(
                    {
                        "title": bare(shown.title),
                        "detail": bare(shown.detail),
                        "tempo": _tempo(exercise.tempo) if exercise.tempo else None,
                        "notes": exercise_notes(self.binder, strand, exercise, private),
                        "click": self._steady(exercise),
                    }
                )
            )
            self._exercise_places[key] = len(self.exercises) - 1
        return self._exercise_places[key]

    def _steady(self, exercise: Exercise) -> Json | None:
        if exercise.tempo is None or exercise.tempo.free:
            return None
        name = bare(self.context.say(exercise.name))
        return steady_click(name, self.marks, exercise.tempo, exercise.meter or USUAL_METER)

    def _rehearsal(
        self, ensemble: EnsemblePlan, row: RehearsalRow, known: Mapping[PassageKey, int]
    ) -> Json:
        held, say, text = row.rehearsal, self.context.say, self.binder.text
        start = held.start
        usual = self.context.plan.program.leaders(ensemble.item.led_by)
        return _filled(
            {
                "day": held.day.isoformat(),
                "at": int(start.timestamp()),
                "clock": start.hour * _MINUTES_OF_HOUR + start.minute,
                "minutes": held.minutes,
                "n": held.n,
                "of": held.of,
                "stage": bare(say(row.stage.item.name)),
                "called": bare(say(held.name)),
                "rooms": [bare(words) for words in room_words(self.context, ensemble, row)],
                "ledBy": bare(capital(led_by(self.context, row.led_by)))
                if row.led_by != usual
                else "",
                "purpose": text(row.purpose),
                "thanks": self._thanks(ensemble, row),
                "notices": [text(one) for one in row.notices],
                "habit": row.habit and self._habit(row.habit),
                "missing": [bare(words) for words in missing_words(self.context, row.missing)],
                "needs": [self._need(one) for one in needs_of(ensemble, row)],
                "private": self._private(ensemble, row),
                "warmUp": warm_up_key(ensemble, row),
                "log": self._log(ensemble, row),
                "blocks": [
                    self._block(ensemble, row, block, shown, known)
                    for block, shown in zip(
                        row.blocks, block_views(self.context, ensemble, row), strict=True
                    )
                ],
            }
        )

    def _habit(self, habit: Habit) -> int:
        """Add a habit, if it is not there yet, and give its place."""
        told = [self.binder.text(habit.name), self.binder.text(habit.text)]
        if told not in self.habits:
            self.habits.append(told)
        return self.habits.index(told)

    def _block(
        self,
        ensemble: EnsemblePlan,
        row: RehearsalRow,
        block: BlockRow,
        shown: BlockView,
        known: Mapping[PassageKey, int],
    ) -> Json:
        """Give a block's kind, its minutes and what it is about; of what stands elsewhere only the place.

        Each of its passages comes with the number of its tempo, which counts the beat of the goal.
        """
        data: Json = {"kind": shown.kind, "minutes": shown.minutes}
        if block.strand and block.exercise:
            return {**data, "exercise": self._exercise(block.strand, block.exercise, shown)}
        named: Json = {"title": bare(shown.title), "detail": bare(shown.detail)}
        if block.piece is None and block.strand is None:
            self.kinds[shown.kind] = _filled(named)
            return data
        played = [[known[key], _tempo(tempo)[1]] for key, tempo in _played(ensemble, row, block)]
        if block.passage:
            return {**data, "passages": played}
        return _filled({**data, **named, "how": shown.how, "passages": played})

    def _need(self, need: NeedRow) -> Json:
        names = [
            self.binder.text(one.title if isinstance(one, Piece) else one.name)
            for one in need.subjects
        ]
        return _filled(
            {
                "text": need.text or "",
                "where": need.where or "",
                "media": need.media or "",
                "for": list(dict.fromkeys(names)),
            }
        )

    def _thanks(self, ensemble: EnsemblePlan, row: RehearsalRow) -> Json:
        """Give whom it is the turn of, in the ids of a log, and where to look for what to thank them for."""
        own = self.thanks[self.cycle.id, ensemble.item.id][row.place]
        return _filled(
            {
                "whom": bare(own.whom),
                "ids": list(own.ids),
                "stated": own.stated,
                "sentence": self.binder.text(row.thanks),
                "look": [[bare(one.what), self.binder.html(one.words)] for one in own.look],
            }
        )

    def _private(self, ensemble: EnsemblePlan, row: RehearsalRow) -> list[list[str]]:
        """Give the director's own notes, each line with what it is about."""
        return told_lines(notes_of_rehearsal(self.binder, self.cycle, ensemble, row))

    def _log(self, ensemble: EnsemblePlan, row: RehearsalRow) -> Json:
        """Give the name of a rehearsal's log, and its `start` where the band has several that day."""
        same_day = Counter(one.rehearsal.day for one in ensemble.rehearsals)
        start = row.rehearsal.start.time() if same_day[row.rehearsal.day] > 1 else None
        parts = (
            row.rehearsal.day.isoformat(),
            ensemble.item.id,
            f"{start:%H-%M}" if start else "",
        )
        return _filled(
            {
                "file": f"{'-'.join(filter(None, parts))}.yaml",
                "start": format_clock(start) if start else "",
                "there": row.logs[0].file if row.logs else "",
            }
        )


def _played(
    ensemble: EnsemblePlan, row: RehearsalRow, block: BlockRow
) -> Iterator[tuple[PassageKey, Tempo]]:
    """Give the passages of a block, each with its tempo that day, which counts the beat of its goal."""
    if block.piece is None:
        return
    if block.passage is not None:
        tempo = block.rung.tempo if block.rung else block.passage.goal
        yield (block.piece.id, block.passage.id), in_beat_of(block.passage.goal, tempo)
        return
    wanted = [one.id for one in block.stretch.passages] if block.stretch else []
    for piece in ensemble.pieces:
        for passage in piece.passages if piece.item.id == block.piece.id else ():
            for visit in passage.visits:
                if visit.place == row.place and passage.item.id in wanted:
                    tempo = in_beat_of(passage.item.goal, visit.rung.tempo)
                    yield (piece.item.id, passage.item.id), tempo


def _tempo(tempo: Tempo) -> list[str]:
    """Give what a mark shows: the sign of its note, its number, and how the note is called; of a free one a word."""
    if tempo.free:
        return ["", pgettext("tempo", "free"), ""]
    return [tempo.beat.symbol, tempo.bpm_text, pgettext("beat", f"{tempo.beat.name} note")]


def _filled(data: Json) -> Json:
    """Leave out what is empty."""
    return {
        key: value
        for key, value in data.items()
        if value is not None and value is not False and value not in ("", [], ())
    }


def _players(binder: Binder, ensemble: EnsemblePlan) -> Players:
    """Give the band, and the group of it, that an ensemble of the plan is."""
    return next(
        one
        for band in binder.plan.program.ensembles
        for one in players_of(band)
        if one.id == ensemble.item.id
    )
