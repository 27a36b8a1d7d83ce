"""What would come of a what-if, as values for JSON.

The document, `"format": 1`; fields are added, never renamed:

- `asked` and `notes` are sentences, `first` is the first day that is touched, `lines` the lines of
  content that would do it, each with its `file`, what to do (`add`, `set` or `take out`) and
  the place `under` which it stands, by keys and ids;
- `changes` are those of `handbook compare`, `problems` what `handbook check` would say anew;
- of each ensemble whose season changes there is what it is `before` and `after`: rehearsals, in
  each stage, and there from the first day on (`left`), and of each passage the rehearsals that
  play it, minutes on it alone, the largest step from one to the next in marks and in percent,
  the most that home practice rises in a week, and rehearsals at the goal; `gives_way` are laws
  kept before and no longer, `mends` changes that are enough each by itself, with their lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

from handbook.cli.change_lines import change_values
from handbook.domain.facts import FactChange
from handbook.plan.climbs import Climb, PassageClimbs, SeasonChange, left_by_stage
from handbook.plan.content_lines import Lines
from handbook.plan.what_if import Asked
from handbook.plan.what_if_mends import ReckonedMend

FORMAT = 1
_PLACES = 3

Json = dict[str, Any]


def what_if_values(
    asked: Asked,
    changes: Sequence[FactChange],
    problems: Sequence[str],
    seasons: Iterable[tuple[SeasonChange, Sequence[ReckonedMend]]],
) -> Json:
    """Give the whole document."""
    return {
        "format": FORMAT,
        "asked": list(asked.sentences),
        "notes": list(asked.notes),
        "first": asked.first.isoformat(),
        "lines": _lines(asked.altered.lines),
        "changes": change_values(changes),
        "problems": list(problems),
        "seasons": [_season(change, mends, asked.first) for change, mends in seasons],
    }


def _season(change: SeasonChange, mends: Sequence[ReckonedMend], first: date) -> Json:
    left = [left_by_stage(one, first) for one in (change.before, change.after)]
    sides = [len(one.rehearsals) if one else 0 for one in (change.before, change.after)]
    return {
        "cycle": change.cycle,
        "ensemble": change.plan.item.id,
        "rehearsals": {"before": sides[0], "after": sides[1]},
        "stages": [
            {
                "id": one.id,
                "before": one.before,
                "after": one.after,
                "left": {"before": left[0][one.id], "after": left[1][one.id]},
            }
            for one in change.stages
        ],
        "passages": [_passage(one) for one in change.passages],
        "gives_way": [
            {
                "law": one.law.name.lower(),
                "piece": one.piece.id if one.piece else None,
                "passage": one.passage.id if one.passage else None,
                "sentence": one.sentence,
            }
            for one in change.gave_way
        ],
        "mends": [
            {
                "kind": mend.kind,
                "sentence": mend.sentence,
                "lines": _lines(mend.altered.lines),
                "problems": list(mend.problems),
                "at_goal": [
                    {"piece": key[0], "passage": key[1], "first": day.isoformat() if day else None}
                    for key, day in mend.settled.items()
                ],
            }
            for mend in mends
        ],
    }


def _passage(one: PassageClimbs) -> Json:
    return {
        "piece": one.piece,
        "passage": one.passage,
        "before": _climb(one.before),
        "after": _climb(one.after),
    }


def _climb(climb: Climb | None) -> Json | None:
    if climb is None:
        return None
    return {
        "rehearsals": climb.visits,
        "minutes_alone": climb.minutes,
        "largest_step": {"marks": climb.marks, "percent": _percent(climb.percent)},
        "steepest_week_percent": _percent(climb.week_percent),
        "at_goal": climb.at_goal,
        "first_at_goal": climb.settled.isoformat() if climb.settled else None,
        "last": {"beat": climb.last.beat.name, "bpm": climb.last.bpm_text} if climb.last else None,
    }


def _lines(found: Sequence[Lines]) -> list[Json]:
    return [
        {
            "file": one.file,
            "do": one.kind.value,
            "under": list(one.under),
            "lines": list(one.lines),
        }
        for one in found
    ]


def _percent(share: Fraction) -> float:
    return round(float(share), _PLACES)
