"""Facts of a plan, and what `handbook compare` tells of two.

Which facts there are follows from what families and students can act on; the changes
were written by hand from the edits.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from html import unescape
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
import yaml
from click.testing import CliRunner

from handbook.cli.compare import command
from handbook.domain.facts import Fact, compare, without_parts
from handbook.domain.history import History, Publication
from handbook.domain.values.dates import MONTHS, WEEKDAYS
from handbook.ledger.codec import encode
from handbook.outputs.facts import facts_of
from handbook.outputs.facts.telling import change_words, fact_words
from handbook.outputs.page import Context
from handbook.outputs.pages import WHOLE
from handbook.outputs.site import Renderer
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from handbook.schema.base import Item
from handbook.schema.entries import entry_inside, holds_names
from handbook.schema.handbook import MAIN_CONCERT
from tests.content_folders import base_files, write_folder
from tests.fuzz.seeds import read_folder
from tests.plan.test_half_groups import with_groups
from tests.test_nothing_unread import model_of

CONTENT = Path(__file__).parents[2] / "content"
CONCERT, CYCLE = "cycles/winter/concert.yaml", "cycles/winter/cycle.yaml"
YEAR, MUSIC = "years/2026-27.yaml", "cycles/winter/music.yaml"
_CLOCK = re.compile(r"\b\d{1,2}:\d\d\s(?:am|pm)\b")


def sheets(plan: Plan) -> Iterator[tuple[str, str]]:
    """Make the sheets of all concerts and events."""
    context, renderer = Context(plan, plan.languages[0]), Renderer()
    cycles = [renderer.cycle(context, cycle) for cycle in plan.cycles]
    (kind,) = (one for one in WHOLE if one.name == "events")
    shares = [one.shares["events"] for one in cycles]
    made = chain(*(one.pages for one in cycles), renderer.whole(context, kind, shares))
    for one in made:
        if one.page.kind in {"concert", "event"}:
            yield one.page.path, sheet(one.middle)


def facts(plan: Plan | None) -> tuple[Fact, ...]:
    assert plan is not None
    return facts_of(plan)


@pytest.fixture(scope="module")
def demo() -> tuple[Fact, ...]:
    return facts(load_plan(CONTENT).plan)


def test_keys_are_unlike_and_made_of_ids(demo: tuple[Fact, ...]) -> None:
    keys = [fact.key for fact in demo]
    assert len(set(keys)) == len(keys)
    assert keys == sorted(keys)
    assert all(re.fullmatch(r"[a-z0-9/-]+", key) for key in keys)
    assert all(fact.value and fact.about for fact in demo)


def test_a_plan_is_unchanged_beside_itself(demo: tuple[Fact, ...]) -> None:
    assert compare(demo, facts(load_plan(CONTENT).plan)) == ()


def lines_of(html: str) -> Iterator[str]:
    """Give what stands on a page, piece by piece as it is set."""
    shown = re.sub(r"<(script|style|noscript)\b.*?</\1>", " ", html, flags=re.DOTALL)
    for text in re.split(r"<[^>]+>", shown):
        if words := " ".join(unescape(text).split()):
            yield words


# `thursday`, `december` and a year, which a fact writes shorter or leaves out.
_NAMES = [name.lower() for name in (*WEEKDAYS, *MONTHS)]
_LONG = re.compile(
    "|".join((*(rf"\b({name[:3]}){name[3:]}\b" for name in _NAMES), r"\b()20\d\d\b"))
)


def bare(text: str) -> str:
    """Give words without what a page and a fact set otherwise: markup, signs, capitals."""
    plain = re.sub(r"\[([^\]]*)\]\([^)]*\)|[*_]", lambda found: found[1] or "", text)
    words = re.sub(r"[^\w:–]+", " ", plain).lower()
    return " ".join(_LONG.sub(lambda found: found[found.lastindex or 0], words).split())


# What a sheet has beside facts: heads, what is read aloud or pressed, words around a time.
_SET = re.compile(
    r"\b(?:"
    + "|".join(
        (
            *("all bands", "when", "music", "doors", "where", "wear", "bring", "after", "access"),
            *("only", "parking", "bad weather", "class", "pick up", "be at the bus", "due", "ride"),
            *("ready in the room", "be there", "back at school then class", "rain plan", "then:"),
            *("ticks stay on this device only", "clear ticks", "the day step by step", "decided"),
            *("in bad weather:", "that day", "leaves from", "back about"),
            *("on", "at", "same place"),
        )
    )
    + r")(?!\w)"
)


def parts(words: str) -> Iterator[str]:
    """Part words where something stands between facts."""
    return (part for one in _SET.split(words) if (part := one.strip()))


def sheet(body: str) -> str:
    """Leave in a page what tells families where to be when, in what and with what."""
    body = body.partition('<section class="sheet')[2].partition(">")[2]
    assert body
    steps = body.partition('<section class="steps-of-day" aria-labelledby="day">')[2].partition(
        "</section>\n</div>"
    )[0]
    # What class an event takes away stands under the keys of rehearsals; how to ask is no fact.
    rows = re.sub(
        r'<div id="(?:class|questions)" .*?</div></div>',
        "",
        body.partition("</section>")[0],
        flags=re.DOTALL,
    )
    rows = re.sub(r'<a class="map-link".*?</a>', "", rows)
    # Links to printed sheets are no facts, nor is whom the hour of a crew is not for.
    rows = re.sub(r'<div id="print" .*?</div></div>', "", rows, flags=re.DOTALL)
    rows = re.sub(r'(<div id="crew.*?)<p>.*?</p>(</div></div>)', r"\1\2", rows, flags=re.DOTALL)
    return f"{rows} {steps}"


@pytest.mark.parametrize(
    ("folder", "pages"),
    [
        pytest.param(CONTENT, 2, id="demo"),
        pytest.param(
            CONTENT.parent / "tests" / "sites" / "two-bands" / "content", 5, id="two-bands"
        ),
        pytest.param(CONTENT.parent / "tests" / "rural_year", 11, id="rural-year"),
    ],
)
def test_all_on_family_pages_that_is_acted_on_traces_to_a_fact(folder: Path, pages: int) -> None:
    """Times, places, clothes and things, by the built pages of concerts and events."""
    plan = load_plan(folder).plan
    assert plan is not None
    all_facts = facts(plan)
    looked_at, lost = 0, set[tuple[str, str]]()
    for path, html in sheets(plan):
        looked_at += 1
        top, _, rest = path.strip("/").partition("/")
        key = (
            f"event/{rest}"
            if top == "events"
            else f"{top}/concert/{path.split('/')[2] or MAIN_CONCERT}"
        )
        own = (fact_words(one) for one in all_facts if f"{one.key}/".startswith(f"{key}/"))
        whole = bare(" ".join(own))
        for words in map(bare, lines_of(html)):
            if words not in whole:
                lost |= {(path, part) for part in parts(words) if part not in whole}
    assert looked_at >= pages
    assert lost == set()


def with_private(node: Any, model: type[Item]) -> Any:
    """Put a private line into an entry and into all entries below it."""
    if isinstance(node, list):
        return [with_private(one, model) for one in node]
    if not isinstance(node, dict):
        return node
    found = {"private": "Locker 12, ask the nurse", **node}
    for name, value in node.items():
        inside = entry_inside(model, name)
        if inside and holds_names(model, name):
            found[name] = {key: with_private(one, inside) for key, one in value.items()}
        elif inside:
            found[name] = with_private(value, inside)
    return found


def test_nothing_private_is_a_fact(tmp_path: Path) -> None:
    """In the rich folder of two bands each entry of each file bears a private line."""
    files = read_folder(CONTENT.parent / "tests" / "sites" / "two-bands" / "content")
    before = facts(load_plan(write_folder(tmp_path / "a", files)).plan)
    spread = 0
    for name in (one for one in files if one.endswith(".yaml")):
        data = with_private(yaml.load(files[name], Loader=yaml.BaseLoader), model_of(name))
        text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True)
        spread += text.count("nurse")
        files[name] = text.encode()
    assert spread >= 100
    after = facts(load_plan(write_folder(tmp_path / "b", files)).plan)
    assert after == before
    assert not any("nurse" in f"{one.key} {fact_words(one)}" for one in after)


def changed(folder: Path, file: str, old: str, new: str) -> list[str]:
    files = dict(base_files())
    assert old in files[file]
    before = facts(load_plan(write_folder(folder / "old", files)).plan)
    files[file] = files[file].replace(old, new, 1)
    after = facts(load_plan(write_folder(folder / "new", files)).plan)
    return [change_words(one) for one in without_parts(compare(before, after))]


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        (CONCERT, "7:00 pm", "7:30 pm", ["Winter concert: now Thu, Dec 10, 7:30 pm, before Thu, Dec 10, 7:00 pm"]),
        (CONCERT, "program:", "attire: [White shirt]\nprogram:", ["New: Winter concert, wear: White shirt"]),
        (MUSIC, "title: Tweed Kites", "title: Kites of Tweed", ["Winter concert, program: now Harbor Band (Kites of Tweed), then Lantern Band (Button Comets), before Harbor Band (Tweed Kites), then Lantern Band (Button Comets)", "Harbor Band, music: now Kites of Tweed, before Tweed Kites"]),
        (YEAR, "closures:", "closures:\n  - {name: Snow day, date: Sun 2026-12-06}", ["New: No school on Sun, Dec 6: Snow day"]),
    ],
)  # fmt: skip
def test_an_edit_is_told_in_a_sentence(
    file: str, old: str, new: str, told: list[str], tmp_path: Path
) -> None:
    assert changed(tmp_path, file, old, new) == told


def test_an_extra_rehearsal_stays_itself_when_class_that_day_is_lost(tmp_path: Path) -> None:
    files = dict(base_files())
    files[CYCLE] += "extra:\n  - {ensemble: lantern, date: 2026-12-07, start: 6 pm, end: 7 pm}\n"
    before = facts(load_plan(write_folder(tmp_path / "old", files)).plan)
    files[CYCLE] += "cancelled:\n  - {ensemble: lantern, date: 2026-12-07, why: Trip}\n"
    after = facts(load_plan(write_folder(tmp_path / "new", files)).plan)
    days = [
        change_words(one) for one in without_parts(compare(before, after)) if "rehearsal" in one.key
    ]
    assert days == ["No longer: Lantern Band, rehearsal on Mon, Dec 7: 10:05–10:50 am"]


def test_a_concert_is_told_to_all_groups_of_its_bands(tmp_path: Path) -> None:
    found = facts(load_plan(write_folder(tmp_path, with_groups())).plan)
    (when,) = (one for one in found if one.key == "winter/concert/concert")
    assert set(when.readers) == {"lantern-brass", "lantern-winds", "harbor"}


def test_the_command_tells_each_reader(tmp_path: Path) -> None:
    files = dict(base_files())
    old = write_folder(tmp_path / "old", files)
    files[YEAR] = files[YEAR].replace(
        "closures:", "closures:\n  - {name: Snow day, date: Mon 2026-12-07, told: 2026-12-07}"
    )
    new = write_folder(tmp_path / "new", files)
    result = CliRunner().invoke(command, [str(old), str(new)], standalone_mode=False)
    assert result.return_value == 0
    assert "For everyone\n  New: No school on Mon, Dec 7: Snow day\n" in result.output
    lost = "For Lantern Band\n  No longer: rehearsal on Mon, Dec 7: 10:05–10:50 am\n"
    assert lost in result.output
    assert "For Harbor Band" not in result.output
    told = CliRunner().invoke(command, [str(old), str(new), "--json"], standalone_mode=False)
    data = json.loads(told.output)
    assert data["format"] == 1
    assert data["changes"][0]["after"] == "Snow day"


def published(content: Path, *, undone: bool = False) -> Path:
    """Write the ledger of two publications, the second of the facts as they are, perhaps taken back."""
    instant = datetime(2026, 11, 21, 2, 30, tzinfo=UTC)
    numbers = (Publication(1, instant, "a" * 64), Publication(2, instant, "b" * 64, undone=undone))
    history = History(numbers, facts(load_plan(content).plan))
    ledger = content / ".published" / "ledger.json"
    ledger.parent.mkdir(exist_ok=True)
    ledger.write_bytes(encode(history))
    return content


def test_without_an_older_folder_it_is_the_last_publication(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The instant is November 20, 8:30 pm, where the bands are (Central Time, UTC-6)."""
    content = published(write_folder(tmp_path / "content", base_files()))
    monkeypatch.chdir(tmp_path)
    year = content / YEAR
    year.write_text(
        year.read_text().replace("closures:", "closures:\n  - {name: Fog, date: Sun 2026-12-06}")
    )
    told = (
        "Since publication 2, of Nov 20, 2026:\n\n"
        "For everyone\n  New: No school on Sun, Dec 6: Fog\n\n1 change. Nothing was written.\n"
    )
    for arguments in ([], ["content"]):  # the nearest folder is no other one
        result = CliRunner().invoke(command, arguments, standalone_mode=False)
        assert result.stdout == told
    data = json.loads(
        CliRunner().invoke(command, ["content", "--json"], standalone_mode=False).stdout
    )
    assert data["since"] == {"number": 2, "instant": "2026-11-21T02:30:00Z"}
    assert [one["after"] for one in data["changes"]] == ["Fog"]
    write_folder(tmp_path / "copy", base_files())
    result = CliRunner().invoke(command, ["content"], standalone_mode=False)
    assert result.stdout == told  # of several folders the one that is named is the one as it is
    result = CliRunner().invoke(command, ["copy", "content"], standalone_mode=False)
    assert result.stdout == told.partition("\n\n")[2]


