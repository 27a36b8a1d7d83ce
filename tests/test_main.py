"""`python -m tests` runs every check in turn, and the README's two commands are what CI runs."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
import yaml

import tests.__main__ as run

CHECKOUT = Path(__file__).resolve().parents[1]
COMMANDS = ("-m handbook build content", "-m tests")


def python(code: str) -> list[str]:
    return [Path(sys.executable).stem, "-c", code]


@pytest.fixture
def called(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """The steps that were run, on a computer without a browser."""
    steps: list[list[str]] = []

    def call(command: list[str], **_options: object) -> int:
        steps.append([Path(command[0]).stem, *command[1:]])
        return 3 if steps[-1] == ["mypy", "fails"] else 0

    monkeypatch.setattr(subprocess, "call", call)
    monkeypatch.setattr(run, "READING", python("pass"))
    monkeypatch.setattr(run, "find_chromium", lambda: None)
    return steps


def test_the_steps_come_in_turn_and_more_arguments_go_to_pytest(
    called: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run.main(["--weekly"]) == 0
    assert [step[0] for step in called] == ["ruff", "ruff", "mypy", "lint-imports", "pytest"]
    assert called[-1][-1] == "--weekly"
    last = capsys.readouterr().out.splitlines()[-1]
    assert last == "Not run: the tests in a browser, for there is no Chromium or Chrome here."


def test_a_failure_ends_the_run_with_its_code(
    called: list[list[str]], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "STEPS", (["mypy", "fails"], ["pytest"]))
    assert run.main([]) == 3
    assert called == [["mypy", "fails"]]
    assert "Not run" not in capsys.readouterr().out


def test_with_a_browser_pytest_has_the_last_word(
    called: list[list[str]], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "find_chromium", lambda: "/usr/bin/chromium")
    assert run.main([]) == 0
    assert capsys.readouterr().out.splitlines()[-1].startswith("== pytest")


def test_all_tests_are_read_before_the_workers_read_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read, seen = tmp_path / "read", dict[str, bool]()

    def call(command: list[str], **_options: object) -> int:
        seen[Path(command[0]).stem] = read.exists()
        return 0

    monkeypatch.setattr(subprocess, "call", call)
    code = f"import pathlib, time; time.sleep(0.3); pathlib.Path({str(read)!r}).touch()"
    monkeypatch.setattr(run, "READING", python(code))
    assert run.main([]) == 0
    assert seen == {"ruff": False, "mypy": False, "lint-imports": False, "pytest": True}


def test_the_reading_reads() -> None:
    with run.beside([*run.READING, "tests/chromium.py"]) as reading:
        assert reading.wait() == pytest.ExitCode.NO_TESTS_COLLECTED


def test_what_ends_early_leaves_no_reader_behind() -> None:
    with run.beside(python("import time; time.sleep(20)")) as reading:
        pass
    assert reading.returncode != 0


def test_help_runs_nothing(called: list[list[str]], capsys: pytest.CaptureFixture[str]) -> None:
    assert run.main(["--help"]) == 0
    assert called == []
    assert "python -m tests" in capsys.readouterr().out


@pytest.mark.parametrize("command", COMMANDS)
def test_the_commands_of_the_readme_are_what_ci_runs(command: str) -> None:
    readme = (CHECKOUT / "README.md").read_text("utf-8").splitlines()
    assert {f"python3 {command}", f"py {command}"} <= set(readme)
    text = (CHECKOUT / ".github" / "workflows" / "tests.yml").read_text("utf-8")
    steps = yaml.safe_load(text)["jobs"]["tests"]["steps"]
    assert f"python {command}" in [step.get("run") for step in steps]


def test_ci_runs_the_readmes_tests_with_the_systems_python() -> None:
    last = (CHECKOUT / ".ci" / "run").read_text("utf-8").splitlines()[-1]
    assert last == 'exec /usr/bin/python3 -m tests "$@"'
