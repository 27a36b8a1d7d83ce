"""Tonight's list, as the browser reckons it, is the one that Python plans."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from random import Random
from typing import Any

from playwright.sync_api import Browser

from handbook.domain.home_days import HomeDays, home_evenings
from handbook.outputs.evenings import days_data
from handbook.outputs.page import Context
from handbook.outputs.pages import part as part_pages
from handbook.plan.evenings import HomeSet, evenings_of, home_sets
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan
from tests.home_days import some_days, some_set, some_ticks
from tests.outputs.sheets.small_plan import evenings_on, made

SCRIPT = Path(__file__).resolve().parents[2] / "site_templates" / "assets" / "tonight.js"
CASES = 200


def planned(days: HomeDays, own: HomeSet, done: dict[Any, list[str]]) -> list[list[Any]]:
    return [
        [
            one.day.isoformat(),
            one.minutes,
            one.resting,
            days.meets[one.meet].day.isoformat(),
            [
                ["exercise" if row.exercise else "passage", row.id, row.minutes, row.next, row.left]
                for row in one.shares
            ],
        ]
        for one in home_evenings(days, own.passages, own.exercises, done)
    ]


def test_the_browser_plans_what_python_plans(browser: Browser) -> None:
    random = Random(11)
    cases = []
    for _ in range(CASES):
        days = some_days(random)
        own = some_set(random, days)
        done = some_ticks(random, own)
        data = days_data(days, tuple(f"e{n}" for n in range(5)), {"flute": own})
        ticks = {day.isoformat(): names for day, names in done.items()}
        cases.append((data, ticks, planned(days, own, done)))
    context = browser.new_context()
    page = context.new_page()
    page.add_script_tag(content=SCRIPT.read_text(encoding="utf-8"))
    found = page.evaluate(
        """(cases) => cases.map(([data, done]) => tonight.planned(data, "flute", done).map((one) =>
            [one.day, one.minutes, one.resting, one.meet.day,
             one.rows.map((row) => [row.kind, row.id, row.minutes, row.next, row.left])]))""",
        [case[:2] for case in cases],
    )
    context.close()
    for (_, _, expected), reckoned in zip(cases, found, strict=True):
        assert reckoned == expected
    rows = [row for _, _, evenings in cases for evening in evenings for row in evening[-1]]
    assert len(rows) > 50 * CASES  # so that the cases are of some use
    assert any(row[-1] for row in rows)


def evenings_on_paper(
    plan: Plan, cycle: CyclePlan, band: EnsemblePlan, part_id: str
) -> dict[str, list[str]]:
    """Give the minutes and the lines of each evening on the sheet of a part, by the day."""
    context = Context(plan, "en")
    with context.speaking():
        pages = list(part_pages.pages(context, cycle, band))
        (view,) = [
            one.view
            for one in pages
            if isinstance(one.view, part_pages.PartView) and one.view.instrument == part_id
        ]
        sheet = made(context, pages)[view.sheet]
    return {day: lines for _, day, *lines in evenings_on(sheet)}


def test_pages_opened_from_a_folder_are_told_what_to_practice(
    browser: Browser, demo: Path, demo_plan: Plan
) -> None:
    """They are told what the printed sheet says, too."""
    cycle = demo_plan.cycles[-1]
    band, part = cycle.ensembles[0], cycle.ensembles[0].parts[0]
    of = [cycle.id, band.item.id, part.id]
    page = browser.new_page()
    page.goto((demo / cycle.id / band.item.id / "part" / part.id / "index.html").as_uri())
    week, concert, nobody = page.evaluate(
        """async ([cycle, band, part]) => [await weekFor(cycle, band, part, "2026-11-18", {}),
            await tonightFor(cycle, band, part, "2026-12-17", {}),
            await tonightFor(cycle, band, "no-such-part", "2026-11-18", {})]""",
        of,
    )
    page.close()
    assert concert is None  # by the demo's calendar
    assert nobody is None
    first = date(2026, 11, 16)
    evenings = [
        one
        for one in evenings_of(cycle, band)[home_sets(band)[part.id]]
        if 0 <= (one.day - first).days < 7
    ]
    assert [one["day"] for one in week] == [one.day.isoformat() for one in evenings]
    passages = {
        f"{piece.item.id}/{row.item.id}": (piece, row)
        for piece in band.pieces
        for row in piece.passages
    }
    printed = evenings_on_paper(demo_plan, cycle, band, part.id)
    for told, evening in zip(week, evenings, strict=True):
        # "2 min Long tones", "4 min March: Trio mm. 1–8 ♩ 60, 63", with "…" for more than three steps.
        whole, *lines = printed[f"Nov {evening.day.day}"]
        assert whole == f"{told['minutes']} min"
        shown = [row for row in told["rows"] if row["kind"] == "passage"]
        for row, line in zip(shown, lines[-len(shown) :], strict=True):
            steps = row["steps"] if len(row["steps"]) < 4 else [f"{row['steps'][0]} … {row['steps'][-1]}"]  # fmt: skip
            assert line == (
                f"{row['minutes']} min {row['piece']}: {row['name']} {row['measures']} "
                f"{row['target']['sign']} {', '.join(steps)}"
            )
        (exercise,) = [row for row in told["rows"] if row["kind"] == "exercise"]
        assert lines[-len(shown) - 1].startswith(f"{exercise['minutes']} min {exercise['name']} ")
        assert [row["id"] for row in told["rows"]] == [share.id for share in evening.shares]
        for row in told["rows"]:
            assert row["href"].endswith(f"/part/{part.id}/index.html#{row['id'].replace('/', '-')}")
            if row["kind"] == "passage":
                piece, passage = passages[row["id"]]
                (target,) = [one.target for one in passage.weeks if one.monday == first]
                assert (row["name"], row["piece"]) == (
                    passage.item.name.read("en"),
                    piece.item.title.read("en"),
                )
                assert (row["target"]["bpm"], row["target"]["words"]) == (
                    target.bpm_text,
                    f"{target.beat.name} note",
                )
                assert row["goal"]["bpm"] == passage.item.goal.bpm_text
