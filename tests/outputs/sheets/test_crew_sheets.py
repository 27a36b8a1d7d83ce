"""The sheet of a role of the crew: in the order of its use, on two sides at most, in each language.

What stands on it, and where, was written by hand from the evening below. That a sheet in the hand
is of one leaf, and its letters of 14 points, is what this project promises.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from handbook.domain.tables.cautions import CREW_FIRST, CREW_MOVES
from handbook.domain.values.paper import Paper
from handbook.outputs.page import Context
from handbook.outputs.pages import crew
from handbook.outputs.pages.crew import CrewView
from handbook.outputs.sheets.kinds.crew import CrewSheetView, crew_sheets
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.nodes import Node, nodes_of
from handbook.outputs.sheets.typesetting import typeset
from handbook.outputs.site import MadePage, Renderer
from handbook.plan.model import CyclePlan, Plan
from tests.outputs.concerts import EVENING, evening
from tests.outputs.sheets.reading import page_texts, runs, words_of
from tests.outputs.sheets.test_public_sheets import blocks, joined, page_words

LANGUAGES = ("en", "es", "vi", "ar")
LEAST_POINTS, FOOT_POINTS = 14, 12
IMPRINT = Imprint("https://bands.tollgate.example/", 3)
_ROLE = "crew: [{id: stage-crew, name: Stage crew, people: 4, tasks: [Set chairs]}]\n"
_GEAR = EVENING[EVENING.index("equipment:") : EVENING.index("care:")]
CREW = EVENING.replace(
    _ROLE,
    """crew:
  - id: stage-crew
    name: Stage crew
    people: 4
    tasks: [{what: The stage is set, by: 6:50 pm}, {what: Chairs on their racks, by: 7:40 pm}]
  - {id: gong-crew, name: Gong crew, people: 2, tasks: [{what: The gong is on the stage, by: 6:30 pm}]}
  - {id: hosts, name: Door hosts, people: 2, tasks: [Open the doors]}
closes: 9:00 pm
on_the_day: {role: {en: The lead parent, ar: ولي الأمر}, phone: 555-0142}
goes_back: yes
""",
).replace(
    _GEAR,
    """equipment:
  - {id: timpani, name: Timpani, count: 3, weight: 85 lb, from: band-room, to: stage, carrier: cart, who: stage-crew}
  - {id: vibraphone, name: Vibraphone, weight: 130 lb, handling: [use its own wheels], from: band-room, to: stage, who: stage-crew}
  - {id: racks, name: Rack of stands, count: 4, from: band-room, to: stage, who: stage-crew}
  - {id: gong, name: Gong, count: 2, weight: 40 lb, stays: yes, from: green-room, to: stage, who: gong-crew}
""",
)


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, MadePage]:
    """Make the crew's page in each language."""
    assert "goes_back" in CREW
    assert "vibraphone" in CREW
    context, cycle, _ = evening(tmp_path_factory.mktemp("crew"), CREW)
    return {language: _page(context.plan, cycle, language) for language in LANGUAGES}


def _page(plan: Plan, cycle: CyclePlan, language: str) -> MadePage:
    context = Context(replace(plan, languages=LANGUAGES), language)
    with context.speaking():
        made = Renderer().cycle(context, cycle)
    return next(one for one in made.pages if one.page.kind == "crew")


def sheet(pages: Mapping[str, MadePage], role: str, language: str = "en") -> MadeSheet:
    return next(one for one in pages[language].sheets if f"-role-{role}-" in one.path)


