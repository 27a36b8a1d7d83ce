"""Names of instruments are messages: each that pages say is listed for the catalogues."""

from __future__ import annotations

from gettext import NullTranslations

import pytest

from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import INSTRUMENTS
from handbook.domain.tables.note_names import NoteNames
from handbook.domain.tables.rudiments import RUDIMENTS
from handbook.domain.values.pitch import LETTERS, NoteName
from handbook.outputs.i18n import speaking
from handbook.outputs.i18n.tables import table_messages
from handbook.outputs.instrument_names import (
    called,
    called_alone,
    instrument_name,
    rudiment_name,
)
from handbook.outputs.note_names import sign, spoken


class _Asked(NullTranslations):
    """Keeps what it is asked for, and sets it in brackets."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: set[tuple[str, str]] = set()

    def pgettext(self, context: str, message: str) -> str:
        self.asked.add((context, message))
        return f"<{message}>"


@pytest.fixture
def asked() -> _Asked:
    return _Asked()


def test_every_name_of_the_tables_is_listed(asked: _Asked) -> None:
    with speaking("qps-names", asked):
        for row in INSTRUMENTS:
            assert instrument_name(row) == f"<{row.name}>"
            called(row.id)
        for family in FAMILIES:
            assert called(family) == f"<{family.replace('-', ' ')}>"
        for rudiment in RUDIMENTS:
            assert rudiment_name(rudiment) == f"<{rudiment.name}>"
    assert len(asked.asked) >= 2 * len(INSTRUMENTS) + len(RUDIMENTS)
    assert asked.asked <= set(table_messages())


def test_single_instruments_of_percussion_have_names_too(asked: _Asked) -> None:
    with speaking("qps-names", asked):
        assert called("suspended-cymbal") == "<suspended cymbal>"
        assert called_alone("crash-cymbals") == "<Crash cymbals>"
    assert asked.asked <= set(table_messages())


def test_an_instrument_of_the_programs_own_keeps_its_name(asked: _Asked) -> None:
    with speaking("qps-names", asked):
        assert called("train-whistle") == "train whistle"
        assert called_alone("train-whistle") == "Train whistle"
    assert not asked.asked


@pytest.mark.parametrize("names", NoteNames)
def test_all_that_is_said_of_notes_is_listed(asked: _Asked, names: NoteNames) -> None:
    """The codes differ by system, since what is said of a note is kept by language and system."""
    with speaking(f"qps-{names}", asked, names):
        for letter in LETTERS:
            for alter in range(-3, 4):
                sign(NoteName(letter, alter))
                spoken(NoteName(letter, alter))
    assert bool(asked.asked) is (names is not NoteNames.LETTERS_WITH_H)
    assert asked.asked <= set(table_messages())
