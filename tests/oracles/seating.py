"""A reset carried out on a set-up, to undo what was reckoned."""

from __future__ import annotations

from collections import Counter

from handbook.domain.seating import Reset, Setup, _setup


def applied(before: Setup, change: Reset) -> Setup:
    """Carry out a reset; ValueError where it strikes what is not there."""
    things = Counter(dict(before.counts))
    things.update(dict(change.add.counts))
    things.subtract(dict(change.strike.counts))
    if min(things.values(), default=0) < 0:
        raise ValueError("more to strike than stands there")
    return _setup(things)
