"""Zone, web address and e-mail must be whole. Zones are those of the IANA time zone database.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import PROGRAM, Change, checked


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(PROGRAM, "America/Chicago", "Central")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `Central` | did you mean `America/Chicago`?"]),
        ([(PROGRAM, "America/Chicago", "US Eastern time")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `US Eastern time` | did you mean `America/New_York`?"]),
        ([(PROGRAM, "America/Chicago", "Chicago")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `Chicago` | did you mean `America/Chicago`?"]),
        ([(PROGRAM, "America/Chicago", "America/Chicgo")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `America/Chicgo` | did you mean `America/Chicago`?"]),
        ([(PROGRAM, "America/Chicago", "America/New York")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `America/New York` | did you mean `America/New_York`?"]),
        ([(PROGRAM, "America/Chicago", "CST6CDT")], []),
        # Names without an area are old links (tz database, file `backward`): the one with it is meant.
        ([(PROGRAM, "America/Chicago", "Jamica")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `Jamica` | did you mean `America/Jamaica`?"]),
        ([(PROGRAM, "America/Chicago", "Narnia")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `Narnia` | did you mean `America/New_York`, `America/Chicago` or `America/Los_Angeles`?"]),
        ([(PROGRAM, "America/Chicago", "UTC")], []),
        ([(PROGRAM, "rooms:", "address: bands.quillhaven.example\nrooms:")], ["program.yaml:15:10 unreadable-address: `bands.quillhaven.example` is no whole web address | write `https://bands.quillhaven.example`"]),
        ([(PROGRAM, "rooms:", "address: https://bands.quillhaven.example\nrooms:")], []),
        ([(PROGRAM, "rooms:", "address: https://x\nrooms:")], ["program.yaml:15:10 unreadable-address: `https://x` is no whole web address | write it from https:// on"]),
        ([(PROGRAM, "rooms:", "address: http:/bands.quillhaven.example/x\nrooms:")], ["program.yaml:15:10 unreadable-address: `http:/bands.quillhaven.example/x` is no whole web address | write `https://bands.quillhaven.example/x`"]),
        ([(PROGRAM, "  role: the band office", "  role: x\n  email: band at x")], ["program.yaml:6:10 unreadable-email: `band at x` is no e-mail address | write it with one @ and no spaces, such as band-office@school.example"]),
        ([(PROGRAM, "  role: the band office", "  role: x\n  email: band@x.example")], []),
        ([(PROGRAM, "  role: the band office", "  role: x\n  email: band@x")], ["program.yaml:6:10 unreadable-email: `band@x` is no e-mail address | write it with one @ and no spaces, such as band-office@school.example"]),
        ([(PROGRAM, "rooms:", "pages: [atendance]\nrooms:")], ["program.yaml:15:9 unknown-page: no file in pages/ is called `atendance` | did you mean `attendance`?"]),
        ([(PROGRAM, "rooms:", "pages: [attendance]\nrooms:")], []),
        ([(PROGRAM, "America/Chicago", "America")], ["program.yaml:3:12 unknown-time-zone: no time zone is called `America` | did you mean `America/New_York`, `America/Chicago` or `America/Los_Angeles`?"]),
    ],
)  # fmt: skip
def test_the_program_is_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told
