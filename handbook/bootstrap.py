"""Sets up the virtual environment of a checkout, so that one command is enough on a new computer.

Standard library only. Old Pythons, down to 3.6, read this module too, to say which one is
needed: annotations that they do not know stand in quotes, and later modules are imported late.
"""

import hashlib
import os
import re
import shutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

OLDEST = (3, 11)
NEWER = (["python3.14"], ["python3.13"], ["python3.12"], ["python3.11"], ["py", "-3"], ["python3"])
CHECKOUT = Path(__file__).resolve().parents[1]
PINS = Path(".ci", "constraints.txt")
RECORD = "handbook-setup.txt"
COMPLETE, INCOMPLETE = 0, 3  # what this file exits with when .venv runs it


class SetupError(Exception):
    """What stands in the way, and what the person at the keyboard can do about it."""


class InstalledFor(NamedTuple):
    """What an environment was set up for, kept in it as one line each; empty while unfinished."""

    checkout: str = ""
    python: str = ""
    requirements: str = ""
    extra: str = ""


def enter(module: str, extra: str = "", checkout: Path = CHECKOUT) -> None:
    """Return if this interpreter has all that MODULE needs; otherwise run it in one that has.

    In a checkout that one is `.venv`, which is set up first. EXTRA names the optional
    requirements that are wanted too. An installed package is left alone.
    """
    try:
        if sys.version_info < OLDEST:
            hand_over([*newer_python(), "-m", module, *sys.argv[1:]])
        elif (checkout / PINS).is_file() and missing(checkout, extra):
            hand_over([str(prepare(checkout, extra)), "-m", module, *sys.argv[1:]])
    except SetupError as error:
        sys.exit(str(error))
    except KeyboardInterrupt:
        sys.exit(130)


def newer_python() -> "list[str]":
    """Find an interpreter that is new enough; a name on the path may be one that does not start."""
    test = f"import sys; sys.exit(sys.version_info < {OLDEST})"
    for name, *options in NEWER:
        found = shutil.which(name)
        if found and call([found, *options, "-c", test])[0] == 0:
            return [found, *options]
    raise SetupError(
        f"Python {_dotted(OLDEST)} or newer is needed, and this is Python {_dotted(sys.version_info)}: "
        "get one from python.org or from your system's packages."
    )


def missing(checkout: Path, extra: str) -> "list[str]":
    """Name what pyproject.toml requires and this interpreter does not have, in any version.

    Names of folders tell it: importlib.metadata takes a tenth of a second to say the same.
    """
    import tomllib  # noqa: PLC0415 - since Python 3.11

    folders = [Path(entry) for entry in sys.path if Path(entry).is_dir()]
    installed = {
        _normal(found.name.split("-")[0])
        for folder in folders
        for found in folder.iterdir()
        if found.suffix in {".dist-info", ".egg-info"}
    }
    project = tomllib.loads((checkout / "pyproject.toml").read_text("utf-8"))["project"]
    required = project["dependencies"] + project["optional-dependencies"].get(extra, [])
    names = [re.split(r"[^\w.-]", requirement)[0] for requirement in required]
    return [name for name in names if _normal(name) not in installed]


def prepare(checkout: Path, extra: str) -> Path:
    """Give the interpreter of `.venv`, with everything in it that is required.

    An environment that is broken, was left unfinished, has another Python or came here with a
    moved folder is made anew; one that only lacks something gets it.
    """
    folder = checkout / ".venv"
    python = interpreter(folder)
    check = [str(python), "-I", str(Path(__file__).resolve()), str(checkout), extra]
    code = call(check)[0] if (folder / "pyvenv.cfg").is_file() else None
    recorded = _recorded(folder)
    wanted = _wanted(checkout, extra)
    fault = _fault(folder, code, recorded, wanted)
    if fault is not None:
        _tell(f"Setting up .venv with Python {wanted.python}{fault} (a minute or two) ...")
        _make(folder)
        _install(folder, python, wanted, before=InstalledFor())
    elif code != COMPLETE or (recorded and recorded.requirements != wanted.requirements):
        _tell("Installing in .venv what is missing or has changed ...")
        wanted = wanted._replace(extra=extra or (recorded or wanted).extra)
        _install(folder, python, wanted, before=recorded)
    else:
        return python
    if call(check)[0] != COMPLETE:
        raise SetupError("All was installed, but .venv still lacks something: delete that folder.")
    return python


