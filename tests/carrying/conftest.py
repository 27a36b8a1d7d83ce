"""Commands as they are typed, in a folder of their own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from handbook.cli import main


@dataclass(frozen=True)
class Typed:
    code: int
    out: str
    err: str


TypeIn = Callable[..., Typed]


@pytest.fixture
def type_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> TypeIn:
    """Run a command in an empty folder, without a terminal."""
    monkeypatch.chdir(tmp_path)

    def command(*arguments: object) -> Typed:
        with pytest.raises(SystemExit) as ended:
            main([str(argument) for argument in arguments])
        out, err = capfd.readouterr()
        assert isinstance(ended.value.code, int)
        return Typed(ended.value.code, out, err)

    return command


def all_files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
