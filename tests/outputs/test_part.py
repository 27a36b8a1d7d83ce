"""A part's page answers its player: this week's passages, own key and notes, rhythms, tuning.

Frequencies: 440 * 2 ** ((m - 69) / 12) with A 440 of ISO 16:1975. Musical facts are common
practice, no source, unless one is named.
"""

from __future__ import annotations

import gzip
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest

from handbook.domain.scales import scale
from handbook.domain.tables.instruments import instrument
from handbook.domain.values.keys import parse_concert_key
from handbook.outputs.model import RenderedPage
from handbook.outputs.site import render_site
from handbook.pipeline import load_plan
from tests.content_folders import base_files, changed
from tests.demo import DEMO
from tests.demo import demo_site as demo
from tests.outputs.rendering import site_of
from tests.plan.planning import MUSIC, planned
from tests.plan.test_parts import PROGRAM, RHYTHMS, STRANDS, WATCH

MOST_ON_THE_WIRE = 150_000  # bytes of a first view, gzipped; our own budget


@pytest.fixture
def pages(tmp_path: Path) -> dict[str, RenderedPage]:
    """The parts of a small band, by instrument."""
    files = base_files()
    files = changed(
        files,
        PROGRAM,
        "flute: 6, clarinet: 8, trumpet: 7",
        "flute: 6, clarinet: 8, trumpet: 7, trombone: 2, snare-drum: 1, kazoo: 1",
    )
    text = files[MUSIC].replace(
        "    ensemble: lantern\n", "    ensemble: lantern\n    key: Eb major\n"
    )
    text = text.replace(
        "        goal: quarter = 96\n",
        WATCH.replace("[trombone, euphonium, tuba]", "[trombone]").replace(
            "[percussion]", "[snare-drum]"
        ),
        1,
    )
    text = text.replace(
        "  - id: tweed-kites",
        f"{RHYTHMS.replace('[percussion]', '[snare-drum]')}  - id: tweed-kites",
    )
    plan = planned(
        tmp_path, {PROGRAM: files[PROGRAM], MUSIC: text, "fundamentals.yaml": STRANDS}
    ).plan
    return {
        page.path.split("/")[-2]: page
        for page in site_of(plan).pages
        if page.path.startswith("winter/lantern/part/")
    }  # fmt: skip


def words_of(page: RenderedPage) -> str:
    """The text that is seen, without what only screen readers say."""
    seen = re.sub(
        r'<span class="vh">.*?</span>|<svg.*?</svg>|<template.*?</template>',
        "",
        page.body,
        flags=re.DOTALL,
    )
    return " ".join(re.sub(r"<[^>]+>", " ", seen).replace("&amp;", "&").split())  # fmt: skip


def test_every_instrument_of_the_ensemble_has_its_page(pages: dict[str, RenderedPage]) -> None:
    assert list(pages) == ["flute", "clarinet", "trumpet", "trombone", "snare-drum", "kazoo"]
    assert pages["snare-drum"].title.startswith("Snare drum · Lantern Band")


@pytest.mark.parametrize(
    ("who", "key", "signature", "watch"),
    [
        ("flute", "E♭ major", "3 flats: B♭, E♭, A♭", "A♭"),
        ("clarinet", "F major", "1 flat: B♭", "B♭"),
        ("trumpet", "F major", "1 flat: B♭", "B♭"),
        ("trombone", "E♭ major", "3 flats: B♭, E♭, A♭", "A♭ and B♭"),
    ],
)
def test_the_list_gives_key_and_notes_as_the_player_reads_them(
    who: str, key: str, signature: str, watch: str, pages: dict[str, RenderedPage]
) -> None:
    text = words_of(pages[who])
    first = text[text.index("Practice this week") : text.index("Your key is")]
    assert f"Button Comets {key} for you" in first
    assert f"Opening mm. 1–8 · watch {watch}" in first
    assert f"Your key is {key} : {signature}." in text


def test_a_drum_has_no_key_but_its_rhythms_with_hands(pages: dict[str, RenderedPage]) -> None:
    text = words_of(pages["snare-drum"])
    assert "Your key" not in text
    assert "Hands: R L R R L R L L R (Single Paradiddle)" in text
    assert "Hands" not in words_of(pages["flute"])
    assert "Tuning note" not in text


def test_an_unknown_instrument_still_has_its_list(pages: dict[str, RenderedPage]) -> None:
    text = words_of(pages["kazoo"])
    assert "is not known here" in text
    assert "Opening mm. 1–8" in text
    assert "Your key" not in text