def told(made: MadeSheet, paper: Paper = Paper.LETTER) -> list[str]:
    content = typeset(replace(made, paper=paper), IMPRINT)
    return [words_of(text) for text in page_texts(content)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_role_has_one_leaf_and_a_small_one_one_side(
    pages: Mapping[str, MadePage], language: str
) -> None:
    for paper in Paper:
        assert len(told(sheet(pages, "stage-crew", language), paper)) <= 2
        assert len(told(sheet(pages, "hosts", language), paper)) <= 2
        # Vietnamese takes a line or two more than a side has.
        sides = len(told(sheet(pages, "gong-crew", language), paper))
        assert sides == 1 or (language == "vi" and sides == 2)


@pytest.mark.parametrize("language", LANGUAGES)
def test_its_words_are_those_of_the_page(pages: Mapping[str, MadePage], language: str) -> None:
    page = page_words(pages[language].middle)
    for role in ("stage-crew", "gong-crew"):
        made = sheet(pages, role, language)
        lost = [words for words in blocks(nodes_of(made.html)) if joined(words) not in page]
        assert not lost, made.path


def test_all_of_it_is_read_at_arms_length(pages: Mapping[str, MadePage]) -> None:
    for made in pages["en"].sheets:
        foot = joined(f"{made.head} {made.title} bands.tollgate.example/{made.page} 1 of 2 2 of 2")
        for one in runs(typeset(made, IMPRINT)):
            of_foot = joined(one.text) in foot and one.points >= FOOT_POINTS - 0.01
            assert of_foot or one.points >= LEAST_POINTS - 0.01, one.text


def test_it_is_in_the_order_of_its_use(pages: Mapping[str, MadePage]) -> None:
    said = " ".join(told(sheet(pages, "stage-crew")))
    order = (
        "Stage crew Thursday, December 10, 2026",
        "Ready at 6:15 pm",
        "On the day, call The lead parent 555-0142",
        "by 6:50 pm The stage is set",
        "by 7:40 pm Chairs on their racks",
        "Moves",
        "no weight on this page says what a student may lift",
        "NIOSH Publication No. 94-110",
        "From Band room to Main stage",
        "Flat cart: 3 pieces, 255 lb in all",
        "before you use your arms",
        "Run of show",
    )
    places = [said.index(words) for words in order]
    assert places == sorted(places)
    assert "Questions" not in said  # the office answers on school days


def test_no_caution_is_left_out_and_each_source_stands_once(pages: Mapping[str, MadePage]) -> None:
    said = " ".join(told(sheet(pages, "stage-crew"))).replace("’", "'")
    for caution in (*CREW_MOVES, *CREW_FIRST):
        assert caution.text.replace("’", "'") in said
        assert caution.source.startswith(caution.cited)
    for source in {one.cited for one in (*CREW_MOVES, *CREW_FIRST) if one.cited}:
        assert said.count(source) == 1
    hosts = " ".join(told(sheet(pages, "hosts")))
    assert "Made for adults at work, not for students." in hosts  # who lifts nothing reads no rule


def test_nobody_is_told_the_sum_of_what_goes_by_hand(pages: Mapping[str, MadePage]) -> None:
    """What two gongs of 40 lb weigh together is no load of anyone."""
    said = " ".join(told(sheet(pages, "stage-crew")))
    assert "By hand or on wheels: 5 pieces, 4 of them not weighed" in said
    gongs = " ".join(told(sheet(pages, "gong-crew")))
    assert "By hand or on wheels: 2 pieces Adults only." in gongs
    assert "2 × Gong, 40 lb each" in gongs
    assert "80 lb" not in gongs
    assert "Vibraphone, 130 lb: two adults, on wheels; use its own wheels" in said
    assert "Trip 1: Timpani (2) Trip 2: Timpani" in said


def rows(nodes: list[Node | str]) -> Iterator[tuple[int, str]]:
    """Give each row to tick: how many boxes it has, and its words."""
    for node in nodes:
        if isinstance(node, str):
            continue
        inside = node.get("c", [])
        assert isinstance(inside, list)
        if node["t"] == "li" and (boxes := _boxes(node)):
            yield boxes, " ".join(blocks([node]))
        else:
            yield from rows(inside)


def _boxes(node: Node | str) -> int:
    if isinstance(node, str):
        return 0
    inside = node.get("c", [])
    assert isinstance(inside, list)
    return (node["t"] == "box") + sum(map(_boxes, inside))


def test_what_goes_back_has_a_box_for_each_way(pages: Mapping[str, MadePage]) -> None:
    def found(made: MadeSheet) -> dict[str, int]:
        return {words.split(",")[0].strip(): boxes for boxes, words in rows(nodes_of(made.html))}

    made, gongs = sheet(pages, "stage-crew"), sheet(pages, "gong-crew")
    assert found(made) == {"3 × Timpani": 2, "Vibraphone": 2, "4 × Rack of stands": 2}
    assert found(gongs) == {"2 × Gong": 1}
    said = " ".join(told(made))
    assert "After the concert it goes back the same way." in said
    assert said.index("Out by 9:00 pm") < said.index("Moves")
    gong_said = " ".join(told(gongs))
    assert "2 × Gong, 40 lb each: two adults; stays there" in gong_said
    assert "goes back" not in gong_said


def test_nothing_is_said_to_go_back_unless_the_content_says_so(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    quiet = CREW.replace("goes_back: yes\n", "").replace("stays: yes, ", "")
    context, cycle, _ = evening(tmp_path_factory.mktemp("quiet"), quiet)
    made = sheet({"en": _page(context.plan, cycle, "en")}, "stage-crew")
    assert {boxes for boxes, _ in rows(nodes_of(made.html))} == {1}
    assert "goes back" not in made.html


def test_a_second_side_says_at_its_foot_what_it_belongs_to(
    pages: Mapping[str, MadePage],
) -> None:
    first, second = told(sheet(pages, "stage-crew"))
    name = "Winter <Concert> & friends: Stage crew"
    assert name in second
    assert name not in first


def test_a_number_keeps_its_order_among_arabic_letters(pages: Mapping[str, MadePage]) -> None:
    """By UAX 9, W2, digits after Arabic letters would be turned part by part: 0142-555."""
    content = typeset(sheet(pages, "stage-crew", "ar"), IMPRINT)
    parts = [one for one in runs(content) if one.text.strip() in {"555", "0142", "555-0142", "-"}]
    assert parts
    by_place = "".join(one.text.strip() for one in sorted(parts, key=lambda one: one.x))
    assert by_place == "555-0142"


def test_a_role_is_told_the_ways_on_which_it_carries_something_and_no_others(
    tmp_path: Path,
) -> None:
    context, cycle, _ = evening(tmp_path, CREW)
    ways = dict[str, list[int]]()
    with context.speaking():
        (page,) = crew.pages(context, cycle)
        view = page.view
        assert isinstance(view, CrewView)
        for made in crew_sheets(context, cycle.id, view):
            assert isinstance(made.view, CrewSheetView)
            ways[made.view.role.item.id] = [
                len(lines) for way in made.view.ways for _, lines in way.loads
            ]
    assert ways.pop("hosts") == []
    assert sorted(ways) == ["gong-crew", "stage-crew"]
    assert all(counts and all(counts) for counts in ways.values())


def test_what_takes_two_adults_stands_apart_from_what_others_move(
    pages: Mapping[str, MadePage], tmp_path: Path
) -> None:
    """The evening's own rule asks two adults for what is over 35 lb; nobody says who its crew are."""
    said = " ".join(told(sheet(pages, "stage-crew")))
    apart = "Adults only. Students: ask your director who moves these."
    own, _, of_adults = said.partition("By hand or on wheels")[2].partition(apart)
    assert "4 × Rack of stands" in own
    assert "Vibraphone" not in own
    assert of_adults.index("Vibraphone") < of_adults.index("before you use your arms")
    grown = CREW.replace("people: 4\n", "people: 4\n    adults: yes\n")
    context, cycle, _ = evening(tmp_path, grown)
    made = {"en": _page(context.plan, cycle, "en")}
    assert "Adults only" not in " ".join(told(sheet(made, "stage-crew")))
    assert "Students leave these to: Stage crew." in " ".join(told(sheet(made, "gong-crew")))


def test_who_shares_a_cart_reads_what_of_it_is_its_own(
    pages: Mapping[str, MadePage], tmp_path: Path
) -> None:
    """Two gongs of 40 lb and three timpani of 85 lb are 335 lb."""
    shared = CREW.replace(
        "stays: yes, from: green-room, to: stage,", "from: band-room, to: stage, carrier: cart,"
    )
    context, cycle, _ = evening(tmp_path, shared)
    made = {"en": _page(context.plan, cycle, "en")}
    said = " ".join(told(sheet(made, "gong-crew")))
    assert "Flat cart: 5 pieces, 335 lb in all Your part: 2 pieces, 80 lb in all" in said
    assert "Your part" not in " ".join(told(sheet(pages, "stage-crew")))


def test_a_call_away_from_the_hall_has_its_own_place(
    pages: Mapping[str, MadePage], tmp_path: Path
) -> None:
    loading = CREW.replace("{role: stage-crew,", "{role: stage-crew, room: band-room,")
    context, cycle, _ = evening(tmp_path, loading)
    made = {"en": _page(context.plan, cycle, "en")}
    said = " ".join(told(sheet(made, "stage-crew")))
    assert "6:15 pm Band room, at school" in said
    assert "7:00 pm The concert begins" in said[: said.index("Quill Street")]
    assert "at school" not in " ".join(told(sheet(pages, "stage-crew")))
