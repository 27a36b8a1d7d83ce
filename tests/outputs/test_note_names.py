"""How pages name notes and keys: by the program's choice or its first language, and what a text says."""

from __future__ import annotations

from gettext import NullTranslations
from pathlib import Path

import pytest
from music21 import pitch

from handbook.domain.tables.note_names import NoteNames
from handbook.domain.values.keys import parse_concert_key
from handbook.domain.values.pitch import LETTERS, NoteName
from handbook.domain.values.text import Text
from handbook.outputs.html.environment import page_environment
from handbook.outputs.html.note_marks import watched
from handbook.outputs.i18n import speaking
from handbook.outputs.note_names import (
    natural_sign,
    natural_spoken,
    sign,
    signature_spoken,
    signature_words,
    spoken,
)
from handbook.outputs.page import Context
from handbook.plan.model import Plan
from handbook.resources import templates_folder
from tests.content_folders import base_files, changed
from tests.plan.planning import planned

_SPANISH = {
    "%(letter)s flat": "%(letter)s bemol",
    "%(letter)s sharp": "%(letter)s sostenido",
    "%(tonic)s major": "%(tonic)s mayor",
}


class _Spanish(NullTranslations):
    """As much Spanish as notes need; the names are compared with music21's."""

    def gettext(self, message: str) -> str:
        return _SPANISH.get(message, message)

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002
        return self.gettext(message)


@pytest.mark.parametrize("letter", LETTERS)
@pytest.mark.parametrize(("alter", "typed"), [(-1, "-"), (0, ""), (1, "#")])
def test_spanish_names_are_those_of_music21(letter: str, alter: int, typed: str) -> None:
    with speaking("es", _Spanish(), NoteNames.DO_RE_MI):
        assert spoken(NoteName(letter, alter)) == pitch.Pitch(letter + typed).spanish


def test_a_key_and_its_signature_in_each_system() -> None:
    """E flat major: English from the page's goldens, German by music21, Spanish common practice."""
    key, e = parse_concert_key("Eb major"), NoteName("E")
    with speaking("en"):
        assert (sign(key), spoken(key)) == ("E♭ major", "E flat major")
        assert signature_words(key) == "3 flats: B♭, E♭, A♭"
    with speaking("es", _Spanish(), NoteNames.DO_RE_MI):
        assert (sign(key), spoken(key)) == ("mi♭ mayor", "mi bemol mayor")
        assert signature_spoken(key).endswith(": si bemol, mi bemol, la bemol")
        assert (natural_sign(e), natural_spoken(e)) == ("mi♮", "mi natural")
    with speaking("en", notes=NoteNames.LETTERS_WITH_H):
        assert sign(key) == f"{pitch.Pitch('E-').german} major"
        assert signature_words(key) == "3 flats: B, Es, As"


def test_a_note_beside_its_altered_sister_needs_no_natural_where_both_have_own_names() -> None:
    pair = [NoteName("B"), NoteName("B", -1)]
    with speaking("en"):
        assert "B♮" in watched(pair)
    with speaking("en", notes=NoteNames.LETTERS_WITH_H):
        assert "♮" not in watched(pair)
        assert ">H<" in watched(pair)


@pytest.mark.parametrize(
    ("languages", "said", "language", "names"),
    [
        ("[en, es]", "", "es", NoteNames.LETTERS),  # as the class says them
        ("[es, en]", "", "en", NoteNames.DO_RE_MI),
        ("[de, en]", "", "en", NoteNames.LETTERS_WITH_H),
        ("[en, es]", "{es: do-re-mi}", "es", NoteNames.DO_RE_MI),
        ("[en, es]", "{es: do-re-mi}", "en", NoteNames.LETTERS),
        ("[en, es]", "{en: do-re-mi}", "es", NoteNames.DO_RE_MI),
    ],
)
def test_the_first_language_says_how_notes_are_named(
    tmp_path: Path, languages: str, said: str, language: str, names: NoteNames
) -> None:
    lines = f"languages: {languages}\n" + (f"note_names: {said}\n" if said else "")
    assert _plan(tmp_path, lines).program.names_notes(language) is names


@pytest.mark.parametrize(
    ("said", "told"),
    [("", "Oye el B♭ real."), ("note_names: {es: do-re-mi}\n", "Oye el si♭ real.")],
)
def test_a_text_names_notes_as_its_own_language_does(tmp_path: Path, said: str, told: str) -> None:
    plan = _plan(tmp_path, f"languages: [en, es]\n{said}")
    text = Text((("en", "Watch {Bb}."), ("es", "Oye el {Bb} real.")))
    assert Context(plan, "en").say(text) == "Watch concert B♭."
    assert Context(plan, "es").say(text) == told


def _plan(folder: Path, lines: str) -> Plan:
    changes = changed(base_files(), "program.yaml", "contact:\n", f"{lines}contact:\n")
    plan = planned(folder, changes).plan
    assert plan is not None
    return plan


def test_a_sign_stays_behind_its_letter_among_letters_from_right_to_left() -> None:
    """A neutral sign at the end of a run takes the side of the paragraph (Unicode UAX 9, rule N2)."""
    with speaking("ar"):
        assert sign(NoteName("B", -1)) == "B♭\N{LEFT-TO-RIGHT MARK}"
        assert sign(NoteName("B")) == "B"
        assert (
            str(watched((NoteName("B", -1), NoteName("E", -1)))).count("♭\N{LEFT-TO-RIGHT MARK}<")
            == 2
        )
    with speaking("vi"):
        assert sign(NoteName("B", -1)) == "B♭"


def test_the_octaves_of_a_drone_are_named_in_the_language_of_each_page() -> None:
    """A template is compiled once; music21's Spanish names have C as do."""
    drone = page_environment(templates_folder()).get_template("components/sound.html.j2")
    with speaking("en"):
        assert "below middle C<" in drone.module.controls()  # type: ignore[attr-defined]
    with speaking("es", _Spanish(), NoteNames.DO_RE_MI):
        assert "below middle do<" in drone.module.controls()  # type: ignore[attr-defined]
