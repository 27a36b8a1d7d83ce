"""The season's laws and objective written anew for an exact solver (OR-tools CP-SAT).

Nothing of the planner is used: only the records that say what a season needs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import log1p

from ortools.sat.python import cp_model

from handbook.domain.season import Law, MusicBlock, MusicKind, SeasonNeed

_SCALE = 1000  # of the logarithms, which the solver takes as whole numbers
_EFFORT = 4.0  # in the solver's own measure, not in seconds, so that a busy machine proves as much
_LEXICOGRAPHIC = 1000  # more than the visits that any law can lack in a small season


@dataclass(frozen=True)
class Exact:
    """What the solver found: visits lacking by law, and the most that the minutes can be worth.

    `proved` tells whether both are optimal; else `worth` is a bound above the optimum.
    """

    lacking: dict[Law, int]
    worth: float
    proved: bool


class Model:
    """The laws of a small season; days that the director has ordered are left out."""

    def __init__(self, need: SeasonNeed, stretches: Sequence[Counter[int]] | None = None) -> None:
        """`stretches` counts for each stage how often each join and run comes; None leaves that open."""
        self.need, self.model = need, cp_model.CpModel()
        days, count = need.days, len(need.passages)
        new = self.model
        self.own = [[new.new_bool_var("") for _ in days] for _ in range(count)]
        self.minutes = [[new.new_int_var(0, day.minutes, "") for day in days] for _ in range(count)]
        self.play = [[new.new_bool_var("") for _ in days] for _ in need.stretches]
        self.visit = [[new.new_bool_var("") for _ in days] for _ in range(count)]
        self.lack: dict[Law, list[cp_model.IntVar]] = {law: [] for law in Law}
        for place in range(len(days)):
            self._day(place)
        if stretches is None:
            self._leave_open()
        for stage, counts in enumerate(stretches or ()):
            places = self._places(stage)
            for index, row in enumerate(self.play):
                new.add(sum(row[place] for place in places) == counts[index])
        for passage in range(count):
            self._laws(passage)
        self._gaps()

    def _leave_open(self) -> None:
        """No stretch is over the longest block, but for a run in the last stage."""
        last = self.need.days[-1].stage
        for stretch, row in zip(self.need.stretches, self.play, strict=True):
            for played, day in zip(row, self.need.days, strict=True):
                whole = stretch.kind is MusicKind.RUN and day.stage == last
                if stretch.minutes[day.stage] > day.longest and not whole:
                    self.model.add(played == 0)

    def _places(self, stage: int) -> list[int]:
        return [place for place, day in enumerate(self.need.days) if day.stage == stage]

    def _stages(self) -> list[int]:
        return sorted({day.stage for day in self.need.days if day.minutes})

    def _day(self, place: int) -> None:
        need, new = self.need, self.model
        day = need.days[place]
        bound = day.longest * max(1, -(-day.minutes // (day.longest * len(need.passages))))
        for passage, (own_row, row) in enumerate(zip(self.own, self.minutes, strict=True)):
            own, minutes = own_row[place], row[place]
            new.add(minutes >= day.shortest * own)
            new.add(minutes <= bound * own)
            holding = [
                self.play[index][place]
                for index, stretch in enumerate(need.stretches)
                if passage in stretch.passages
            ]
            new.add_max_equality(self.visit[passage][place], [own, *holding])
        if not day.minutes:
            for row in (*self.own, *self.play):
                new.add(row[place] == 0)
        # what is too little for a block of its own goes to a join or a run of that day
        rest = new.new_int_var(0, day.shortest - 1, "")
        for some in [new.new_bool_var("")] if need.stretches else []:
            new.add_max_equality(some, [row[place] for row in self.play])
            new.add(rest == 0).only_enforce_if(some.negated())
        if not need.stretches:
            new.add(rest == 0)
        stretch_minutes = sum(
            stretch.minutes[day.stage] * self.play[index][place]
            for index, stretch in enumerate(need.stretches)
        )
        new.add(sum(row[place] for row in self.minutes) + stretch_minutes + rest == day.minutes)

    def _lack(self, law: Law, visits: Iterable[cp_model.IntVar], count: int) -> None:
        lack = self.model.new_int_var(0, count, "")
        self.model.add(lack >= count - sum(visits))
        self.lack[law].append(lack)

    def _laws(self, passage: int) -> None:
        need, row = self.need, self.visit[passage]
        item, days = need.passages[passage], need.days
        for stage in self._stages():
            self._lack(Law.COVERAGE, [row[place] for place in self._places(stage)], 1)
        self._lack(Law.GOAL, row, item.visits + 1)
        self._lack(Law.GOAL, row[item.settled + 1 :], 1)
        self._lack(Law.SETTLED, row[: item.settled + 1], item.visits)
        opened = [place for place, day in enumerate(days) if day.minutes]
        last = [place for place in opened if days[place].stage == days[-1].stage]
        if last and last[0] <= item.settled:
            self._lack(Law.SETTLED, row[last[0] : item.settled + 1], 1)
        for first in range(len(opened) - need.window + 1):
            window = opened[first : first + need.window]
            self._lack(Law.RETURN, [row[place] for place in window], 1)

    def _gaps(self) -> None:
        need = self.need
        for stage in self._stages():
            for gap in range(need.gaps):
                covering = [
                    self.play[index][place]
                    for index, stretch in enumerate(need.stretches)
                    for place in self._places(stage)
                    if gap in stretch.gaps
                ]
                self._lack(Law.COVERAGE, covering, 1)

    def _worth(self) -> cp_model.LinearExprT:
        new = self.model
        terms = []
        for passage, item in enumerate(self.need.passages):
            for stage in self._stages():
                places = self._places(stage)
                most = sum(self.need.days[place].minutes for place in places)
                useful = new.new_int_var(0, most, "")
                new.add(
                    useful
                    == sum(
                        self.minutes[passage][place] - self.own[passage][place] for place in places
                    )
                )
                value = new.new_int_var(0, round(_SCALE * log1p(most)) + 1, "")
                for minutes in range(most + 1):  # tangents of a concave function bound it above
                    low, high = log1p(minutes), log1p(minutes + 1)
                    slope = round(_SCALE * (high - low))
                    new.add(value <= round(_SCALE * low) + slope * (useful - minutes))
                terms.append(item.weight * value)
        return sum(terms)

    def least_uncovered(self) -> int:
        """Find the least that COVERAGE lacks, whatever the other laws then lack."""
        self.model.minimize(sum(self.lack[Law.COVERAGE]))
        solver, proved = self._run()
        assert proved
        return sum(map(solver.value, self.lack[Law.COVERAGE]))

    def solve(self) -> Exact:
        """Find the least that the laws lack, the weightiest first, then the most worth of that."""
        total = sum(
            _LEXICOGRAPHIC ** (max(Law) - law) * lack for law in Law for lack in self.lack[law]
        )
        self.model.minimize(total)
        solver, proved = self._run()
        lacking = {law: sum(map(solver.value, self.lack[law])) for law in Law}
        for law in Law:
            self.model.add(sum(self.lack[law]) <= lacking[law])
        for law in Law:  # hold what was found, so that the second search begins with it
            for lack in self.lack[law]:
                self.model.add_hint(lack, solver.value(lack))
        self.model.maximize(self._worth())
        solver, best = self._run()
        return Exact(lacking, solver.best_objective_bound / _SCALE, proved and best)

    def _run(self) -> tuple[cp_model.CpSolver, bool]:
        solver = cp_model.CpSolver()
        solver.parameters.max_deterministic_time = _EFFORT
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        status = solver.solve(self.model)
        assert status in {cp_model.OPTIMAL, cp_model.FEASIBLE}, solver.status_name(status)
        return solver, status == cp_model.OPTIMAL


def placed(need: SeasonNeed, blocks: Sequence[Sequence[MusicBlock]]) -> list[Counter[int]]:
    """Count the joins and runs of each stage as they were placed."""
    counts: list[Counter[int]] = [Counter() for _ in range(1 + max(d.stage for d in need.days))]
    for day, row in zip(need.days, blocks, strict=True):
        for block in row:
            if block.kind is not MusicKind.PASSAGE:
                counts[day.stage][block.index] += 1
    return counts
