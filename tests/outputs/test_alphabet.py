"""Words in the order of their language.

Source: the collations of Unicode CLDR 47 (es `&N<ñ`; vi `&A<ă<â`, `&D<đ`, `&E<ê`, `&O<ô<ơ`,
`&U<ư`; Arabic as the alphabet, without the article, which is common practice, no source;
zh by Hanyu Pinyin), the Unihan database's kMandarin for readings.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook.outputs.i18n.alphabet import first_letter, in_order
from handbook.pipeline import load_plan, render
from tests.content_folders import base_files, write_folder


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "accent agréé allegro élan étude fermata"),
        ("es", "nota nuez ñame ñandú obra ópera óptimo"),
        ("es-US", "nuez ñandú obra"),
        ("vi", "âm bè dấu dây đàn đoạn em êm nốt ô ơi sáo ước vui"),
        ("vi", "an ăn ân ba co cổ cơ tu tư"),
        ("ar", "أداء آلة إيقاع بداية ثلاثية جملة درجة السرعة صوت نغمة وقفة"),
        ("zh-Hans", "吹奏 定音 法国号 节拍 木管 强音 速度 铜管 小节 延长 乐句 重音"),
    ],
)
def test_words_stand_as_their_language_has_them(language: str, words: str) -> None:
    wanted = words.split()
    assert sorted({*wanted}, key=lambda word: in_order(word, language)) == wanted


@pytest.mark.parametrize(
    ("language", "word", "letter"),
    [
        *(("en", "étude", "E"), ("en", "8va", "8"), ("en", "đàn", "D"), ("es", "ñandú", "Ñ")),
        *(("es", "óptimo", "O"), ("vi", "đàn", "Đ"), ("vi", "ấn", "Â"), ("vi", "à", "A")),
        *(
            ("ar", "إيقاع", "ا"),
            ("ar", "المازورة", "م"),
            ("zh-Hans", "乐句", "Y"),
            ("zh-Hans", "座", "Z"),
            ("zh", "A", "A"),
        ),
    ],
)
def test_a_word_is_found_under_its_letter(language: str, word: str, letter: str) -> None:
    assert first_letter(word, language) == letter


def test_the_page_of_words_goes_by_the_alphabet_of_its_language(tmp_path: Path) -> None:
    files = base_files()
    files["program.yaml"] += "languages: [vi, en]\nwords: {đàn: x, sáo: x, dấu: x, ê: x, dây: x}\n"
    outcome = load_plan(write_folder(tmp_path, files))
    assert outcome.plan is not None, outcome.problems
    vietnamese, english = (
        re.findall(r'<h2 class="letter"[^>]*>(.*?)</h2>', page.body)
        for page in render(outcome.plan).pages
        if page.path.endswith("words/")
    )
    assert vietnamese.index("Đ") == vietnamese.index("D") + 1
    assert vietnamese.index("Ê") > vietnamese.index("Đ")
    assert not {"Đ", "Ê"} & {*english}
