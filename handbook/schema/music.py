"""cycles/<id>/music.yaml: the pieces, their form and their passages."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Annotated, Any

from pydantic import Field, model_validator

from handbook.domain.road_map import Leg, Sign, road_map, signs_by_part, times_played
from handbook.domain.scales import ScaleForm
from handbook.domain.timing import TempoModel
from handbook.domain.trills import next_in_key
from handbook.domain.values.keys import ConcertKey
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.pitch import NoteName
from handbook.domain.values.tempo import LooseTempo, Tempo
from handbook.domain.values.unreadable import UnreadableError
from handbook.schema.base import Item
from handbook.schema.materials import Materials
from handbook.schema.scalars import patterns
from handbook.schema.scalars.codes import UNREADABLE_NUMBER
from handbook.schema.scalars.fields import (
    RHYTHM_SIGNS,
    ConcertNote,
    ConcertNoteName,
    Day,
    DayOrId,
    Id,
    KeyName,
    Measures,
    MeterMark,
    Number,
    OrderEntry,
    PartTempo,
    RhythmText,
    RudimentName,
    StickingText,
    TempoMark,
    WholeNumber,
)
from handbook.schema.scalars.lists import OrOne, as_list
from handbook.schema.scalars.reading import read_by
from handbook.schema.scalars.texts import HumanText, Name, Word
from handbook.schema.texts_for import TextsFor

Priority = Annotated[int, WholeNumber(1, 3, "a priority")]
Times = Annotated[int, WholeNumber(1, 20, "a number of times")]
MOST_PLAYERS = 60


def _player_number(text: str) -> int:
    if not re.fullmatch(patterns.COUNT, text):
        raise UnreadableError(
            f"`{text}` is no number of a player: they run from 1 to {MOST_PLAYERS} at most"
        )
    return int(text)


PlayerNumber = Annotated[int, read_by(_player_number, "the number of a player", UNREADABLE_NUMBER)]


Signs = Annotated[tuple[Sign, ...], as_list, OrOne("|".join(Sign))]


MOST_PARTS = 300


class Part(Item):
    """A stretch of the piece's form, as it is played."""

    id: Id | None = Field(None, description="Short name by which `order` plays it")
    name: Name = Field(description="Name, such as Introduction")
    measures: Measures = Field(description="First and last measure, both included")
    meter: MeterMark = Field(description="Meter, such as 6/8")
    tempo: PartTempo = Field(
        description="Tempo at performance; quarter = 72-80 if it may be any of these, `free` if "
        "there is no steady beat, or free about quarter = 60"
    )
    tempo_to: TempoMark | None = Field(None, description="The tempo moves to this over the part")
    tempo_model: TempoModel = Field(TempoModel.LINEAR_IN_BEATS, description="How the tempo moves")
    times: Times = Field(1, description="How often it is played")
    fermata_seconds: Number | None = Field(
        None, description="Seconds that held notes add each time"
    )
    sign: Signs = Field(
        (),
        max_length=len(Sign),
        description="A sign it bears: segno or coda at its beginning, fine at its end",
    )


class WatchPoint(Item):
    """One thing to look out for."""

    text: HumanText = Field(description="What to watch")
    measures: Measures | None = Field(None, description="Where")
    who: tuple[Id, ...] = Field(
        (), description="Only these instruments or families, such as low-brass"
    )
    notes: tuple[ConcertNote, ...] = Field(
        (),
        description="Notes to watch in concert pitch; without an octave each player sees their own",
    )


class Trill(Item):
    """A trill with the fingering that is taught for it."""

    note: ConcertNote = Field(
        description="The printed note in concert pitch; without an octave each player sees their own"
    )
    to: ConcertNoteName | None = Field(
        None, description="The upper note in concert pitch, if not the next one in the key"
    )
    measures: Measures | None = Field(None, description="Where")
    who: tuple[Id, ...] = Field(
        (), description="Only these instruments or families, such as high-woodwinds"
    )
    fingering: TextsFor | None = Field(
        None, description="How it is fingered; one text, or a list of texts each with `who`"
    )

    @property
    def lower(self) -> NoteName:
        """The printed note, whatever its octave."""
        return self.note if isinstance(self.note, NoteName) else self.note.name

    def upper(self, key: ConcertKey | None) -> NoteName | None:
        """Give the note that it changes with, in the concert key of its piece; None if nothing says."""
        return self.to or (next_in_key(self.lower, key) if key else None)


