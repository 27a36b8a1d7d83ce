"""What `check` passes, `build` builds: over contents with odd values that are allowed."""

from __future__ import annotations

import pytest

from tests.fuzz.trial import Verdict, trial
from tests.property.odd_contents import odd_content

LEAST_PASSED = 0.6  # of the contents, so that the property is about something


def verdicts(seeds: range) -> list[Verdict]:
    return [trial(odd_content(seed)) for seed in seeds]


def told(found: list[Verdict], seeds: range) -> dict[int, str]:
    return {seed: one.fault for seed, one in zip(seeds, found, strict=True) if one.fault}


def test_what_is_passed_is_built() -> None:
    seeds = range(30)
    found = verdicts(seeds)
    assert told(found, seeds) == {}
    assert sum(one.planned for one in found) >= LEAST_PASSED * len(found)


@pytest.mark.weekly
@pytest.mark.parametrize("first", range(0, 20_000, 500))
def test_what_is_passed_is_built_over_twenty_thousand(first: int) -> None:
    seeds = range(first, first + 500)
    found = verdicts(seeds)
    assert told(found, seeds) == {}
    assert sum(one.planned for one in found) >= LEAST_PASSED * len(found)
