"""One command is enough: a missing or half-made environment is set up, a good one is left alone."""

from __future__ import annotations

import ast
import shutil
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from handbook import bootstrap
from handbook.bootstrap import InstalledFor, SetupError, enter, interpreter, missing, prepare

CHECKOUT = Path(__file__).resolve().parents[1]
PYTHON = f"{sys.version_info.major}.{sys.version_info.minor}"
OTHER = "3.99"
RUN_BEFORE_SETUP = (
    "handbook/__init__.py",
    "handbook/__main__.py",
    "handbook/bootstrap.py",
    "tests/__init__.py",
    "tests/__main__.py",
    "tests/chromium.py",
)
PIP_FAILS = """WARNING: Retrying (Retry(total=4)) after the connection was broken
ERROR: Could not find a version that satisfies the requirement mkdocs

[notice] A new release of pip is available
ERROR: No matching distribution found for mkdocs
"""


class Computer:
    """Answers the commands of a set-up as a computer would, and keeps what was done on it."""

    def __init__(self) -> None:
        self.done: list[str] = []
        self.pip: tuple[int, str] | None = (0, "WARNING: something to read")
        self.installs = True

    def call(self, command: list[str]) -> tuple[int, str]:
        folder = Path(command[0]).parents[1]
        if "venv" in command:
            folder = Path(command[-1])
            shutil.rmtree(folder, ignore_errors=True)
            interpreter(folder).parent.mkdir(parents=True)
            for path in (folder / "pyvenv.cfg", interpreter(folder), folder / "pip"):
                path.touch()
            self.done.append("venv")
            return 0, ""
        if not Path(command[0]).exists():
            return 127, "no such file"
        if "pip" in command:
            self.done.append(f"pip {command[-1].removeprefix(str(folder.parent))}".strip())
            if self.pip is None:
                raise KeyboardInterrupt
            if self.pip[0] == 0 and self.installs:
                (folder / ("dev" if command[-1].endswith("[dev]") else "plain")).touch()
            return self.pip
        if (folder / "dev").exists() or (command[-1] == "" and (folder / "plain").exists()):
            return bootstrap.COMPLETE, ""
        return (bootstrap.INCOMPLETE if (folder / "pip").exists() else 1), ""


@pytest.fixture
def computer(monkeypatch: pytest.MonkeyPatch) -> Computer:
    made = Computer()
    monkeypatch.setattr(bootstrap, "call", made.call)
    return made


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    folder = tmp_path / "a checkout"
    (folder / ".ci").mkdir(parents=True)
    (folder / ".ci" / "constraints.txt").write_text("mkdocs==1.6.1\n")
    (folder / "pyproject.toml").write_text(
        '[project]\ndependencies = ["no-such-thing>=1"]\n[project.optional-dependencies]\n'
    )
    return folder