def test_what_was_taken_back_is_no_publication_to_compare_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    content = published(write_folder(tmp_path, base_files()), undone=True)
    result = CliRunner().invoke(command, [str(content)], standalone_mode=False)
    assert result.stdout.startswith("Since publication 1, of ")


def test_nothing_was_published_yet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    content = str(write_folder(tmp_path, base_files()))
    result = CliRunner().invoke(command, [content], standalone_mode=False)
    assert result.return_value == 0
    assert result.stdout.startswith("Nothing has been published yet, so all of it would be new")
    data = json.loads(
        CliRunner().invoke(command, [content, "--json"], standalone_mode=False).stdout
    )
    assert data["since"] is None
    assert {one["kind"] for one in data["changes"]} == {"added"}


def test_a_ledger_that_cannot_be_read_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    content = write_folder(tmp_path, {**base_files(), ".published/ledger.json": "{"})
    result = CliRunner().invoke(command, [str(content)], standalone_mode=False)
    assert result.return_value == 1
    assert "damaged-ledger" in result.stderr


def test_the_command_says_that_nothing_changes(tmp_path: Path) -> None:
    old = write_folder(tmp_path / "old", base_files())
    result = CliRunner().invoke(command, [str(old), str(old)], standalone_mode=False)
    assert result.output == "Nothing changes for anyone.\n"


