"""The sheet of a family and that of a role: what stands on them, what gives way, for whom there is one.

Hours and words were written by hand from the content: two bands of a small school, and the demo's
concerts, whose fall concert has Beacon Band as its stage crew, called for 5:45 pm.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from io import BytesIO

import pypdf
import pytest

from handbook.domain.values.paper import Paper
from handbook.domain.values.text import Text
from handbook.outputs.page import Context
from handbook.outputs.pages import concert, crew
from handbook.outputs.pages.concert import ThingView, concert_view
from handbook.outputs.sheets.kinds.family import family_sheets
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.typesetting import typeset
from handbook.plan.model import CyclePlan, Plan
from tests.demo import demo_plan
from tests.outputs.sheets.reading import page_texts, words_of
from tests.outputs.sheets.small_plan import ENVIRONMENT, made, small_plan

SITE = "https://bands.example.org/"


def cycle_of(plan: Plan, name: str) -> CyclePlan:
    return next(one for one in plan.cycles if one.id == name)


@cache
def sheets(plan_name: str, cycle: str, language: str) -> Mapping[str, MadeSheet]:
    """Write the sheets of a concert's page and its crew's, by the names of their files."""
    plan = {"small": small_plan, "demo": demo_plan}[plan_name]()
    context = Context(plan, language)
    with context.speaking():
        pages = [
            page for kind in (concert, crew) for page in kind.pages(context, cycle_of(plan, cycle))
        ]
        found = made(context, pages)
    begin, end = f"{cycle}-", f"-{language}.pdf"
    names = {path: path.rpartition("/")[2] for path in found}
    # A file is known where it was saved, beside those of other concerts and languages.
    assert all(name.startswith(begin) and name.endswith(end) for name in names.values())
    return {name.removeprefix(begin).removesuffix(end): found[path] for path, name in names.items()}


def pages_of(sheet: MadeSheet, paper: Paper = Paper.LETTER) -> int:
    content = typeset(replace(sheet, paper=paper), Imprint("https://bands.example.org/"))
    return len(pypdf.PdfReader(BytesIO(content)).pages)


def told(sheet: MadeSheet) -> str:
    return words_of(" ".join(page_texts(typeset(sheet, Imprint()))))


@pytest.mark.parametrize("language", ["en", "es", "vi", "ar"])
def test_a_family_of_the_demo_has_one_page(language: str) -> None:
    found = sheets("demo", "winter-2026", language)
    families = [sheet for name, sheet in found.items() if name.startswith("family-")]
    assert len(families) == 3
    for sheet in families:
        day = re.search(r'class="plain times".*?</ol>', sheet.html, re.DOTALL)
        assert day
        hours = re.findall(r'<b class="num">\D*(\d+:\d\d)', day[0])
        for paper in Paper:
            (said,) = page_texts(typeset(replace(sheet, paper=paper), Imprint(SITE)))
            # The day step by step has room beside the rest, in each language, and the hour to
            # be there stands on one line.
            assert hours[3] in said, (sheet.path, paper)
            first = words_of(re.findall(r'class="largest num">([^<]*)<', sheet.html)[0])
            assert language == "ar" or first in map(words_of, said.splitlines()), (
                sheet.path,
                paper,
            )


def test_who_moves_little_reads_all_of_it_on_one_page() -> None:
    assert pages_of(sheets("demo", "fall-2026", "en")["role-loading-adults"]) == 1


def test_who_moves_the_truck_reads_all_of_it_on_two_pages() -> None:
    sheet = sheets("demo", "winter-2026", "en")["role-truck-crew"]
    assert pages_of(sheet) == 2
    assert "Weigh before loading: Rack of ten stands" in told(sheet)


def test_what_goes_with_things_of_another_role_says_whose_it_is() -> None:
    # In the content the cart takes two snare drums of the stage crew, and the glockenspiel of two adults.
    said = told(sheets("demo", "fall-2026", "en")["role-stage-crew"])
    assert (
        "One trip: Stage crew (Beacon Band): Snare drum with stand (2); "
        "Loading adults: Glockenspiel in its case" in said
    )


def test_no_weight_stands_before_whose_rule_it_is() -> None:
    said = told(sheets("demo", "fall-2026", "en")["role-stage-crew"])
    moves = said[said.index("Moves") : said.index("14 lb each")]
    assert "no weight on this page says what a student may lift" in moves
    assert "Follow your district's rules on who may lift what" in moves
    assert "OSHA interpretation letter of 4 June 2013" in moves
    assert "two adults for a piece over 35 lb; wheels for a piece over 50 lb" in moves


def test_a_role_reads_whom_to_call() -> None:
    """On the day itself; only where nobody is named for it, the office that answers on school days."""
    said = told(sheets("demo", "fall-2026", "en")["role-stage-crew"])
    assert "On the day, call The lead parent in the hall 555-0142" in said[: said.index("Moves")]
    assert "Questions" not in said
    assert "Parking North lot" in said
    assert "Questions the band office" in told(sheets("small", "winter", "en")["role-stage-crew"])


def test_a_family_reads_first_when_and_where() -> None:
    said = told(sheets("demo", "winter-2026", "en")["family-beacon"])
    assert said.startswith(
        "Winter Concert Beacon Band Thursday, December 17, 2026 "
        "Music 7:00 pm to about 7:45 pm, doors 6:30 pm "
        "Be at the bus 5:40 pm Bus loop at school Pick-up 9:00 pm Bus loop at school "
        "Where Quillhaven Civic Hall 8 Cooper Street, Quillhaven"
    )
    assert "blue tie" in said
    assert "blue tie" not in told(sheets("demo", "winter-2026", "en")["family-harbor"])


def test_a_section_that_is_collected_later_is_named() -> None:
    html = sheets("small", "winter", "en")["family-ferry"].html
    moments = html[html.index('class="moments"') : html.index("<h2>Where</h2>")]
    assert re.findall(r'num">([^<]*)', moments) == ["5:40 pm", "8:20 pm", "8:25 pm"]
    assert "<p>Ferry Band, Drums</p>" in moments[moments.index("8:25 pm") :]


def test_a_band_that_is_the_crew_reads_when_its_crew_is_called() -> None:
    sheet = sheets("demo", "fall-2026", "en")["family-beacon"]
    said = told(sheet)
    assert (
        "Stage crew (Beacon Band): only 8 players of Beacon Band. "
        "The band does not play at this concert." in said[: said.index("5:45 pm")]
    )
    assert "Crew 5:45 pm School hall, stage Stage crew" in said
    assert "Pick-up 7:55 pm" in said
    assert "Wear" not in said  # clothes are those of players


def test_a_role_reads_what_to_do_what_to_move_and_whose_caution_it_is() -> None:
    said = told(sheets("demo", "winter-2026", "en")["role-truck-crew"])
    assert "Ready at 4:30 pm Band Room 112" in said
    assert "by 5:30 pm Be at the hall’s dock with the truck" in said
    assert (
        "3 × Timpani, 85 lb each: two adults, on wheels; use their wheels; never by the rims"
        in said
    )
    assert "NIOSH Publication No. 94-110" in said
    assert "was made for healthy adults at work. It has no number for students" in said
    assert "Run of show" not in said
    assert "Run of show 7:00 pm The Snowplow Parade" in told(
        sheets("demo", "winter-2026", "en")["role-stage-crew"]
    )


def test_a_role_reads_of_its_own_trips_alone() -> None:
    found = sheets("demo", "winter-2026", "en")
    from_hall = "loading dock to Quillhaven Civic Hall, main stage"
    assert from_hall in found["role-stage-crew"].html
    assert from_hall not in found["role-truck-crew"].html


def with_clothes(count: int) -> MadeSheet:
    """Give a family's sheet with so many more things to wear."""
    context = Context(small_plan(), "en")
    with context.speaking():
        cycle = cycle_of(small_plan(), "winter")
        view = concert_view(context, cycle, cycle.concerts[0])
        more = tuple(ThingView(str(n), f"Number {n:02} of it", 0, "") for n in range(count))
        view = replace(view, attire=(*view.attire, *more))
        sheet = next(iter(family_sheets(context, cycle.id, view)))
        return made_sheet(context, ENVIRONMENT, None, sheet)