@pytest.mark.parametrize(
    ("who", "told"),
    [
        # The fourth partial is exact, and so is one valve by itself.
        ("trumpet", "B♭4 A♭4 1 in tune"),
        ("trombone", "A♭3 A♭3 3"),
    ],
)
def test_brass_see_how_a_note_is_played(
    who: str, told: str, pages: dict[str, RenderedPage]
) -> None:
    assert told in words_of(pages[who])


def test_cents_come_with_their_assumption(pages: dict[str, RenderedPage]) -> None:
    assert "each valve exact by itself" in words_of(pages["trumpet"])
    assert "a slide is placed by ear" in words_of(pages["trombone"])
    assert "cents" not in words_of(pages["clarinet"])


@pytest.mark.parametrize(
    ("who", "tuning", "facts"),
    [
        ("flute", "Play your B♭ . Play for a few minutes", "Your B♭4 sounds concert B♭4 , 466.2 Hz with A at 440. Sounds as written."),
        ("clarinet", "Play your C . It sounds concert B♭ . Play for", "Your C5 sounds concert B♭4 , 466.2 Hz with A at 440. A written C sounds a concert B♭."),
        ("trombone", "Play your B♭ . Play for a few minutes", "Your B♭3 sounds concert B♭3 , 233.1 Hz with A at 440."),
    ],
)  # fmt: skip
def test_the_tuning_note_is_read_and_heard(
    who: str, tuning: str, facts: str, pages: dict[str, RenderedPage]
) -> None:
    """The octave and the frequency stand in a fold behind the note's plain name."""
    first, folded = words_of(pages[who]).split("Which octave, and how many hertz")
    assert tuning in first
    assert facts in folded


def test_counts_are_written_and_engraved(pages: dict[str, RenderedPage]) -> None:
    assert "Count: 1 & 2 3 (4)" in words_of(pages["flute"])
    labels = re.findall(r'role="img" aria-label="([^"]*)"', pages["flute"].body)
    assert "Rhythm in 6/8, 1 measure, counted 1 a 2 a" in labels


def test_labels_state_key_clef_signature_range_and_notes(pages: dict[str, RenderedPage]) -> None:
    labels = re.findall(r'role="img" aria-label="([^"]*)"', pages["clarinet"].body)
    assert (
        "F major scale, which sounds concert E flat major, treble clef, 1 flat: B flat, "
        "from F 3 to F 4" in labels
    )
    assert "B flat 4 in F major, 1 flat: B flat, treble clef" in labels
    labels = re.findall(r'role="img" aria-label="([^"]*)"', pages["snare-drum"].body)
    assert any("sticking R L R R L R L L R" in label for label in labels)


@pytest.mark.parametrize("who", ["flute", "trombone", "snare-drum"])
def test_every_sign_drawn_is_on_the_page_once(who: str, pages: dict[str, RenderedPage]) -> None:
    body = pages[who].body
    drawn = set(re.findall(r'href="#(m-E[0-9A-F]+)"', body))
    held = re.findall(r'id="(m-E[0-9A-F]+)"', body)
    assert sorted(held) == sorted(set(held))
    assert drawn == set(held)


def test_drawings_are_well_formed_and_take_the_pages_ink(pages: dict[str, RenderedPage]) -> None:
    for drawing in re.findall(r'<svg class="engraved".*?</svg>', pages["trumpet"].body, re.DOTALL):
        ET.fromstring(drawing)
        assert "color" not in drawing
        assert "style" not in drawing


def test_exercises_are_in_the_players_pitch(pages: dict[str, RenderedPage]) -> None:
    text = words_of(pages["trumpet"])
    assert "Your key is C major : no sharps or flats." in text
    assert "C D E F G A B C" in text


def test_each_passage_has_its_click_and_the_page_a_drone(pages: dict[str, RenderedPage]) -> None:
    body = pages["clarinet"].body
    assert body.count('<div class="click"') == 2
    assert body.count('<div class="drone"') == 1
    assert body.count('id="player-parts"') == 1


@pytest.mark.parametrize(
    ("title", "text"),
    [
        ("Clarinet, Lantern Band", "Button Comets: F major"),
        ("Button Comets: Clarinet", "F major, 1 flat: B♭. Watch B♭."),
    ],
)
def test_search_finds_what_the_player_reads(
    title: str, text: str, pages: dict[str, RenderedPage]
) -> None:
    entry = next(entry for entry in pages["clarinet"].search if entry.title == title)
    assert text in entry.text
    if entry.anchor:
        assert "F major" in {str(key) for key in entry.keys}
        assert f'id="{entry.anchor}"' in pages["clarinet"].body
        assert {"scale", "clarinet"} <= set(entry.keywords.lower().split())