def test_a_folder_with_an_error_is_told(tmp_path: Path) -> None:
    files = base_files()
    old = write_folder(tmp_path / "old", files | {CONCERT: files[CONCERT].replace("hall", "hal")})
    new = write_folder(tmp_path / "new", files)
    result = CliRunner().invoke(command, [str(old), str(new)], standalone_mode=False)
    assert result.return_value == 1
    assert "unknown-venue" in result.stderr


def test_who_is_away_and_who_plays_what_are_facts(tmp_path: Path) -> None:
    files = {
        **base_files(),
        "events.yaml": "events:\n  - {id: fit, name: Fitting, date: Wed 2026-11-04, starts: 10 am, ends: 11 am, who: [lantern], players: [trumpet]}\n"
        "  - {id: forms, name: Forms, due: Fri 2026-11-06, bring: [The form]}\n"
        "  - {id: coats, name: Coats, due: Fri 2026-11-06, bring: [A coat], cancelled: Not needed}\n",
    }
    files["program.yaml"] = files["program.yaml"].replace(
        "trumpet: 7}", "trumpet: 7, snare-drum: 1}"
    )
    files[MUSIC] = files[MUSIC].replace(
        "    title: Button Comets\n",
        "    title: Button Comets\n    percussion: {1: [snare-drum]}\n",
    )
    told = {
        one.key: fact_words(one) for one in facts(load_plan(write_folder(tmp_path, files)).plan)
    }
    assert told["winter/lantern/rehearsal/2026-11-04/away/fit"] == (
        "Lantern Band, rehearsal on Wed, Nov 4, away: Trumpet: Fitting, 10:00–11:00 am"
    )
    assert told["winter/lantern/piece/button-comets/percussion-players"] == (
        "Button Comets, who plays what in percussion: 1 snare drum"
    )
    assert told["event/forms"] == "Forms: due Fri, Nov 6"
    assert told["event/forms/bring"] == "Forms, bring: The form"
    assert told["event/coats"] == "Coats: cancelled: Not needed"
    assert "event/coats/bring" not in told
