"""Laws of noise dose."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.noise import DBA, Exposure, allowed_minutes, dose_percent, twa
from handbook.domain.tables.noise_limits import NIOSH, OSHA, ExposureLimit

LIMITS = st.sampled_from([NIOSH, OSHA])
LEVELS = st.floats(80, 130)


@given(level=st.floats(73.4, 140))
def test_osha_average_of_eight_steady_hours_is_the_level(level: float) -> None:
    """29 CFR 1910.95 Appendix A; 16.61 against 16.6096 costs less than 0.01 dB."""
    average = twa(dose_percent([Exposure(DBA(level), 480)], OSHA), OSHA)
    assert average is not None
    assert average.value == pytest.approx(level, abs=0.01)


@given(level=st.floats(75.1, 94.9))
def test_niosh_average_of_eight_steady_hours_is_the_level(level: float) -> None:
    """NIOSH 98-126 prints 10 for 9.966: within 0.04 dB for doses of 10 to 1000 %."""
    average = twa(dose_percent([Exposure(DBA(level), 480)], NIOSH), NIOSH)
    assert average is not None
    assert average.value == pytest.approx(level, abs=0.04)


@given(limit=LIMITS, level=LEVELS)
def test_one_exchange_rate_up_halves_the_time(limit: ExposureLimit, level: float) -> None:
    up = allowed_minutes(DBA(level + float(limit.exchange)), limit)
    assert up == pytest.approx(allowed_minutes(DBA(level), limit) / 2)


@given(limit=LIMITS, level=LEVELS, first=st.floats(0, 600), second=st.floats(0, 600))
def test_a_day_may_be_cut_anywhere(
    limit: ExposureLimit, level: float, first: float, second: float
) -> None:
    cut = dose_percent([Exposure(DBA(level), first), Exposure(DBA(level), second)], limit)
    assert cut == pytest.approx(dose_percent([Exposure(DBA(level), first + second)], limit))


@given(limit=LIMITS, levels=st.tuples(LEVELS, LEVELS))
def test_louder_never_allows_longer(limit: ExposureLimit, levels: tuple[float, float]) -> None:
    quiet, loud = sorted(levels)
    assert allowed_minutes(DBA(loud), limit) <= allowed_minutes(DBA(quiet), limit)
