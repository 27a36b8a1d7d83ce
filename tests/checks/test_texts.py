"""Texts should be in every language of the program, and in no other.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import (
    CONCERT,
    CYCLE,
    FUNDAMENTALS,
    MUSIC,
    PROGRAM,
    YEAR,
    Change,
    checked,
)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(PROGRAM, "rooms:", "languages: [en, es]\nrooms:")], ["program.yaml:5:9 warning missing-translation: 1 text of 8 in this file has no `es`; the first is here | add `es:` beside the others, as in `{en: …, es: …}`", "cycles/winter/cycle.yaml:8:14 warning missing-translation: 4 texts of 7 in this file have no `es`; the first is here | add `es:` beside the others, as in `{en: …, es: …}`"]),
        ([(CYCLE, "name: Winter cycle", "name: {en: W, es: I}")], ["cycles/winter/cycle.yaml:1:15 warning unlisted-language: `es` is not one of the program's languages, `en` | add `es` to languages in program.yaml, or correct it here"]),
        ([(PROGRAM, "rooms:", "languages: [es, en]\nrooms:"), (CYCLE, "name: Winter cycle", "name: {en: W}")], ["program.yaml:5:9 warning missing-translation: 1 text of 8 in this file has no `en`; the first is here | add `en:` beside the others, as in `{es: …, en: …}`", "cycles/winter/cycle.yaml:1:1 warning missing-translation: 1 text of 7 in this file has no `es`; the first is here | add `es:` beside the others, as in `{es: …, es: …}`", "cycles/winter/cycle.yaml:8:14 warning missing-translation: 4 texts of 7 in this file have no `en`; the first is here | add `en:` beside the others, as in `{es: …, en: …}`"]),
    ],
)  # fmt: skip
def test_texts_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told


def test_texts_of_every_kind_of_file_are_looked_at(tmp_path: Path) -> None:
    changes = [
        (PROGRAM, "name: Quillhaven Bands", "name: {en: B, es: B}"),
        (YEAR, "name: Fall break", "name: {en: F, es: O}"),
        (CYCLE, "name: Winter cycle", "name: {en: W, es: I}"),
        (MUSIC, "title: Button Comets", "title: {en: C, es: C}"),
        (CONCERT, "name: Winter concert", "name: {en: W, es: I}"),
        (FUNDAMENTALS, "", "strands:\n  - {id: tone, name: {en: T, es: T}, why: Tone, exercises: [{id: hum, name: Hum, level: 1}]}\nwarm_ups: [{level: 1, name: First, steps: [Breathe]}]\n"),
    ]  # fmt: skip
    told = [line.split(": ")[0] for line in checked(tmp_path, *changes)]
    assert [(line.split(":")[0], line.split()[-1]) for line in told if "language" in line] == [
        (name, "unlisted-language") for name in (PROGRAM, YEAR, FUNDAMENTALS, CYCLE, MUSIC, CONCERT)
    ]


def test_names_need_no_second_language(tmp_path: Path) -> None:
    """Of people, works, schools and streets; a sentence needs one."""
    changes = [
        (PROGRAM, "rooms:", "languages: [en, es]\nplace: Quillhaven\nrooms:"),
        (MUSIC, "title: Tweed Kites", "title: Tweed Kites\n    by: A. Wren"),
    ]
    assert not [line for line in checked(tmp_path, *changes) if line.startswith(MUSIC)]
    (program,) = (line for line in checked(tmp_path, *changes) if line.startswith(PROGRAM))
    assert "1 text of 9 in this file has no `es`" in program  # the role that answers
    about = (MUSIC, "title: Tweed Kites", "title: Tweed Kites\n    about: It rises.")
    (music,) = (line for line in checked(tmp_path, changes[0], about) if line.startswith(MUSIC))
    assert "1 text of" in music


SHEETS = "in no typeface of printed sheets"


@pytest.mark.parametrize(
    ("languages", "name", "told"),
    [
        ("[en]", "Łódź → Dvořák ✓ F𝄪 B𝄫 Чайковский", ""),
        ("[en]", "Kites 🎺", f"the letter `🎺` is {SHEETS}"),
        # Signs that only change or join letters are no letters (The Unicode Standard, 23.2 and 23.4).
        ("[en]", "Kites ♥\ufe0f\u200d", ""),
        ("[en]", "茉莉花", f"the letter `花` and 2 more of this file are {SHEETS}"),
        ("[zh, en]", "茉莉花", ""),  # no sheets are made in Chinese
        ("[zh, en]", "{zh: 茉莉花, en: 茉}", f"the letter `茉` is {SHEETS}"),
        ("[vi, en]", "{vi: Nguyễn, en: 🎺}", f"the letter `🎺` is {SHEETS}"),
    ],
)
def test_letters_that_no_sheet_may_have_are_told(
    tmp_path: Path, languages: str, name: str, told: str
) -> None:
    found = checked(
        tmp_path,
        (PROGRAM, "rooms:", f"languages: {languages}\nrooms:"),
        (CYCLE, "name: Winter cycle", f"name: {name}"),
    )
    lines = [line for line in found if "letter-not-on-sheets" in line]
    assert len(lines) == bool(told)
    if told:
        assert lines[0].startswith("cycles/winter/cycle.yaml:1:")
        assert f"warning letter-not-on-sheets: {told} | " in lines[0]


@pytest.mark.parametrize(
    ("text", "braces"),
    [
        ("It is C sharp, not C", "{C#}"),
        ("Low on every B-flat", "{Bb}"),
        ("Watch A flat here", "{Ab}"),
        ("Watch E♭ and {F#}", "{Eb}"),
        ("B natural leads home", "{B}"),
        ("A flat tire at 12", ""),  # no note
        ("Listen. A flat sound sags", ""),
        ("Back to the B section", ""),
        ("The B flat major scale, the C major scale", ""),
        ("Match the B flat clarinets", ""),
        ("It sounds concert B flat", ""),  # said to be so
        ("It is {Bb}, not {B}", ""),
    ],
)
def test_a_note_without_braces_is_told(text: str, braces: str, tmp_path: Path) -> None:
    """Clarinets of Lantern Band transpose; what is a note and what only looks like one: common practice, no source."""
    old = "        goal: quarter = 96\n"
    told = checked(tmp_path, (MUSIC, old, f"{old}        watch: [{{text: '{text}'}}]\n"))
    said = [one for one in told if "note-without-braces" in one]
    assert len(said) == (1 if braces else 0)
    assert all(f"write `{braces}` for" in one for one in said)


def test_a_note_without_braces_is_right_where_nobody_transposes(tmp_path: Path) -> None:
    old = "        goal: quarter = 96\n"
    told = checked(
        tmp_path, (MUSIC, old, f"{old}        watch: [{{text: Low C sharp, who: [flute]}}]\n")
    )
    assert not any("note-without-braces" in one for one in told)
    told = checked(tmp_path / "more", (MUSIC, old, f"{old}        home: Find C sharp\n"))
    assert any("note-without-braces" in one for one in told)