def test_a_new_checkout_is_set_up_once(
    computer: Computer, checkout: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert prepare(checkout, "") == interpreter(checkout / ".venv")
    assert computer.done == ["venv", "pip"]
    said = capsys.readouterr()
    assert said.err == f"Setting up .venv with Python {PYTHON} (a minute or two) ...\n"
    assert said.out == ""
    assert prepare(checkout, "") == interpreter(checkout / ".venv")
    assert computer.done == ["venv", "pip"]
    assert capsys.readouterr().err == ""


def no_pip(checkout: Path) -> Path:
    for name in ("pip", "plain"):
        (checkout / ".venv" / name).unlink()
    return checkout


def no_interpreter(checkout: Path) -> Path:
    python = interpreter(checkout / ".venv")
    python.unlink()
    with suppress(OSError):  # where links are not for everyone
        python.symlink_to(checkout / "gone")
    return checkout


def unfinished(checkout: Path) -> Path:
    (checkout / ".venv" / bootstrap.RECORD).write_text("")
    return checkout


def other_python(checkout: Path) -> Path:
    record = checkout / ".venv" / bootstrap.RECORD
    record.write_text(record.read_text().replace(f"\n{PYTHON}\n", f"\n{OTHER}\n"))
    return checkout


def moved(checkout: Path) -> Path:
    return checkout.rename(checkout.with_name("moved"))


@pytest.mark.parametrize(
    ("harm", "reason"),
    [
        (no_pip, "the one here does not work"),
        (no_interpreter, "the one here does not work"),
        (unfinished, "the one here was left unfinished"),
        (other_python, f"the one here has Python {OTHER}"),
        (moved, "its folder was moved"),
    ],
)
def test_a_harmed_environment_is_made_anew(
    computer: Computer,
    checkout: Path,
    capsys: pytest.CaptureFixture[str],
    harm: Callable[[Path], Path],
    reason: str,
) -> None:
    prepare(checkout, "")
    computer.done.clear()
    capsys.readouterr()
    prepare(harm(checkout), "")
    assert computer.done == ["venv", "pip"]
    said = f"Setting up .venv with Python {PYTHON} anew, as {reason} (a minute or two) ...\n"
    assert capsys.readouterr().err == said


def test_an_interrupted_installation_is_done_anew(computer: Computer, checkout: Path) -> None:
    answer, computer.pip = computer.pip, None
    with pytest.raises(KeyboardInterrupt):
        prepare(checkout, "")
    (checkout / ".venv" / "plain").touch()  # all seems to be there
    computer.pip = answer
    prepare(checkout, "")
    assert computer.done == ["venv", "pip", "venv", "pip"]


def test_changed_pins_are_installed_into_what_is_there(computer: Computer, checkout: Path) -> None:
    prepare(checkout, "dev")
    (checkout / ".ci" / "constraints.txt").write_text("mkdocs==1.6.2\n")
    prepare(checkout, "")
    prepare(checkout, "dev")
    assert computer.done == ["venv", "pip [dev]", "pip [dev]"]


def test_the_tests_needs_come_on_top(computer: Computer, checkout: Path) -> None:
    prepare(checkout, "")
    prepare(checkout, "dev")
    prepare(checkout, "")
    assert computer.done == ["venv", "pip", "pip [dev]"]


def test_a_failed_installation_says_why_and_keeps_what_works(
    computer: Computer, checkout: Path
) -> None:
    prepare(checkout, "")
    record = (checkout / ".venv" / bootstrap.RECORD).read_text()
    pins = checkout / ".ci" / "constraints.txt"
    before = pins.read_text()
    pins.write_text("mkdocs==1.6.2\n")
    computer.pip = (1, PIP_FAILS)
    with pytest.raises(SetupError) as failed:
        prepare(checkout, "")
    assert str(failed.value).splitlines() == [
        "ERROR: Could not find a version that satisfies the requirement mkdocs",
        "ERROR: No matching distribution found for mkdocs",
        "Not everything could be installed. Is this computer on the internet? Then try again.",
    ]
    assert (checkout / ".venv" / bootstrap.RECORD).read_text() == record
    pins.write_text(before)
    prepare(checkout, "")
    assert computer.done == ["venv", "pip", "pip"]


def test_an_environment_made_by_hand_is_left_alone(computer: Computer, checkout: Path) -> None:
    folder = checkout / ".venv"
    interpreter(folder).parent.mkdir(parents=True)
    for path in (folder / "pyvenv.cfg", interpreter(folder), folder / "plain"):
        path.touch()
    prepare(checkout, "")
    assert computer.done == []


def test_what_is_no_environment_is_not_touched(computer: Computer, checkout: Path) -> None:
    note = checkout / ".venv" / "notes" / "mine.txt"
    note.parent.mkdir(parents=True)
    note.write_text("mine")
    with pytest.raises(SetupError, match="rename it"):
        prepare(checkout, "")
    assert computer.done == []
    assert note.read_text() == "mine"


def test_debian_without_venv_is_told_what_to_install(
    computer: Computer, checkout: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap, "find_spec", lambda name: None if name == "ensurepip" else name)
    with pytest.raises(SetupError, match=rf"`sudo apt install python{PYTHON}-venv`"):
        prepare(checkout, "")
    assert computer.done == []


def test_what_stays_absent_ends_in_words(computer: Computer, checkout: Path) -> None:
    computer.installs = False
    with pytest.raises(SetupError, match="still lacks something"):
        prepare(checkout, "")


@pytest.mark.parametrize(("found", "ends"), [(True, None), (False, "and this is Python 3.9: get")])
def test_an_old_python_hands_over_to_a_newer_one(
    monkeypatch: pytest.MonkeyPatch, found: bool, ends: str | None
) -> None:
    handed: list[list[str]] = []
    # python3.14 is a name without an interpreter, as a version manager leaves it behind.
    monkeypatch.setattr(shutil, "which", lambda name: f"/bin/{name}")
    answers = {"/bin/python3.12": 0} if found else {}
    monkeypatch.setattr(bootstrap, "call", lambda command: (answers.get(command[0], 127), ""))
    monkeypatch.setattr(bootstrap, "hand_over", handed.append)
    monkeypatch.setattr(sys, "version_info", (3, 9, 2, "final", 0))
    monkeypatch.setattr(sys, "argv", ["handbook", "build", "content"])
    if ends is None:
        enter("handbook")
        assert handed == [["/bin/python3.12", "-m", "handbook", "build", "content"]]
    else:
        with pytest.raises(SystemExit, match="Python 3.11 or newer is needed, " + ends):
            enter("handbook")


def test_an_incomplete_python_hands_over_to_the_environment(
    computer: Computer, checkout: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    handed: list[list[str]] = []
    monkeypatch.setattr(bootstrap, "hand_over", handed.append)
    monkeypatch.setattr(sys, "argv", ["tests", "--weekly"])
    enter("tests", "dev", checkout)
    python = str(interpreter(checkout / ".venv"))
    assert handed == [[python, "-m", "tests", "--weekly"]]


def test_an_interpreter_that_has_everything_just_runs(computer: Computer) -> None:
    enter("tests", "dev")
    assert computer.done == []


def test_an_installed_package_just_runs(computer: Computer, checkout: Path) -> None:
    shutil.rmtree(checkout / ".ci")
    enter("handbook", "", checkout)
    assert computer.done == []


def test_a_bad_end_is_words_and_an_exit_code(
    computer: Computer, checkout: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (checkout / ".venv").write_text("mine")
    with pytest.raises(SystemExit, match="rename it"):
        enter("handbook", "", checkout)
    (checkout / ".venv").unlink()
    computer.pip = None
    with pytest.raises(SystemExit) as ended:
        enter("handbook", "", checkout)
    assert ended.value.code == 130


def test_the_check_of_an_environment_tells_by_its_exit_code(checkout: Path) -> None:
    script = str(CHECKOUT / "handbook" / "bootstrap.py")
    assert missing(CHECKOUT, "dev") == []
    assert missing(checkout, "") == ["no-such-thing"]
    check = [sys.executable, "-I", script]
    assert bootstrap.call([*check, str(CHECKOUT), "dev"])[0] == bootstrap.COMPLETE
    assert bootstrap.call([*check, str(checkout), ""])[0] == bootstrap.INCOMPLETE
    assert bootstrap.call([str(checkout / "gone"), "-I", script])[0] == 127


def test_a_half_written_record_is_an_unfinished_one() -> None:
    assert (
        InstalledFor(*"\n".join(InstalledFor()).split("\n"))
        == InstalledFor(*[""])
        == InstalledFor()
    )


def test_the_command_takes_the_place_of_the_process(tmp_path: Path) -> None:
    code = "from handbook.bootstrap import hand_over; import sys\nhand_over([sys.executable, '-c', 'raise SystemExit(7)'])"
    done = subprocess.run([sys.executable, "-c", code], cwd=CHECKOUT, check=False)
    assert done.returncode == 7


@pytest.mark.parametrize("name", RUN_BEFORE_SETUP)
def test_an_old_python_can_read_what_runs_before_the_set_up(name: str) -> None:
    """Only syntax of Python 3.7 or older, only the standard library, no annotation to evaluate."""
    tree = ast.parse((CHECKOUT / name).read_text("utf-8"), feature_version=(3, 7))
    own = {"handbook", "tests"}
    top_level = [node for node in tree.body if isinstance(node, (ast.Import, ast.ImportFrom))]
    for node in top_level:
        names = (
            [node.module or ""]
            if isinstance(node, ast.ImportFrom)
            else [a.name for a in node.names]
        )
        assert {name.split(".")[0] for name in names} <= own | set(sys.stdlib_module_names)
        assert not set(names) & {
            "__future__",
            "tomllib",
            "importlib.metadata",
            "importlib.resources",
        }
    annotations = [
        part
        for node in ast.walk(tree)
        if isinstance(node, (ast.FunctionDef, ast.arg))
        if (part := node.returns if isinstance(node, ast.FunctionDef) else node.annotation)
    ]
    for annotation in annotations:
        assert isinstance(annotation, (ast.Name, ast.Constant)), ast.unparse(annotation)