def clothes(said: str) -> list[int]:
    return [int(n) for n in re.findall(r"Number (\d\d) of it", said)]


def test_the_program_gives_way_and_clothes_never_do() -> None:
    instead = "It is on the page “Winter <Concert> & friends” of our website."
    given = {}
    for count in (0, 25, 40):
        sheet = with_clothes(count)
        said = told(sheet)
        assert clothes(said) == [*range(count)]
        given[count] = (
            "Tow Path" in said,
            "First note" in said,
            said.count(instead),
            pages_of(sheet),
        )
    assert given[0] == (True, True, 0, 1)
    assert given[25] == (False, True, 1, 1)
    assert given[40] == (True, True, 0, 2)  # where it takes two pages, nothing gives way


def with_program(titles: int, bands: int) -> MadeSheet:
    """Give a family's sheet of a concert in which so many bands play so many pieces each."""
    context = Context(small_plan(), "en")
    with context.speaking():
        cycle = cycle_of(small_plan(), "winter")
        view = concert_view(context, cycle, cycle.concerts[0])
        turn = view.turns[0]
        rows = tuple(
            replace(turn.pieces[0], item=turn.pieces[0].item.model_copy(update={"title": title}))
            for title in (Text.plain(f"Suite No. {n:02} for band") for n in range(titles))
        )
        view = replace(view, turns=(replace(turn, pieces=rows),) * bands)
        sheet = next(iter(family_sheets(context, cycle.id, view)))
        return made_sheet(context, ENVIRONMENT, None, sheet)


