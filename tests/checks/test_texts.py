"""Texts should be in every language of the program, and in no other.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CYCLE, PROGRAM, Change, checked


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
