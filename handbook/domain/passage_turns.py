"""Which passages come in which rehearsal, and for how many minutes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from handbook.domain.apportion import largest_remainder, within_bounds

_FINE = 1000  # claims are whole thousandths of a minute, so that they are exact and quick


@dataclass(frozen=True, slots=True)
class MusicTime:
    """Whole minutes of music in one rehearsal, in how many blocks of which bounds."""

    minutes: int
    blocks: int
    shortest: int
    longest: int


def longest_absence(blocks: Sequence[int], passages: int) -> int:
    """Give W such that each passage comes at least once in any W rehearsals that have music.

    `blocks` counts the music blocks of those rehearsals. W is one more than the rehearsals it
    takes, wherever one begins, to play each passage once. Where the whole cycle has fewer
    blocks than passages it is more than the cycle has rehearsals.
    """
    for run in range(1, len(blocks) + 1):
        if all(
            sum(blocks[first : first + run]) >= passages for first in range(len(blocks) - run + 1)
        ):
            return run + 1
    return len(blocks) + 1


def passage_turns(
    times: Sequence[MusicTime], urgency: Sequence[Sequence[Fraction]]
) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Give each rehearsal its music blocks as (passage index, minutes), passages in order.

    `urgency` holds for each passage its weight in each rehearsal, above zero. Each
    passage earns a claim to minutes by its share of the urgency, and keeps what it has not
    been given (up to one rehearsal's music); the blocks go to the largest claims, a
    passage taking at most half of them. One that would else be absent from
    `longest_absence` rehearsals goes first, so none starves. Minutes are shared by the
    claims within the blocks' bounds.
    """
    claims = [0] * len(urgency)
    to_come = [time.blocks for time in times if time.blocks]
    window = longest_absence(to_come, len(urgency))
    deadlines = [window - 1] * len(urgency)  # rehearsals it may still be left out of
    turns: list[tuple[tuple[int, int], ...]] = []
    for place, time in enumerate(times):
        if not time.blocks:
            turns.append(())
            continue
        _earn(claims, [row[place] for row in urgency], time.minutes)
        del to_come[0]
        counts = _choose(claims, deadlines, time, to_come)
        minutes = _share(claims, counts, time)
        for passage, count in enumerate(counts):
            limit = time.minutes * _FINE
            claims[passage] = max(-limit, min(limit, claims[passage] - minutes[passage] * _FINE))
            deadlines[passage] = window - 1 if count else deadlines[passage] - 1
        turns.append(_blocks(counts, minutes))
    return tuple(turns)


def _earn(claims: list[int], urgency: Sequence[Fraction], minutes: int) -> None:
    unit = minutes * _FINE / sum(urgency)
    for passage, weight in enumerate(urgency):
        claims[passage] += round(weight * unit)


def _choose(
    claims: Sequence[int], deadlines: Sequence[int], time: MusicTime, to_come: Sequence[int]
) -> list[int]:
    """Count the blocks of each passage: by claim, as long as every deadline can still be met."""
    counts = [0] * len(claims)
    most = time.blocks if len(claims) == 1 else ceil(Fraction(time.blocks, 2))
    for slots_left in range(time.blocks, 0, -1):
        pressing = _pressing(counts, deadlines, slots_left, to_come)
        open_ = pressing or [passage for passage, count in enumerate(counts) if count < most]
        # what is left of the claim after its blocks so far, times the number of blocks
        claim = {
            passage: (
                claims[passage] * time.blocks - counts[passage] * time.minutes * _FINE,
                -counts[passage],
            )
            for passage in open_
        }
        counts[max(open_, key=claim.__getitem__)] += 1
    return counts


def _pressing(
    counts: Sequence[int], deadlines: Sequence[int], slots_left: int, to_come: Sequence[int]
) -> list[int]:
    """List the passages of which one must come now: those due by then fill every slot until then."""
    absent = [passage for passage, count in enumerate(counts) if not count]
    for ahead in sorted({deadlines[passage] for passage in absent}):
        if ahead > len(to_come):
            break  # due after the cycle's end
        due = [passage for passage in absent if deadlines[passage] <= ahead]
        if len(due) >= slots_left + sum(to_come[:ahead]):
            return due
    return []


def _share(claims: Sequence[int], counts: Sequence[int], time: MusicTime) -> tuple[int, ...]:
    """Share the minutes by claim, each passage within the bounds of its blocks."""
    weights = [max(0, claim) if count else 0 for claim, count in zip(claims, counts, strict=True)]
    if not any(weights):
        weights = list(counts)
    shortest = time.shortest if time.minutes >= time.shortest * time.blocks else 1
    bounds = [(count * shortest, count * time.longest) for count in counts]
    return within_bounds(time.minutes, weights, bounds)


def _blocks(counts: Sequence[int], minutes: Sequence[int]) -> tuple[tuple[int, int], ...]:
    return tuple(
        (passage, block)
        for passage, count in enumerate(counts)
        if count
        for block in largest_remainder(minutes[passage], [1] * count)
    )