def test_a_long_program_stands_in_rows_before_it_gives_way() -> None:
    sheet = with_program(25, 1)
    for paper in Paper:
        (said,) = page_texts(typeset(replace(sheet, paper=paper), Imprint(SITE)))
        assert sorted(set(re.findall(r"Suite No. (\d\d)", words_of(said)))) == [
            f"{n:02}" for n in range(25)
        ]
    assert "in-a-row" not in with_program(3, 3).html


def test_what_stands_in_two_columns_is_parted_by_its_length() -> None:
    few, many = (with_clothes(count).html for count in (0, 20))
    second = "</div>\n<div>\n"

    def after_in_first(html: str) -> bool:
        columns = html[html.index('<div class="columns">') :]
        return columns.index("<h2>After</h2>") < columns.index(second)

    assert after_in_first(few)
    assert not after_in_first(many)


def test_a_cancelled_concert_has_no_sheets() -> None:
    context = Context(small_plan(), "en")
    with context.speaking():
        cycle = cycle_of(small_plan(), "winter")
        held = cycle.concerts[0]
        off = Text.plain("A storm")
        item = held.item.model_copy(update={"cancelled": off})
        gone = replace(cycle, concerts=(replace(held, item=item),))
        assert not any(
            page.sheets for kind in (concert, crew) for page in kind.pages(context, gone)
        )
        assert any(page.sheets for kind in (concert, crew) for page in kind.pages(context, cycle))


def test_a_language_without_letters_has_no_sheets_and_no_links_to_them() -> None:
    context = Context(replace(small_plan(), languages=("en", "zh-Hans")), "zh-Hans")
    with context.speaking():
        cycle = cycle_of(small_plan(), "winter")
        (families,) = concert.pages(context, cycle)
        (helpers,) = crew.pages(context, cycle)
    assert families.sheets == helpers.sheets == ()
    assert not _links(families.view.prints)  # type: ignore[attr-defined]
    assert not _links(role.sheet for role in helpers.view.roles)  # type: ignore[attr-defined]


def _links(found: Iterable[object]) -> list[object]:
    return [one for one in found if one]
