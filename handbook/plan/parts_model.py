"""Records of what each player practises: notes and scales as the part has them, rhythms counted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from handbook.domain.counting import Count
from handbook.domain.fingerings import Fingering
from handbook.domain.rhythm import Rhythm
from handbook.domain.scales import Scale
from handbook.domain.tables.instruments import Instrument
from handbook.domain.tuning import TuningNote
from handbook.domain.values.keys import WrittenKey
from handbook.domain.values.meter import Meter
from handbook.domain.values.pitch import ConcertPitch, WrittenPitch
from handbook.domain.values.text import Text
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise, Strand
from handbook.schema.music import Piece, RhythmLine, Trill, WatchPoint


@dataclass(frozen=True, slots=True)
class RhythmRow:
    """A rhythm with its hands laid on, its meter, and its counts in the program's system."""

    rhythm: Rhythm
    meter: Meter
    counts: tuple[tuple[Count, ...], ...]


@dataclass(frozen=True, slots=True)
class PieceRhythm:
    """A rhythm of a piece."""

    item: RhythmLine
    row: RhythmRow


@dataclass(frozen=True, slots=True)
class PartNote:
    """A note as it sounds and as one player reads it.

    `usual` is the reckoned brass fingering and `others` what may stand for it; `own` is the
    director's own. `in_range` is False outside the instrument's usual range.
    """

    concert: ConcertPitch
    written: WrittenPitch
    in_range: bool
    usual: Fingering | None = None
    others: tuple[Fingering, ...] = ()
    own: Text | None = None


@dataclass(frozen=True, slots=True)
class PartPoint:
    """A watch point that concerns a player; `passage` is the id of its passage, if it has one."""

    item: WatchPoint
    passage: str | None
    notes: tuple[PartNote, ...]


@dataclass(frozen=True, slots=True)
class PartTrill:
    """A trill that a player has, its printed note and the one above as the part has them.

    `passage` is the id of its passage, if it has one; `ways` are the fingerings that are
    taught for this player.
    """

    item: Trill
    passage: str | None
    lower: WrittenPitch
    upper: WrittenPitch
    ways: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class PartPiece:
    """A piece as one player reads it; `alike` is the key of the same sound, if that has one.

    `passages` are the ids of those the player takes part in. Key, scale and notes are left
    out where no key is stated, and for percussion of no definite pitch. `key_notes` are the
    notes that the key signature alters, wherever they lie in the instrument's usual range,
    in the order of the signature and each from low to high. `scale_ways` are
    the brass fingerings of its rising notes; `drums` are what timpani are most often tuned
    to in its key, `home` what the player does at home, by the id of its passage.
    """

    item: Piece
    passages: tuple[str, ...]
    points: tuple[PartPoint, ...]
    rhythms: tuple[PieceRhythm, ...]
    trills: tuple[PartTrill, ...] = ()
    key: WrittenKey | None = None
    alike: WrittenKey | None = None
    key_notes: tuple[PartNote, ...] = ()
    scale: Scale | None = None
    scale_ways: tuple[Fingering | None, ...] = ()
    drums: tuple[PartNote, ...] = ()
    home: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PartExercise:
    """An exercise of the cycle with what one player reads of it and how that player does it.

    `scale_ways` as in a piece.
    """

    item: Exercise
    strand: Strand
    row: RhythmRow | None
    scale: Scale | None
    scale_ways: tuple[Fingering | None, ...]
    notes: tuple[PartNote, ...]
    how: tuple[Text, ...]

    @property
    def has_material(self) -> bool:
        """Whether the player has something to read in it."""
        return bool(self.scale or self.notes or self.row)


@dataclass(frozen=True, slots=True)
class PartPlan:
    """One instrument of one ensemble in one cycle.

    `id` and `players` are as the program counts them; `instrument` is None where nothing
    is known of how its part is written, and then so is all that follows from it. `joined`
    are the pieces that the ensemble plays with another, in the order of its plan.
    """

    id: str
    players: int
    instrument: Instrument | None
    tuning: TuningNote | None
    pieces: tuple[PartPiece, ...]
    exercises: tuple[PartExercise, ...]
    joined: tuple[PartPiece, ...] = ()
