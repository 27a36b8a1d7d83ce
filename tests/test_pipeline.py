"""The phases run in order, and stop where going on would only repeat one mistake."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from handbook import pipeline
from handbook.checks.links import Linked
from handbook.problems import Problem, Severity
from handbook.source.source_map import SourceMap

CONTENT = Path("content")


def problem(code: str, severity: Severity = Severity.ERROR) -> Problem:
    return Problem(code, "something is wrong", ("program.yaml",), severity=severity)


WARNING = problem("odd", Severity.WARNING)


@dataclass
class Phases:
    """Phases that do what a test says and remember that they ran."""

    loaded: tuple[Problem, ...] = ()
    references: tuple[Problem, ...] = ()
    links: tuple[Problem, ...] = ()
    planned: tuple[Problem, ...] = ()
    plan_checks: tuple[Problem, ...] = ()
    whole: bool = True
    readable: bool = True
    ran: list[str] = field(default_factory=list)

    def _without(self, handbook: Any, problems: Any, lost: Any = ()) -> None:
        assert (handbook, type(lost)) in {("a handbook", tuple), ("a handbook", set)}
        assert problems
        self.ran.append("leave out")

    def run(self, monkeypatch: pytest.MonkeyPatch, *, told: bool = False) -> pipeline.Outcome:
        monkeypatch.setattr(pipeline, "load", self._load)
        monkeypatch.setattr(pipeline, "build_plan", self._plan)
        monkeypatch.setattr(pipeline, "without_wrong", self._without)
        monkeypatch.setattr(
            pipeline, "REFERENCE_CHECKS", (self._check("references"), self._check("more"))
        )
        monkeypatch.setattr(pipeline, "made_for", lambda _: ("words/",))
        monkeypatch.setattr(pipeline, "LINK_CHECKS", (self._check("links"),))
        monkeypatch.setattr(pipeline, "PLAN_CHECKS", (self._check("plan_checks"),))
        return pipeline.load_problems(CONTENT) if told else pipeline.load_plan(CONTENT)

    def _load(self, folder: Path) -> Any:
        assert folder == CONTENT
        self.ran.append("load")
        return Made(
            handbook="a handbook" if self.whole else None,
            problems=self.loaded,
            sources=THE_SOURCES,
            readable="a handbook" if self.readable else None,
            drafts=(),
            broken_drafts=(),
            salvaged={},
        )

    def _plan(self, handbook: Any, *, mended: bool, for_players: bool) -> Any:
        assert handbook == "a handbook"
        assert mended != for_players
        self.ran.append("plan with mends" if mended else "plan")
        return Made(plan="a plan", problems=self.planned)

    def _check(self, name: str) -> Any:
        def check(subject: Any) -> tuple[Problem, ...]:
            if name == "links":
                assert subject == Linked(A_HANDBOOK, frozenset({"words/"}))
            else:
                assert subject == ("a plan" if name == "plan_checks" else "a handbook")
            self.ran.append(name)
            found: tuple[Problem, ...] = getattr(self, name, ())
            return found

        return check


A_PLAN: Any = "a plan"
A_HANDBOOK: Any = "a handbook"
THE_SOURCES = SourceMap()


class Made:
    def __init__(self, **fields: Any) -> None:
        self.__dict__.update(fields)


def test_clean_content_goes_through_every_phase(monkeypatch: pytest.MonkeyPatch) -> None:
    phases = Phases()
    outcome = phases.run(monkeypatch)
    assert phases.ran == ["load", "references", "more", "links", "plan", "plan_checks"]
    assert (outcome.problems, outcome.plan, outcome.sources) == ((), A_PLAN, THE_SOURCES)


def test_files_that_cannot_be_read_stop_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    phases = Phases(loaded=(problem("broken"), WARNING), whole=False, readable=False)
    outcome = phases.run(monkeypatch)
    assert phases.ran == ["load"]
    assert (outcome.problems, outcome.plan) == ((problem("broken"), WARNING), None)


def test_what_could_be_read_is_checked_even_if_another_file_is_broken(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    phases = Phases(loaded=(problem("broken"),), references=(problem("unknown-room"),), whole=False)
    outcome = phases.run(monkeypatch)
    assert phases.ran == ["load", "references", "more", "links", "leave out"]
    assert outcome.problems == (problem("broken"), problem("unknown-room"))
    assert outcome.plan is None


def test_all_reference_checks_run_and_an_error_of_any_stops_before_the_plan(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    phases = Phases(references=(problem("unknown-room"),))
    outcome = phases.run(monkeypatch)
    assert phases.ran == ["load", "references", "more", "links", "leave out"]
    assert (outcome.problems, outcome.plan) == ((problem("unknown-room"),), None)


def test_an_error_of_the_loader_stops_before_the_plan_even_if_all_could_be_read(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    phases = Phases(loaded=(problem("time-in-gap"),))
    outcome = phases.run(monkeypatch)
    assert phases.ran == ["load", "references", "more", "links", "leave out"]
    assert outcome.plan is None


def test_a_link_that_leads_nowhere_stops_before_the_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    phases = Phases(links=(problem("link-to-nowhere"),))
    outcome = phases.run(monkeypatch)
    assert phases.ran == ["load", "references", "more", "links", "leave out"]
    assert (outcome.problems, outcome.plan) == ((problem("link-to-nowhere"),), None)


def test_warnings_stop_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    phases = Phases(
        loaded=(WARNING,),
        references=(WARNING,),
        links=(WARNING,),
        planned=(WARNING,),
        plan_checks=(WARNING,),
    )
    outcome = phases.run(monkeypatch)
    assert outcome.problems == (WARNING,) * 5
    assert outcome.plan == A_PLAN


@pytest.mark.parametrize("phase", ["planned", "plan_checks"])
def test_a_plan_with_errors_is_not_handed_on(monkeypatch: pytest.MonkeyPatch, phase: str) -> None:
    phases = Phases()
    setattr(phases, phase, (problem("room-taken-twice"),))
    outcome = phases.run(monkeypatch)
    assert (outcome.problems, outcome.plan) == ((problem("room-taken-twice"),), None)
    assert phases.ran[-2:] == ["plan with mends", "plan_checks"], "hints for all that is told"


def test_what_is_only_told_has_mends_and_no_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    phases = Phases(plan_checks=(WARNING,))
    outcome = phases.run(monkeypatch, told=True)
    assert phases.ran == ["load", "references", "more", "links", "plan with mends", "plan_checks"]
    assert (outcome.problems, outcome.plan) == ((WARNING,), None)
