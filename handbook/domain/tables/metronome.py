"""The traditional metronome scale.

Unit: beats a minute. Source: the 39 settings printed on weight-and-pendulum metronomes, in
steps of 2 from 40 to 60, 3 to 72, 4 to 120, 6 to 144, 8 to 208; the same in several
printed lists (one leaves out 56).
"""

from __future__ import annotations

# fmt: off
TRADITIONAL_MARKS: tuple[int, ...] = (
    40, 42, 44, 46, 48, 50, 52, 54, 56, 58,
    60, 63, 66, 69,
    72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116,
    120, 126, 132, 138,
    144, 152, 160, 168, 176, 184, 192, 200, 208,
)
# fmt: on
