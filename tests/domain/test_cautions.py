"""Cautions: each carries its fact, its source and its scope, and none gives leave."""

from __future__ import annotations

import re

import pytest

from handbook.domain.tables.cautions import (
    CREW_PAGE,
    HEARING,
    LIFTING,
    REHEARSAL_PAGE,
    STAFF_PAGE,
    Caution,
)

EVERY = (*LIFTING, *HEARING)
BY_ID = {caution.id: caution for caution in EVERY}

# What each public source says, as a caution must pass it on: id, words of the fact, source.
FACTS = [
    ("lift-ask-first", ["district's rules", "No federal work rule", "facilities or safety office"], "OSHA interpretation letter of 4 June 2013"),
    ("lift-no-number-for-students", ["adults at work", "no number for students"], "94-110"),
    ("lift-not-covered", ["carrying, pushing or pulling", "two people", "not cover"], "94-110"),
    ("lift-no-twist", ["a tenth", "45 degrees", "a fifth past 90"], "INDG143"),
    ("lift-rest", ["30 lifts an hour", "30 percent at one or two a minute", "50 percent at five to eight", "80 percent above twelve"], "INDG143"),
    ("lift-short-carry", ["held to the body", "about 10 meters without a rest"], "INDG143"),
    ("lift-hardest-point", ["lowest figure"], "INDG143"),
    ("hear-no-number-for-students", ["steady noise", "many years", "may not fit music"], "2015-184"),
    ("hear-bands-are-loud", ["91 dBA", "100 dBA", "most band rehearsals"], "2015-184"),
    ("hear-play-softer", ["softer when you can"], "2015-184"),
    ("hear-space", ["space between"], "2015-184"),
    ("hear-ear-plugs", ["suits your instrument"], "2015-184"),
    ("hear-measure-and-teach", ["85 dBA", "training", "hearing test each year", "measure the room"], "2015-184"),
    ("hear-small-rooms", ["85 dBA on average", "110 dBA", "indoor marching"], "HETA 2011-0129-3160"),
    ("hear-name-the-rule", ["Fifty minutes at 95 dBA", "about a fifth"], "29 CFR 1910.95"),
    ("hear-headphones", ["40 hours at 80 dB for adults", "75 dB for children"], "H.870"),
    ("hear-venue", ["100 dB on average over 15 minutes", "six parts"], "2022"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "words", "source"), FACTS)
def test_cautions_pass_on_what_their_source_says(name: str, words: list[str], source: str) -> None:
    assert [word for word in words if word not in BY_ID[name].text] == []
    assert source in BY_ID[name].source


@pytest.mark.parametrize("caution", EVERY, ids=lambda caution: caution.id)
def test_every_caution_is_whole(caution: Caution) -> None:
    assert re.fullmatch(r"(lift|hear)-[a-z]+(-[a-z]+)*", caution.id)
    assert caution.text.endswith((".", "?"))
    assert caution.source
    assert "Follow your district's rules" in caution.scope
    assert "facilities or safety office" in caution.scope


@pytest.mark.parametrize("caution", EVERY, ids=lambda caution: caution.id)
def test_figures_from_occupational_rules_say_whom_they_were_made_for(caution: Caution) -> None:
    occupational = re.search(r"NIOSH|OSHA|CFR|INDG143", caution.source)
    assert bool(occupational) == ("adults at work, not for students" in caution.scope)


@pytest.mark.parametrize("caution", EVERY, ids=lambda caution: caution.id)
def test_no_caution_gives_leave(caution: Caution) -> None:
    """Nothing is called safe, and no weight is named that somebody could take for a limit."""
    told = f"{caution.text} {caution.scope}".lower()
    assert not re.search(r"\bsafe(ly)?\b|harmless|no risk|acceptable|allowed up to", told)
    assert not re.search(r"\d\s*(kg|kilo|lb|pound)", told)


def test_ids_are_unique() -> None:
    assert len(BY_ID) == len(EVERY)


@pytest.mark.parametrize("page", [CREW_PAGE, REHEARSAL_PAGE], ids=["crew", "rehearsal"])
def test_pages_say_what_they_must(page: tuple[Caution, ...]) -> None:
    names = {caution.id for caution in page}
    assert {"lift-ask-first", "lift-not-covered", "lift-no-number-for-students"} <= names
    assert {"hear-no-number-for-students", "hear-tell-someone"} <= names


def test_the_page_with_the_loads_says_all_of_lifting() -> None:
    assert set(LIFTING) <= set(CREW_PAGE)


def test_every_caution_is_shown_somewhere_and_once_a_page() -> None:
    pages = (CREW_PAGE, REHEARSAL_PAGE, STAFF_PAGE)
    assert {caution.id for page in pages for caution in page} == set(BY_ID)
    assert all(len(set(page)) == len(page) for page in pages)


def test_words_for_staff_keep_off_student_pages() -> None:
    for page in (CREW_PAGE, REHEARSAL_PAGE):
        assert not [caution.id for caution in page if caution.text.startswith("For staff")]
    assert all(caution.text.startswith("For staff") for caution in STAFF_PAGE)


def grade(text: str) -> float:
    """Automated Readability Index (Senter and Smith 1967, AMRL-TR-66-220): a US school grade."""
    words = text.split()
    letters = sum(character.isalnum() for character in text)
    sentences = len(re.findall(r"[.?!](?=\s|$)", text))
    return 4.71 * letters / len(words) + 0.5 * len(words) / sentences - 21.43


@pytest.mark.parametrize("page", [CREW_PAGE, REHEARSAL_PAGE], ids=["crew", "rehearsal"])
def test_a_middle_school_reader_can_follow(page: tuple[Caution, ...]) -> None:
    assert grade(" ".join(caution.text for caution in page)) <= 8
