"""Rhythms, stickings, scales and notes that cannot be played as they are written."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.domain.rhythm import Rhythm, faults, hands_missing, length_text, strokes
from handbook.domain.rudiments import Stroke
from handbook.domain.scales import ScaleForm
from handbook.domain.slurs import loose_slurs
from handbook.domain.sticking import struck
from handbook.domain.tables.instruments import Instrument
from handbook.domain.transposition import written_pitch
from handbook.domain.values.keys import ConcertKey, Mode
from handbook.domain.values.meter import Meter
from handbook.domain.values.pitch import ConcertPitch, NoteName
from handbook.plan.parts import instrument_for, takes_part
from handbook.plan.rhythms import USUAL_METER, meter_of
from handbook.problems import Address, Note, Problem, Severity
from handbook.records import dataclass
from handbook.schema.handbook import Handbook
from handbook.schema.program import Ensemble, Program
from handbook.source.names import listed

_MINOR = (Mode.MINOR, Mode.AEOLIAN)
_OF_MINOR = (ScaleForm.HARMONIC, ScaleForm.MELODIC)


@dataclass(frozen=True, slots=True)
class _Written:
    """A rhythm as a file has it: `address` is the entry's, `field` that of the notes."""

    address: Address
    field: str
    rhythm: Rhythm
    meter: Meter
    sticking: tuple[Stroke, ...] | None
    rudiment: bool

    @property
    def at(self) -> Address:
        return (*self.address, self.field)


@check
def measure_not_filled(handbook: Handbook) -> Iterator[Problem]:
    """A measure of a rhythm is longer or shorter than its meter.

    Every measure between two bar lines holds as much as the meter says; a note that lasts
    over the bar line is two notes and a tie. A short first measure begins with `pickup`.

    Bad:

        - {pattern: q. e q | h h, meter: 4/4}

    Good:

        - {pattern: q. e h | h h, meter: 4/4}
    """
    for one in _rhythms(handbook):
        for fault in faults(one.rhythm, one.meter):
            yield finding(
                f"{fault.message} for {one.meter}",
                one.at,
                f"a measure of {one.meter} lasts {length_text(one.meter.quarters)}; `_` ties a note over the bar line, "
                "and a short first measure begins with `pickup`",
            )


@check
def slur_leads_to_no_note(handbook: Handbook) -> Iterator[Problem]:
    """A slur leads to a rest, or past the last note of a rhythm.

    `+` after a note slurs it to the next one, over a bar line too. The last note of a slur
    takes none: that is where the slur ends.

    Bad:

        - {pattern: e e+ -q q+ q+}

    Good:

        - {pattern: e+ e -q q+ q}
    """
    for one in _rhythms(handbook):
        for loose in loose_slurs(one.rhythm):
            measure, place = loose.start
            note = one.rhythm.measures[measure][place]
            number = one.rhythm.number(measure)
            where = f"in measure {number}" if number else "in the pickup"
            yield finding(
                f"the slur after the {note.name} {where} leads to "
                + ("a rest" if loose.to_rest else "no note: the rhythm ends there"),
                one.at,
                "leave out its `+`; the last note of a slur has none",
            )


@check
def sticking_does_not_fit(handbook: Handbook) -> Iterator[Problem]:
    """A sticking has more or fewer strokes than its rhythm has notes to strike.

    Rests take no stroke, nor does the note that a tie leads to. A sticking may be shorter
    if it fits in a whole number of times: RL goes with eight notes.

    Bad:

        - {pattern: e e e e q q, sticking: RLRL R}

    Good:

        - {pattern: e e e e q q, sticking: RLRL RL}
    """
    for one in _rhythms(handbook):
        notes, hands = struck(one.rhythm), len(one.sticking or ())
        if hands and (notes % hands or notes < hands):
            yield finding(
                f"the sticking has {hands} {'stroke' if hands == 1 else 'strokes'}, "
                f"but {notes} {'note is' if notes == 1 else 'notes are'} struck",
                (*one.address, "sticking"),
                "rests and tied notes take no stroke",
                notes=(Note("the notes are here", one.at),),
            )


@check
def hands_said_twice(handbook: Handbook) -> Iterator[Problem]:
    """A rhythm gives its hands among the notes, and a sticking or a rudiment beside it.

    Only one of them can be meant.

    Bad:

        - {pattern: q/R q/L q/R q/L, sticking: LRLR}

    Good:

        - {pattern: q q q q, sticking: LRLR}
    """
    for one in _rhythms(handbook):
        beside = "sticking" if one.sticking else "rudiment" if one.rudiment else ""
        if beside and strokes(one.rhythm):
            yield finding(
                f"the hands stand among the notes, and a {beside} beside them",
                (*one.address, beside),
                f"leave out the {beside}, or the hands after `/`",
                notes=(Note("the notes are here", one.at),),
                on_key=True,
            )