def test_the_demo_passes_150_pages_with_its_parts() -> None:
    assert len(demo().pages) > 150
    assert sum("/part/" in page.path for page in demo().pages) > 80


def test_two_renderings_are_alike_to_the_byte() -> None:
    plan = load_plan(DEMO).plan
    assert plan is not None
    rendered = render_site(replace(plan, languages=plan.languages[:2]))  # as the demo here
    again, first = ({page.path: page.body for page in site.pages} for site in (rendered, demo()))
    unlike = [path for path, body in first.items() if again[path] != body]
    assert unlike == []


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_heaviest_part_is_light_on_the_wire(language: str) -> None:
    heaviest = max(
        (page for page in demo().pages if "/part/" in page.path and page.language == language),
        key=lambda p: len(p.body),
    )
    asked = set(
        re.findall(r'(?:src|href)="(?:\.\./)*(assets/[^"?]+)', heaviest.head + heaviest.body)
    )
    files = {file.path: file.content for file in demo().files}
    faces = [
        path for path in files if re.fullmatch(r"assets/(?!..?/)(?:[^/]+/)?[^/]+\.woff2", path)
    ]
    fonts = sum(len(files[path]) for path in faces)
    assert fonts
    others = sum(len(gzip.compress(files[path])) for path in asked if not path.endswith(".woff2"))
    total = len(gzip.compress((heaviest.head + heaviest.body).encode())) + fonts + others
    assert total < MOST_ON_THE_WIRE, (heaviest.path, total)


@pytest.mark.parametrize(
    ("who", "told"), [("flute", False), ("trombone", False), ("trumpet", True)]
)
def test_what_sounds_is_told_only_to_those_who_read_something_else(
    who: str, told: bool, pages: dict[str, RenderedPage]
) -> None:
    assert ("It sounds concert E♭ major" in words_of(pages[who])) is told


HOME = """        goal: quarter = 96
        home:
          - {who: [winds], text: "Breathe, then {Ab}. Listen for concert {Eb}."}
          - {who: [low-brass], text: Buzz it first}
          - {text: Sing it}
          - {who: [unpitched-percussion], text: Alternate hands}
"""


def home_pages(tmp_path: Path) -> dict[str, str]:
    files = changed(base_files(), PROGRAM, "clarinet: 8", "clarinet: 8, trombone: 2, snare-drum: 1")
    text = files[MUSIC].replace(
        "    ensemble: lantern\n", "    ensemble: lantern\n    key: Eb major\n"
    )
    text = text.replace("        goal: quarter = 96\n", HOME, 1)
    plan = planned(tmp_path, {PROGRAM: files[PROGRAM], MUSIC: text}).plan
    return {
        page.path: words_of(page)
        for page in site_of(plan).pages
        if page.path.startswith("winter/lantern/")
    }


@pytest.mark.parametrize(
    ("who", "told"),
    [  # concert A flat is written B flat by a clarinet: a major second up (music21: M-2)
        ("clarinet", "At home. Breathe, then B♭. Listen for concert E♭. Sing it"),
        ("trombone", "At home. Breathe, then A♭. Listen for concert E♭. Buzz it first Sing it"),
        ("snare-drum", "At home. Sing it Alternate hands"),
    ],
)
def test_home_practice_is_what_is_for_the_player(who: str, told: str, tmp_path: Path) -> None:
    text = home_pages(tmp_path)[f"winter/lantern/part/{who}/"]
    told_at = text.index("At home.")
    assert text[told_at : told_at + len(told)] == told
    for other in {"Buzz", "Alternate hands", "Breathe"} - set(
        re.findall("Buzz|Alternate hands|Breathe", told)
    ):
        assert other not in text


def test_a_page_for_all_says_whom_home_practice_is_for(tmp_path: Path) -> None:
    text = home_pages(tmp_path)["winter/lantern/button-comets/"]
    assert "At home, winds. Breathe, then concert A♭. Listen for concert E♭." in text
    assert "At home, low brass. Buzz it first" in text
    assert "At home. Sing it" in text
    assert "At home, unpitched percussion. Alternate hands" in text


@pytest.mark.parametrize("who", ["snare-drum", "bass-drum", "percussion", "timpani", "xylophone"])
def test_nobody_is_told_to_tongue_a_drum(who: str) -> None:
    found = [words_of(page) for page in demo().pages if page.path.endswith(f"/part/{who}/")]
    assert found
    for text in found:
        assert re.findall(r"(?i)\btongu\w*|\bBreathing\b", text) == []


