"""What a band practices at home, as a script that is read when a player asks for tonight's list.

A script, since a page opened from a folder may load nothing else. What it holds is turned into
evenings by `site_templates/assets/tonight.js`:

- `meets` are the days of rehearsals and concerts in order, each with the minutes of the evenings
  before it, and the places of what it `plays`, of the `exercises` that are on and of the stage;
- there is no evening on the days `off`; spans of `rest` are breaks from school;
- a passage is practiced before meets `from` a day on, `until` another; a week has its Monday, the
  percent that its target lacks of the goal, the target, and the steps that lead to it;
- `parts` has the place of each part's set among the `sets`: places of passages, and of exercises.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import groupby
from typing import Any

from handbook.domain.home_days import HomeDays, HomePassage, Meet, first_and_last
from handbook.domain.values.tempo import Tempo
from handbook.domain.week_targets import WeekTarget
from handbook.outputs import addresses
from handbook.outputs.components.weeks import measures
from handbook.outputs.i18n import pgettext
from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context
from handbook.plan.evenings import HomeSet, has_evenings, home_days, home_passages, home_sets
from handbook.plan.model import CyclePlan, EnsemblePlan, PassageRow, PieceRow

Data = dict[str, Any]
_USUAL_PRIORITY = 2


def evening_files(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> Iterator[OutputFile]:
    """Write the script of a band; none if nothing is said of minutes at home."""
    if has_evenings(ensemble):
        band, data = f"{cycle.id}/{ensemble.item.id}", _data(context, cycle, ensemble)
        script = f"handbookEvenings({_json(band)},{_json(data)});\n"
        yield OutputFile(addresses.evenings(cycle.id, ensemble.item.id), script.encode())


def _data(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Data:
    names = {
        one.item.id: context.say(one.item.name) for part in ensemble.parts for one in part.exercises
    }
    days = home_days(cycle, ensemble)
    data = days_data(days, tuple(names), home_sets(ensemble))
    rows = tuple(home_passages(ensemble))
    titles = tuple(dict.fromkeys(context.say(piece.item.title) for piece, _ in rows))
    for passage, row in zip(data["passages"], rows, strict=True):
        passage.update(_shown(context, *row, titles))
        passage["weeks"] = _with_targets(passage["weeks"], row[1].weeks)
    for exercise in data["exercises"]:
        exercise["name"] = names[exercise["id"]]
    stages = {row.rehearsal.day: row.stage.index for row in ensemble.rehearsals}
    stage = 0
    for meet in data["meets"]:
        stage = stages.get(date.fromisoformat(meet["day"]), stage)
        meet["stage"] = stage
    return data | {
        "pieces": titles,
        "stages": [context.say(one.item.name) for one in ensemble.stages],
    }


def days_data(days: HomeDays, exercises: Sequence[str], sets: Mapping[str, HomeSet]) -> Data:
    """Write all from which evenings follow; `exercises` are the ids of all, `sets` those of each part."""
    passages = {one.id: place for place, one in enumerate(days.passages)}
    places = {name: place for place, name in enumerate(exercises)}
    alike = list(dict.fromkeys(sets.values()))
    return {
        "meets": [_meet(one, passages, places) for one in days.meets],
        "off": sorted(day.isoformat() for day in days.off),
        "rest": [
            (first.isoformat(), last.isoformat())
            for first, last in first_and_last(sorted(days.resting))
        ],
        "passages": [_passage(one) for one in days.passages],
        "exercises": [{"id": name} for name in exercises],
        "sets": [
            (
                sorted(passages[name] for name in one.passages),
                [places[name] for name in one.exercises],
            )
            for one in alike
        ],
        "parts": {part: alike.index(one) for part, one in sets.items()},
    }


def _meet(meet: Meet, passages: Mapping[str, int], exercises: Mapping[str, int]) -> Data:
    return {
        "day": meet.day.isoformat(),
        "minutes": meet.minutes,
        "plays": sorted(passages[name] for name in meet.plays),
        "exercises": [exercises[name] for name in meet.exercises if name in exercises],
    }


def _passage(passage: HomePassage) -> Data:
    data: Data = {
        "id": passage.id,
        "weeks": [(day.isoformat(), lack) for day, lack in passage.lacks],
    }
    if passage.priority != _USUAL_PRIORITY:
        data["priority"] = passage.priority
    if passage.opens != date.min:
        data["from"] = passage.opens.isoformat()
    if passage.closes != date.max:
        data["until"] = passage.closes.isoformat()
    return data


def _shown(context: Context, piece: PieceRow, passage: PassageRow, titles: Sequence[str]) -> Data:
    item = passage.item
    return {
        "name": context.say(item.name),
        "piece": titles.index(context.say(piece.item.title)),
        "measures": measures(item.measures.first, item.measures.last),
        "goal": ("", pgettext("tempo", "free"), "")
        if item.goal.free
        else (
            item.goal.beat.symbol,
            pgettext("beat", f"{item.goal.beat.name} note"),
            item.goal.bpm_text,
        ),
    }


def _with_targets(weeks: Sequence[tuple[str, int]], targets: Sequence[WeekTarget]) -> list[Any]:
    """Put each week's target and its steps beside it; of weeks alike the first stands for all."""
    whole = [
        (monday, lack, _number(week.target), [_number(step) for step in week.steps])
        for (monday, lack), week in zip(weeks, targets, strict=True)
    ]
    return [next(same) for _, same in groupby(whole, key=lambda week: week[1:])]


def _number(tempo: Tempo) -> str:
    return "" if tempo.free else tempo.bpm_text


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