Trills = Annotated[tuple[Trill, ...], Field(max_length=60)]


class RhythmLine(Item):
    """A rhythm to count, clap and play on one note."""

    name: Name | None = Field(None, description="What it is called in the room")
    pattern: RhythmText = Field(description=RHYTHM_SIGNS)
    meter: MeterMark | None = Field(
        None, description="Meter, if not that of the form at these measures"
    )
    measures: Measures | None = Field(None, description="Where it comes")
    who: tuple[Id, ...] = Field(
        (), description="Only these instruments or families, such as low-brass"
    )
    sticking: StickingText | None = Field(
        None, description="Hands for the struck notes in order, such as RLRR LRLL"
    )
    rudiment: RudimentName | None = Field(
        None, description="Rudiment that gives the hands, such as single paradiddle"
    )
    text: HumanText | None = Field(None, description="How to practice it")


class GoalByDate(Item):
    """A tempo on the way to the goal, with the day by which class is at it."""

    by: DayOrId = Field(description="A date, or the id of a stage, for its end, or of a concert")
    tempo: TempoMark = Field(description="Tempo by then")


_OF_THE_FORM: Any = None  # until the piece fills it in


class Passage(Item):
    """A passage with its own goal tempo."""

    id: Id = Field(description="Short name, unlike any other of the piece")
    name: Name = Field(description="What it is called in the room")
    measures: Measures = Field(description="First and last measure, both included")
    goal: TempoMark = Field(
        _OF_THE_FORM, description="Tempo at the concert, if not that of the form at these measures"
    )
    start: TempoMark | None = Field(
        None, description="Tempo of the first rehearsal, if not by the stage"
    )
    lock_by: DayOrId | None = Field(
        None, description="Reach the goal by this date, or by the end of this stage"
    )
    goals: tuple[GoalByDate, ...] = Field(
        (),
        max_length=20,
        description="Tempos on the way, each with the day by which class is at it, in order: "
        "[{by: 2026-11-12, tempo: quarter = 80}, {by: build, tempo: quarter = 88}]",
    )
    priority: Priority = Field(2, description="3 the most urgent, 1 the least")
    who: tuple[Id, ...] = Field(
        (), description="Only these instruments or families, such as low-brass"
    )
    home: TextsFor | None = Field(
        None, description="How to practice it at home; one text, or a list of texts each with `who`"
    )
    watch: tuple[WatchPoint, ...] = Field((), description="What to look out for")
    trills: Trills = Field((), description="Trills in it: {note: D5, who: [flute], fingering: ...}")

    @property
    def says_goal(self) -> bool:
        """Whether the goal is its own, and not the form's."""
        return "goal" in self.model_fields_set

    def with_form(self, form: Sequence[Part]) -> Passage:
        """Take the goal from the form, if it has none of its own; of several tempos there the first."""
        if self.goal is not None:
            return self
        goal = (goals_of(form, self.measures) or [form[0].tempo.plain])[0]
        own = {"goal": goal} | ({"start": Tempo(goal.beat, goal.bpm)} if goal.free else {})
        filled = self.model_copy(update=own)
        said = self.model_fields_set
        filled.model_fields_set.difference_update(own.keys() - said)
        return filled


def goals_of(form: Sequence[Part], measures: MeasureSpan) -> list[Tempo]:
    """List the tempos that can be practiced of the parts that hold any of the measures, each once.

    A free one is there only if all of them are free.
    """
    parts = [part for part in form if part.measures.overlaps(measures)]
    found = (tempo.plain for part in parts for tempo in (part.tempo, part.tempo_to) if tempo)
    tempos = list(dict.fromkeys(found))
    return [tempo for tempo in tempos if not tempo.free] or tempos[:1]


