"""What a person is told when handbook itself fails."""

from __future__ import annotations

import platform
import tempfile
import traceback
from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from handbook.cli.version import own_version
from handbook.publishing.near import made_folder

LOG_NAME = "handbook-fault.log"


def fault_sentence(fault: BaseException, arguments: Sequence[str]) -> str:
    """Write the details to a file and say in one line where it is.

    The file goes into the current folder, but never into a site or a binder, else into the
    system's folder for temporary files; an older one is replaced. It is meant to be sent away, so it holds nothing of the
    content: where in the program it happened, and of the fault only its kind, since what a
    fault says may quote a line that is nobody else's business.
    """
    details = _details(fault, arguments)
    for find in (Path.cwd, _temporary):
        with suppress(OSError):
            folder = find()
            if made_folder(folder.resolve()):
                continue
            log = folder / LOG_NAME
            log.write_text(details, encoding="utf-8", errors="backslashreplace")
            return f"handbook: this is a mistake in handbook, not in your files: please report it with {log}"
    kind = type(fault).__name__
    return f"handbook: this is a mistake in handbook, not in your files: please report it ({kind})"


def _temporary() -> Path:
    return Path(tempfile.gettempdir())


def _details(fault: BaseException, arguments: Sequence[str]) -> str:
    lines = (
        f"handbook {own_version()}, Python {platform.python_version()}, {platform.platform()}",
        f"at {datetime.now(UTC):%Y-%m-%d %H:%M:%S} UTC, arguments {list(arguments)}",
        "",
        *map(_told, reversed(tuple(_chain(fault)))),
    )
    return "\n".join(lines).replace(str(Path.home()), "~")


def _chain(fault: BaseException | None) -> Iterator[BaseException]:
    """Give a fault, then what it came of."""
    while fault is not None:
        yield fault
        fault = fault.__cause__ or (None if fault.__suppress_context__ else fault.__context__)


def _told(fault: BaseException) -> str:
    kind = f"{type(fault).__module__}.{type(fault).__qualname__}"
    why = f": {fault.strerror}" if isinstance(fault, OSError) else ""
    return f"{''.join(traceback.format_tb(fault.__traceback__))}{kind}{why}\n"