@check
def hand_missing(handbook: Handbook) -> Iterator[Problem]:
    """A rhythm gives hands for some of its notes and not for others.

    Bad:

        - {pattern: q/R q/L q q/L}

    Good:

        - {pattern: q/R q/L q/R q/L}
    """
    for one in _rhythms(handbook):
        for index in hands_missing(one.rhythm):
            number = one.rhythm.number(index)
            where = f"in measure {number}" if number else "in the pickup"
            yield finding(
                f"a note {where} has no hand, though others do",
                one.at,
                "write `/R` or `/L` after it, or the whole sticking under `sticking`",
            )


@check
def scale_form_needs_minor(handbook: Handbook) -> Iterator[Problem]:
    """A harmonic or melodic scale is wanted of a key that is not minor.

    Only minor scales have these forms: they raise the seventh note, or the sixth and
    the seventh.

    Bad:

        key: Bb major
        scale_form: harmonic

    Good:

        key: G minor
        scale_form: harmonic
    """
    forms: list[tuple[Address, ConcertKey | None, ScaleForm]] = [
        *(
            (address, piece.key, piece.scale_form)
            for address, piece in traversal.all_pieces(handbook)
        ),
        *((address, one.scale, one.scale_form) for address, one in traversal.exercises(handbook)),
    ]
    for address, key, form in forms:
        if form in _OF_MINOR and (key is None or key.mode not in _MINOR):
            of = f"{key} has none" if key else "no key is given"
            yield finding(
                f"only a minor scale has a {form} form, and {of}",
                (*address, "scale_form"),
                "name a minor key, or leave the form out",
            )


@check
def note_out_of_range(handbook: Handbook) -> Iterator[Problem]:
    """A note is in an octave that its players do not usually reach.

    With an octave the note is meant at that very height. Without one every player sees
    it where they play it, which is what a note for the whole band wants.

    Bad:

        watch:
          - {text: Low and full, notes: [Bb1]}

    Good:

        watch:
          - {text: Low and full, who: [tuba], notes: [Bb1]}
    """
    for address, note, key, players in _stated_heights(handbook):
        beyond = [
            name
            for name, row in players
            if row.range is not None and not row.range.holds(written_pitch(note, row, key))
        ]
        if beyond:
            yield finding(
                f"`{note.name.typed}{note.octave}` lies outside the usual range of {listed(list(dict.fromkeys(beyond)))}",
                address,
                f"write `{note.name.typed}` so that each player sees it in their own octave, or name under `who` those who play it there",
                Severity.WARNING,
            )


def _rhythms(handbook: Handbook) -> Iterator[_Written]:
    for address, piece in traversal.all_pieces(handbook):
        for place, line in enumerate(piece.rhythms):
            yield _Written(
                (*address, "rhythms", place),
                "pattern",
                line.pattern,
                meter_of(line, piece),
                line.sticking,
                line.rudiment is not None,
            )
    for address, exercise in traversal.exercises(handbook):
        if exercise.rhythm is not None:
            yield _Written(
                address,
                "rhythm",
                exercise.rhythm,
                exercise.meter or USUAL_METER,
                exercise.sticking,
                exercise.rudiment is not None,
            )


_Players = list[tuple[str, Instrument]]
"""Instruments by the program's name, each with the range of its ensemble's players."""


def _stated_heights(
    handbook: Handbook,
) -> Iterator[tuple[Address, ConcertPitch, ConcertKey | None, _Players]]:
    """Give each note with an octave, the key it stands in, and who is to play it."""
    program = handbook.program.item
    players = {
        name: _players(ensemble, program)
        for name, ensemble in traversal.ensemble_by_id(handbook).items()
    }
    everyone = list(dict.fromkeys(player for band in players.values() for player in band))
    for address, point, piece in traversal.watch_points(handbook):
        for at, note in _heights(address, point.notes):
            own = dict.fromkeys(one for band in piece.played_by for one in players.get(band, ()))
            yield at, note, piece.key, _named(own, point.who)
    for address, trill, piece in traversal.trills(handbook):
        if isinstance(trill.note, ConcertPitch):
            own = dict.fromkeys(one for band in piece.played_by for one in players.get(band, ()))
            yield (*address, "note"), trill.note, piece.key, _named(own, trill.who)
    for address, exercise in traversal.exercises(handbook):
        for at, note in _heights(address, exercise.notes):
            yield at, note, exercise.scale, _named(everyone, exercise.who)


def _players(ensemble: Ensemble, program: Program) -> _Players:
    rows = [
        (name, instrument_for(name, program, ensemble.experience)) for name in ensemble.instruments
    ]
    return [(name, row) for name, row in rows if row is not None]


def _named(players: Iterable[tuple[str, Instrument]], who: Sequence[str]) -> _Players:
    return [(name, row) for name, row in players if takes_part(name, row, who)]


def _heights(
    address: Address, notes: Sequence[ConcertPitch | NoteName]
) -> Iterator[tuple[Address, ConcertPitch]]:
    for place, note in enumerate(notes):
        if isinstance(note, ConcertPitch):
            yield (*address, "notes", place), note