def _known(form: Sequence[Part]) -> tuple[Part, ...]:
    """Let a part that is free, and no more, be reckoned at the tempo before it, or else after it."""
    if not any(isinstance(one.tempo, LooseTempo) and not one.tempo.stated for one in form):
        return tuple(form)
    found: list[Part] = []
    for place, part in enumerate(form):
        tempo = part.tempo
        if isinstance(tempo, LooseTempo) and not tempo.stated:
            after = (
                one.tempo
                for one in form[place:]
                if not isinstance(one.tempo, LooseTempo) or one.tempo.stated
            )
            near = found[-1].tempo_to or found[-1].tempo if found else next(after, tempo)
            loose = LooseTempo(near.beat, near.bpm, free=True, stated=False)
            part = part.model_copy(update={"tempo": loose})  # noqa: PLW2901
        found.append(part)
    return tuple(found)


class Piece(Item):
    """A piece of the program."""

    id: Id = Field(description="Short name")
    title: Name = Field(description="Title")
    by: Name | None = Field(None, description="Composer or arranger")
    ensemble: Id | None = Field(None, description="Who plays it")
    ensembles: tuple[Id, ...] = Field(
        (),
        max_length=60,
        description="Who plays it, if more than one band does: [lantern, harbor]; each rehearses it by itself",
    )
    about: HumanText | None = Field(None, description="A sentence or two for the audience")
    dropped: Day | None = Field(
        None, description="Not rehearsed from this day on; what has been rehearsed of it stays"
    )
    key: KeyName | None = Field(None, description="Concert key, such as Bb major")
    form: tuple[Part, ...] = Field(
        min_length=1,
        max_length=MOST_PARTS,
        description="The parts in the order they are printed; they are played so if there is no `order`",
    )
    order: tuple[OrderEntry, ...] = Field(
        (),
        max_length=MOST_PARTS,
        description="The parts as they are played, by their ids, with repeats and words such as "
        "D.S. al Coda: [intro, verse x2, trio, D.S. al Coda, verse, coda]",
    )
    passages: tuple[Passage, ...] = Field(min_length=1, description="What is practiced on its own")
    watch: tuple[WatchPoint, ...] = Field((), description="What to look out for in the whole piece")
    trills: Trills = Field((), description="Trills in none of the passages")
    terms: tuple[Word, ...] = Field(
        (), description="Terms in the parts; each must have its meaning in words"
    )
    rhythms: tuple[RhythmLine, ...] = Field(
        (), max_length=60, description="Rhythms to count and clap at home"
    )
    scale_form: ScaleForm = Field(
        ScaleForm.OF_THE_KEY, description="Form of the key's scale that is practiced"
    )
    percussion: dict[PlayerNumber, Annotated[tuple[Id, ...], Field(max_length=12)]] = Field(
        default_factory=dict,
        max_length=MOST_PLAYERS,
        description="Who plays what in percussion, by the numbers of the players: "
        "{1: [snare-drum], 2: [bass-drum, triangle], 3: []}",
        json_schema_extra={"propertyNames": {"pattern": patterns.COUNT}},
    )
    recording: Word | None = Field(None, description="A recording in media/ to play along with")
    materials: Materials = ()

    def __hash__(self) -> int:
        """Give the hash of its names: mappings, which `percussion` is one of, have none."""
        return hash((self.id, self.title))

    @model_validator(mode="after")
    def _goals_of_the_form(self) -> Piece:
        """Let passages without a goal have the form's, so that all else sees whole ones."""
        form = _known(self.form)
        whole = tuple(passage.with_form(form) for passage in self.passages)
        self.__dict__.update(form=form, passages=whole)  # in place, as a validator has to
        return self

    def times(self, part: Part) -> int:
        """Say how often a part is played: as the order has it, or else as the part says."""
        if not self.order:
            return part.times
        return times_played(self.order)[part.id or ""]

    @property
    def road(self) -> tuple[Leg, ...]:
        """The order as legs that are printed without a break; none without an order."""
        signs = signs_by_part([(part.id, part.sign) for part in self.form])
        form = [(part.id, part.measures, signs.get(part.id or "", ())) for part in self.form]
        return road_map(form, self.order)

    @property
    def played_by(self) -> tuple[str, ...]:
        """The ids of the bands that play it, of which there is most often one."""
        return self.ensembles or ((self.ensemble,) if self.ensemble else ())


class Music(Item):
    """Pieces of a cycle."""

    pieces: tuple[Piece, ...] = Field(min_length=1, description="The pieces")
    words: dict[Word, HumanText] = Field(
        default_factory=dict, description="Terms and what they mean, in plain words"
    )
