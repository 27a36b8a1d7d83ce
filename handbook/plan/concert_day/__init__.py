"""Concert day: the entries of a concert unpacked into the calculators, topic by topic."""

from handbook.plan.concert_day.day import concert_day
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.rain import rain_ground

__all__ = ["Ground", "concert_day", "rain_ground"]
