"""The school's own style sheet, and the emblem beside the name."""

from __future__ import annotations

import re
from dataclasses import replace
from gettext import NullTranslations

from handbook.domain.values.text import Text
from handbook.outputs.html.school_style import school_style
from handbook.outputs.i18n import speaking
from handbook.outputs.page import Context
from handbook.plan.model import Plan
from handbook.schema.program import Look
from tests.demo import demo_plan, demo_site


def style(plan: Plan) -> str:
    return school_style(Context(plan, plan.languages[0])).content.decode()


def with_look(plan: Plan, look: Look | None) -> Plan:
    return replace(plan, program=plan.program.model_copy(update={"look": look}))


def test_without_a_color_only_paper_is_told() -> None:
    assert "--metal" not in style(with_look(demo_plan(), None))
    assert "@page{" in style(with_look(demo_plan(), None))


def test_the_color_is_set_in_light_and_in_dark_and_never_on_paper() -> None:
    told = style(with_look(demo_plan(), Look(color="#1f4e8c"))).splitlines()
    assert told[0].startswith("@media screen{:root{--metal:#194886;--metal-line:#1f4e8c;")
    assert "[data-theme=dark]{--metal:#8dbdff;" in told[0]
    assert told[1].startswith("@media screen and (prefers-color-scheme:dark){:root:not(")
    assert not any("--metal" in line for line in told[2:])


def test_no_name_can_end_the_text_that_it_stands_in() -> None:
    plan = demo_plan()
    name = Text((("en", 'A "band"}\\ </style> & more'),))
    told = style(replace(plan, program=plan.program.model_copy(update={"name": name})))
    assert r'content:"A \22 band\22 }\5c  \3c /style\3e  \26  more"' in told
    assert "</style" not in told


def test_the_emblem_stands_beside_the_name_and_is_published() -> None:
    site = demo_site()
    assert "emblem.png" in site.media
    deep = next(page for page in site.pages if page.path == "words/")
    assert '<img class="emblem" src="../media/emblem.png" alt=""' in deep.body


def test_the_foot_of_a_sheet_counts_in_the_words_of_the_language() -> None:
    # Margin boxes as CSS Paged Media Level 3, 4.2, names them: by the sides of the sheet.
    told = style(with_look(demo_plan(), None))
    assert '@bottom-right{content:counter(page) " of " counter(pages)}' in told
    with speaking("es", _Turned()):
        told = style(with_look(demo_plan(), None))
    assert '@bottom-right{content:counter(pages) ": " counter(page)}' in told


def test_a_sheet_read_from_right_to_left_has_its_name_on_the_right() -> None:
    with speaking("ar"):
        told = style(with_look(demo_plan(), None))
    assert "@page{" in told
    assert "direction:rtl;" in told
    assert re.search(r'@top-right{content:"[^"]+"}@top-left{content:var\(--printed,none\)}', told)
    assert "@bottom-left{content:counter(page)" in told
    assert "@page :first{@top-right{content:none}}" in told


class _Turned(NullTranslations):
    def gettext(self, message: str) -> str:
        return message.replace("%(page)s of %(pages)s", "%(pages)s: %(page)s")