def test_the_demo_names_notes_as_each_part_has_them() -> None:
    """Concert A flat is B flat for a clarinet, a major second up (music21: M-2)."""
    pages = {page.path: words_of(page) for page in demo().pages}
    at = "winter-2026/lantern"
    assert "It is B♭, not B. It is the new note" in pages[f"{at}/part/clarinet/"]
    assert (
        "It is concert A♭, not concert A. It is the new note"
        in pages[f"{at}/lamps-along-the-quay/"]
    )
    assert not [path for path, text in pages.items() if re.search(r"\{[A-G]", text)]


def test_timpani_are_told_what_drums_are_tuned_to() -> None:
    (text,) = {
        words_of(page) for page in demo().pages if page.path == "winter-2026/beacon/part/timpani/"
    }
    assert "Drums in this key are most often tuned to G2 and C3 . Your part says which" in text
    assert "Your scale" not in text
    assert "Tuning note" not in text


@pytest.mark.parametrize(
    ("single", "told"),
    [
        ("", "A♭4 D♭4 T2-3 or 2-3 on the F side 17 cents sharp"),  # sixth partial and 2-3: 17.5
        ("    single_horns: yes\n", "A♭4 D♭4 2-3 16 cents sharp"),  # eighth partial and 2-3: 15.5
    ],
)
def test_a_double_horn_is_told_the_side(single: str, told: str, tmp_path: Path) -> None:
    files = changed(
        base_files(), PROGRAM, "flute: 6, clarinet: 8, trumpet: 7}\n", f"horn: 2}}\n{single}"
    )
    text = files[MUSIC].replace(
        "        goal: quarter = 96\n",
        "        goal: quarter = 96\n        watch: [{text: High, notes: [Db4]}]\n",
        1,
    )
    plan = planned(tmp_path, {PROGRAM: files[PROGRAM], MUSIC: text}).plan
    (page,) = (one for one in site_of(plan).pages if one.path == "winter/lantern/part/horn/")
    assert told in words_of(page)
    assert ("T is the thumb valve" in words_of(page)) is not bool(single)


def test_a_scale_that_is_cut_short_says_so() -> None:
    """Chimes have no octave from B flat within C4 to F5; a flute has."""
    from handbook.outputs.components.notation import first_notes  # noqa: PLC0415 - after its page
    from handbook.outputs.components.part_music import _scale_words  # noqa: PLC0415 - the same

    short, whole = (
        scale(parse_concert_key("Bb major"), instrument(name)) for name in ("chimes", "flute")
    )
    assert list(_scale_words(whole)) == []
    assert list(_scale_words(short)) == [first_notes(short)]


def row_of(path: str, passage: str) -> str:
    """The text of a passage's row on a part's page of the demo."""
    (page,) = (one for one in demo().pages if one.path == path)
    row = page.body.partition(f'id="{passage}"')[2].partition("</details>")[0]
    return re.sub(r"(?s)<svg.*?</svg>|<[^>]+>", " ", row)


def test_a_row_has_all_that_its_passage_needs() -> None:
    """Click, steps, what to do at home and to watch, fingerings, trills and rhythms: each in its row."""
    spark = row_of("winter-2026/beacon/part/trumpet/", "beacon-fire-variations-spark")
    for told in ("From Mon, Nov 16:", "At home.", "mm. 5–12", "1-2", "3 cents flat"):
        assert told in spark, told
    (trilled,) = (
        one
        for one in re.findall(
            r'(?s)<details class="row".*?</div></details>',
            next(
                page.body
                for page in demo().pages
                if page.path == "winter-2026/beacon/part/trumpet/"
            ),
        )
        if "<b>Trill</b>" in one
    )
    assert "Hold the first valve. Trill the second." in trilled
    wheel = row_of(
        "winter-2026/beacon/part/snare-drum/", "night-train-to-marrow-point-uneven-wheel"
    )
    assert "Count:" in wheel
    assert "goal 132" in wheel


def test_the_band_s_warm_up_is_one_tap_away_where_it_has_one(
    pages: dict[str, RenderedPage],
) -> None:
    """From the demo's fall 2026, where all bands have one; the small band of the fixture has none."""
    bodies = {page.path: str(page.body) for page in demo().pages}
    for band in ("lantern", "harbor", "beacon"):
        own = f"fall-2026/{band}/"
        parts = [
            body for path, body in bodies.items() if path.startswith(own) and "part-facts" in body
        ]
        assert len(parts) > 5
        assert all(f'{own}#warm-up">Play the band’s warm-up</a>' in body for body in parts)
        assert 'id="warm-up"' in bodies[own]
    assert "#warm-up" not in str(pages["clarinet"].body)
