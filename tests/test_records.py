"""Records behave as the library's frozen dataclasses with slots do."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Callable
from dataclasses import field
from typing import Any

import pytest

from handbook import records
from handbook.outputs.components.season_grid import Tick


def classes(dataclass: Any) -> tuple[Any, Any, Any]:
    @dataclass(frozen=True, slots=True)
    class Note:
        """A note."""

        letter: str
        alter: int = 0
        tags: list[str] = field(default_factory=list, compare=False)
        length: int = field(init=False, repr=False, compare=False)

        def __post_init__(self) -> None:
            if self.alter > 2:
                raise ValueError(self.alter)
            object.__setattr__(self, "length", len(self.letter) + self.alter)

        def __str__(self) -> str:
            return self.letter

    @dataclass(frozen=True, slots=True)
    class Pitch(Note):
        """A note with an octave."""

        octave: int = 4

    @dataclass(frozen=True, slots=True)
    class One:
        """One value, unlike any other."""

        value: int

        def __eq__(self, other: object) -> bool:
            return False

        def __hash__(self) -> int:
            return 7

    return Note, Pitch, One


OURS, THEIRS = classes(records.dataclass), classes(dataclasses.dataclass)
# Pickled records are found by their names.
Note, Pitch, One = OURS
for made in OURS:
    made.__qualname__ = made.__name__


def outcome(does: Callable[[], object]) -> object:
    try:
        return does()
    except (TypeError, ValueError, AttributeError) as error:
        return type(error)


ASKED: list[Callable[[Any, Any, Any], object]] = [
    lambda note, _pitch, _one: str(note("C")),
    lambda note, _pitch, _one: repr(note("C", 1)).rpartition(".")[2],
    lambda note, _pitch, _one: note("C") == note("C", 0, ["told apart by nothing"]),
    lambda note, _pitch, _one: note("C") == note("C", 1),
    lambda note, pitch, _one: note("C") == pitch("C"),
    lambda note, _pitch, _one: note("C") == ("C", 0),
    lambda note, _pitch, _one: hash(note("C", 1)) == hash(("C", 1)),
    lambda note, _pitch, _one: note("C").tags is note("C").tags,
    lambda note, _pitch, _one: note("C", alter=2).length,
    lambda note, _pitch, _one: note("C", 3),
    lambda note, _pitch, _one: note(),
    lambda note, _pitch, _one: note("C", 1, [], 1),
    lambda note, _pitch, _one: note("C").__dict__,
    lambda note, _pitch, _one: note.__match_args__,
    lambda _note, pitch, _one: pitch.__match_args__,
    lambda _note, pitch, _one: pitch("C", 1).length,
    lambda _note, pitch, _one: str(pitch("C")),
    lambda _note, pitch, _one: dataclasses.asdict(pitch("C", 1, ["x"], 5)),
    lambda _note, pitch, _one: dataclasses.replace(pitch("C", 1), octave=6).octave,
    lambda _note, pitch, _one: dataclasses.replace(pitch("C", 1), length=6),
    lambda _note, pitch, _one: [one.name for one in dataclasses.fields(pitch)],
    lambda _note, _pitch, one: one(1) == one(1),
    lambda _note, _pitch, one: hash(one(1)),
    lambda _note, _pitch, one: repr(one(1)).rpartition(".")[2],
]


@pytest.mark.parametrize("asked", ASKED)
def test_a_record_answers_as_a_dataclass_does(asked: Callable[[Any, Any, Any], object]) -> None:
    assert outcome(lambda: asked(*OURS)) == outcome(lambda: asked(*THEIRS))


def test_a_record_has_no_other_fields() -> None:
    note = Note("C")
    with pytest.raises(AttributeError):
        note.octave = 4


def test_the_type_checker_refuses_to_change_a_record() -> None:
    record = Tick(4.0, "5")
    # Without the refusal `mypy` would report the comment as unused.
    record.text = "6"  # type: ignore[misc]


def test_a_record_can_be_pickled_and_copied() -> None:
    for record in (Note("C", 1, ["x"]), Pitch("D", octave=3), [One(4)]):
        kept = pickle.loads(pickle.dumps(record))
        assert repr(kept) == repr(record) == repr(copy.deepcopy(record))
    assert pickle.loads(pickle.dumps(Note("C", 1))).length == 2
