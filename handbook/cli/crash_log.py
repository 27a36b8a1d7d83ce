"""What a person is told when handbook itself fails."""

from __future__ import annotations

import platform
import tempfile
import traceback
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from handbook.cli.version import own_version

LOG_NAME = "handbook-fault.log"


def fault_sentence(fault: BaseException, arguments: Sequence[str]) -> str:
    """Write the details to a file and say in one line where it is.

    The file goes into the current folder, else into the system's folder for temporary
    files; an older one is replaced.
    """
    details = _details(fault, arguments)
    for folder in (Path.cwd(), Path(tempfile.gettempdir())):
        with suppress(OSError):
            log = folder / LOG_NAME
            log.write_text(details, encoding="utf-8", errors="backslashreplace")
            return f"handbook: this is a mistake in handbook, not in your files: please report it with {log}"
    return (
        f"handbook: this is a mistake in handbook, not in your files: please report it ({fault!r})"
    )


def _details(fault: BaseException, arguments: Sequence[str]) -> str:
    lines = (
        f"handbook {own_version()}, Python {platform.python_version()}, {platform.platform()}",
        f"at {datetime.now(UTC):%Y-%m-%d %H:%M:%S} UTC, arguments {list(arguments)}",
        "",
        "".join(traceback.format_exception(fault)),
    )
    return "\n".join(lines)
