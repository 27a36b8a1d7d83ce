"""Which name is surely meant, so that it may be written unasked."""

from __future__ import annotations

import pytest

from handbook.source.names import surely_meant

FIELDS = ("name", "measures", "goal", "start", "ensemble", "private", "period", "periods")


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        # One letter other, less, more, and two changed about: the four slips of Damerau,
        # "A technique for computer detection and correction of spelling errors" (1964).
        ("gosl", "goal"),
        ("gol", None),  # three letters are never enough
        ("ensmble", "ensemble"),
        ("ensemblee", "ensemble"),
        ("gaol", "goal"),
        ("measrues", "measures"),
        ("Goal", "goal"),
        ("meas-ures", "measures"),
        ("perid", "period"),  # periods is two slips away
        ("periodd", None),  # period and periods are one slip away
        ("meisuers", None),  # two slips
        ("trumpet", None),
    ],
)
def test_one_slip_is_sure_and_no_more(written: str, meant: str | None) -> None:
    assert surely_meant(written, FIELDS) == meant


def test_a_number_is_never_a_slip() -> None:
    assert surely_meant("winter-2027", ["winter-2026"]) is None
    assert surely_meant("winter2026", ["winter-2026"]) == "winter-2026"
