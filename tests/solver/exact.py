"""The season's laws and objective written anew for an exact solver (OR-tools CP-SAT).

Nothing of the planner is used: only the records that say what a season needs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import log1p

from ortools.sat.python import cp_model

from handbook.domain.season import Law, MusicBlock, MusicKind, SeasonNeed

_SCALE = 1000  # of the logarithms, which the solver takes as whole numbers
_SECONDS = 6.0


@dataclass(frozen=True)
class Exact:
    """What the solver found: visits lacking by law, the worth of its minutes, and its bound."""

    lacking: dict[Law, int]
    worth: float
    proved: bool


class Model:
    def __init__(self, need: SeasonNeed, stretches: Sequence[Counter[int]]) -> None:
        """`stretches` counts for each stage how often each join and run comes."""
        self.need, self.model = need, cp_model.CpModel()
        days, count = need.days, len(need.passages)
        new = self.model
        self.own = [[new.new_bool_var("") for _ in days] for _ in range(count)]
        self.minutes = [[new.new_int_var(0, day.minutes, "") for day in days] for _ in range(count)]
        self.play = [[new.new_bool_var("") for _ in days] for _ in need.stretches]
        self.visit = [[new.new_bool_var("") for _ in days] for _ in range(count)]
        for place, day in enumerate(days):
            self._day(place)
            for passage in range(count):
                holding = [
                    self.play[index][place]
                    for index, stretch in enumerate(need.stretches)
                    if passage in stretch.passages
                ]
                new.add_max_equality(
                    self.visit[passage][place], [self.own[passage][place], *holding]
                )
            if not day.minutes:
                for row in (*self.own, *self.play):
                    new.add(row[place] == 0)
        for stage, counts in enumerate(stretches):
            places = [place for place, day in enumerate(days) if day.stage == stage]
            for index in range(len(need.stretches)):
                new.add(sum(self.play[index][place] for place in places) == counts[index])
        self.lack: dict[Law, list[cp_model.IntVar]] = {law: [] for law in Law}
        for passage in range(count):
            self._laws(passage)
        self._gaps()

    def _day(self, place: int) -> None:
        need, new = self.need, self.model
        day = need.days[place]
        bound = day.longest * max(1, -(-day.minutes // (day.longest * len(need.passages))))
        for passage in range(len(need.passages)):
            own, minutes = self.own[passage][place], self.minutes[passage][place]
            new.add(minutes >= day.shortest * own)
            new.add(minutes <= bound * own)
        # what is too little for a block of its own goes to a join or a run of that day
        rest = new.new_int_var(0, day.shortest - 1, "")
        some = new.new_bool_var("")
        new.add_max_equality(some, [row[place] for row in self.play])
        new.add(rest == 0).only_enforce_if(some.negated())
        stretch_minutes = sum(
            stretch.minutes[day.stage] * self.play[index][place]
            for index, stretch in enumerate(need.stretches)
        )
        new.add(sum(row[place] for row in self.minutes) + stretch_minutes + rest == day.minutes)

    def _lack(self, law: Law, visits: Sequence[cp_model.IntVar], count: int) -> None:
        lack = self.model.new_int_var(0, count, "")
        self.model.add(lack >= count - sum(visits))
        self.lack[law].append(lack)

    def _laws(self, passage: int) -> None:
        need, row = self.need, self.visit[passage]
        item, days = need.passages[passage], need.days
        for stage in sorted({day.stage for day in days if day.minutes}):
            self._lack(
                Law.COVERAGE, [row[p] for p, day in enumerate(days) if day.stage == stage], 1
            )
        self._lack(Law.GOAL, row, item.visits + 1)
        self._lack(Law.GOAL, row[item.settled + 1 :], 1)
        self._lack(Law.SETTLED, row[: item.settled + 1], item.visits)
        opened = [p for p, day in enumerate(days) if day.minutes]
        last = [p for p in opened if days[p].stage == days[-1].stage]
        if last and last[0] <= item.settled:
            self._lack(Law.SETTLED, row[last[0] : item.settled + 1], 1)
        for first in range(len(opened) - need.window + 1):
            window = opened[first : first + need.window]
            self._lack(Law.RETURN, [row[p] for p in window], 1)

    def _gaps(self) -> None:
        need = self.need
        for stage in sorted({day.stage for day in need.days if day.minutes}):
            for gap in range(need.gaps):
                covering = [
                    self.play[index][place]
                    for index, stretch in enumerate(need.stretches)
                    for place, day in enumerate(need.days)
                    if gap in stretch.gaps and day.stage == stage
                ]
                self._lack(Law.COVERAGE, covering, 1)

    def _worth(self) -> cp_model.LinearExprT:
        need, new = self.need, self.model
        terms = []
        for passage, item in enumerate(need.passages):
            for stage in sorted({day.stage for day in need.days}):
                places = [p for p, day in enumerate(need.days) if day.stage == stage]
                most = sum(need.days[p].minutes for p in places)
                useful = new.new_int_var(0, most, "")
                new.add(
                    useful == sum(self.minutes[passage][p] - self.own[passage][p] for p in places)
                )
                value = new.new_int_var(0, round(_SCALE * log1p(most)) + 1, "")
                for minutes in range(most + 1):  # tangents of a concave function bound it above
                    low, high = log1p(minutes), log1p(minutes + 1)
                    slope = round(_SCALE * (high - low))
                    new.add(value <= round(_SCALE * low) + slope * (useful - minutes))
                terms.append(item.weight * value)
        return sum(terms)

    def solve(self) -> Exact:
        lacking: dict[Law, int] = {}
        for law in Law:
            total = sum(self.lack[law])
            self.model.minimize(total)
            solver = self._run()
            lacking[law] = round(solver.objective_value)
            self.model.add(total <= lacking[law])
        self.model.maximize(self._worth())
        solver = self._run()
        return Exact(lacking, solver.best_objective_bound / _SCALE, solver.proved)

    def _run(self) -> cp_model.CpSolver:
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = _SECONDS
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        status = solver.solve(self.model)
        assert status in {cp_model.OPTIMAL, cp_model.FEASIBLE}, solver.status_name(status)
        solver.proved = status == cp_model.OPTIMAL
        return solver


def placed(need: SeasonNeed, blocks: Sequence[Sequence[MusicBlock]]) -> list[Counter[int]]:
    """Count the joins and runs of each stage as they were placed."""
    counts: list[Counter[int]] = [Counter() for _ in range(1 + max(d.stage for d in need.days))]
    for day, row in zip(need.days, blocks, strict=True):
        for block in row:
            if block.kind is not MusicKind.PASSAGE:
                counts[day.stage][block.index] += 1
    return counts
