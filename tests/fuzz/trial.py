"""One spoilt folder through reading, checking, planning and rendering, within limits.

What escapes is told as a fault: an exception, more than two seconds of processor, more than
500 MB in the process, or a folder that the checks pass and that then makes no sound site.
"""

from __future__ import annotations

import resource
import signal
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from traceback import extract_tb
from types import FrameType

from handbook.engines.plain import PlainEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.pipeline import load_problems
from handbook.problems import Severity
from handbook.publishing.verify_files import file_findings
from handbook.report import report_github, report_json, report_text
from handbook.store import Store
from tests.fuzz.spoiling import Files

MOST_SECONDS = 2.0
MOST_BYTES = 500_000_000
_KILO = 1024  # of the system's unit of memory


_UNSEEN = "link-leads-nowhere"  # stops a build only where a page shows the text


class TooSlowError(Exception):
    """A trial took more processor time than it may."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What came of a trial: `planned` and `told` of a sound end, or the `fault` that escaped."""

    planned: bool = False
    told: int = 0
    fault: str = ""


def trial(files: Files) -> Verdict:
    """Try one folder; never raises but for an interrupt."""
    with tempfile.TemporaryDirectory(prefix="spoilt-") as name:
        folder = Path(name) / "content"
        _write(folder, files)
        try:
            with _limited():
                return _tried(folder)
        except Exception as fault:  # noqa: BLE001 - this is what is looked for
            place = extract_tb(fault.__traceback__)[-1]
            where = f"{Path(place.filename).name}:{place.lineno}"
            return Verdict(fault=f"{type(fault).__name__} at {where}: {str(fault)[:200]}")


def memory() -> int:
    """Give the most bytes this process has held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * _KILO


def _tried(folder: Path) -> Verdict:
    made = build(folder, Store(), PlainEngine, lambda site: site)
    outcome = load_problems(folder)
    for report in (report_text, report_json, report_github):
        report(outcome.problems, outcome.sources).encode()
    errors = {one.code for one in outcome.problems if one.severity is Severity.ERROR}
    if errors - {_UNSEEN} if isinstance(made, FinishedSite) else not errors:
        raise AssertionError("check and build do not agree whether the content is in order")
    if not isinstance(made, FinishedSite):
        return Verdict(told=len(outcome.problems))
    findings = file_findings(made.files)
    if findings:
        raise AssertionError(f"the checks pass what does not build: {findings[:3]}")
    return Verdict(planned=True, told=len(outcome.problems))


def _write(folder: Path, files: Files) -> None:
    for name, raw in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(raw)


@contextmanager
def _limited() -> Iterator[None]:
    """Stop after so much processor time; the handler stays, for a signal that is on its way."""
    signal.signal(signal.SIGPROF, _stop)
    signal.setitimer(signal.ITIMER_PROF, MOST_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)


def _stop(_signal: int, _frame: FrameType | None) -> None:
    raise TooSlowError(f"more than {MOST_SECONDS} seconds of processor")


__all__ = ["MOST_BYTES", "MOST_SECONDS", "Verdict", "memory", "trial"]