def interpreter(folder: Path) -> Path:
    """Tell where a virtual environment has its interpreter on this system."""
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _wanted(checkout: Path, extra: str) -> InstalledFor:
    texts = [(checkout / name).read_bytes() for name in ("pyproject.toml", PINS)]
    digest = hashlib.sha256(b"\0".join(texts)).hexdigest()
    return InstalledFor(str(checkout), _dotted(sys.version_info), digest, extra)


def _recorded(folder: Path) -> "InstalledFor | None":
    """Read what the environment was set up for: None if that was done by hand."""
    try:
        return InstalledFor(*(folder / RECORD).read_text("utf-8").split("\n"))
    except OSError:
        return None
    except TypeError:
        return InstalledFor()


def _fault(
    folder: Path, code: "int | None", recorded: "InstalledFor | None", wanted: InstalledFor
) -> "str | None":
    """Say why the environment must be made anew; None if it need not be."""
    if code is None:
        files = (path for path in folder.rglob("*") if path.is_file())
        if folder.is_symlink() or folder.is_file() or any(files):
            raise SetupError("Here is something named .venv that is not Python's: rename it.")
        return ""
    if code not in {COMPLETE, INCOMPLETE}:
        return " anew, as the one here does not work"
    if recorded == InstalledFor():
        return " anew, as the one here was left unfinished"
    if recorded and recorded.checkout != wanted.checkout:
        return " anew, as its folder was moved"
    if recorded and recorded.python != wanted.python:
        return f" anew, as the one here has Python {recorded.python}"
    return None


def _make(folder: Path) -> None:
    if not (find_spec("venv") and find_spec("ensurepip")):
        raise SetupError(
            "This Python cannot make virtual environments; on Debian and Ubuntu, "
            f"`sudo apt install python{_dotted(sys.version_info)}-venv` mends that."
        )
    code, output = call([sys.executable, "-I", "-m", "venv", "--clear", str(folder)])
    if code:
        raise SetupError(_last_lines(output) + "\nPython could not make .venv.")


def _install(
    folder: Path, python: Path, wanted: InstalledFor, before: "InstalledFor | None"
) -> None:
    """Install what is wanted; if that fails, the record is again what it was before."""
    extras = f"[{wanted.extra}]" if wanted.extra else ""
    pip = [str(python), "-I", "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    pins = ["--constraint", str(folder.parent / PINS)]
    record = folder / RECORD
    record.write_text("\n".join(InstalledFor()), "utf-8")
    code, output = call([*pip, *pins, "--editable", f"{folder.parent}{extras}"])
    if code == 0:
        record.write_text("\n".join(wanted), "utf-8")
        return
    if before is None:
        record.unlink()
    else:
        record.write_text("\n".join(before), "utf-8")
    raise SetupError(
        _last_lines(output)
        + "\nNot everything could be installed. Is this computer on the internet? Then try again."
    )


def call(command: "list[str]") -> "tuple[int, str]":
    """Give a command's exit code and all that it printed; 127 if it cannot be started."""
    try:
        done = subprocess.run(  # noqa: S603 - the commands of this module
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
            check=False,
        )
    except OSError as error:
        return 127, str(error)
    return done.returncode, done.stdout


def hand_over(command: "list[str]") -> None:
    """Let a command take the place of this process."""
    if os.name != "nt":
        os.execv(command[0], command)  # noqa: S606 - as above
    # Windows has no such thing: wait, and leave Ctrl+C to the command.
    with subprocess.Popen(command) as process:  # noqa: S603 - as above
        while process.poll() is None:
            try:
                process.wait()
            except KeyboardInterrupt:
                continue
    sys.exit(process.returncode)


def _last_lines(output: str) -> str:
    noise = ("WARNING", "[notice]")
    lines = [line for line in output.splitlines() if line.strip() and not line.startswith(noise)]
    return "\n".join(lines[-5:])


def _normal(name: str) -> str:
    """Spell a distribution's name so that it can be compared, as PEP 503 says."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _dotted(version: "tuple[object, ...]") -> str:
    return ".".join(str(number) for number in version[:2])


def _tell(text: str) -> None:
    sys.stderr.write(text + "\n")
    sys.stderr.flush()


if __name__ == "__main__" and missing(Path(sys.argv[1]), sys.argv[2]):
    sys.exit(INCOMPLETE if find_spec("pip") else "no pip")
