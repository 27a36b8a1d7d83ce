"""A rehearsal's minutes: what is done, in what order, for how long."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from handbook.domain.apportion import largest_remainder
from handbook.domain.rotation import SharedTime, StrandShare, strand_turns
from handbook.domain.season import MusicBlock
from handbook.records import dataclass

USUAL_LONGEST, USUAL_SHORTEST = 12, 3  # minutes of a block
_HOUR = 60


class BlockKind(StrEnum):
    """The parts of a rehearsal, in the order they come."""

    SET_UP = "set_up"
    WARM_UP = "warm_up"
    NOTICES = "notices"
    FUNDAMENTALS = "fundamentals"
    MUSIC = "music"
    SECTIONAL = "sectional"
    SIGHT_READING = "sight_reading"
    ASSEMBLY = "assembly"
    EVENT = "event"
    CLOSE = "close"


@dataclass(frozen=True, slots=True)
class FixedSlots:
    """Whole minutes of the parts that every rehearsal has."""

    set_up: int
    warm_up: int
    notices: int
    close: int


@dataclass(frozen=True, slots=True)
class Block:
    """Whole minutes on one thing; `start` counts from the rehearsal's start.

    `subject` is the id of the strand, `exercise` that of its exercise; `music` what a block
    of music plays.
    """

    kind: BlockKind
    start: int
    minutes: int
    subject: str | None = None
    exercise: str | None = None
    music: MusicBlock | None = None


@dataclass(frozen=True, slots=True)
class Agenda:
    """One rehearsal's blocks; they sum to its length exactly."""

    blocks: tuple[Block, ...]

    @property
    def changes(self) -> int:
        """How often the activity changes."""
        return max(0, len(self.blocks) - 1)

    @property
    def changes_an_hour(self) -> Fraction:
        """How often the activity changes in an hour at this pace, exactly; 0 if it has no minutes."""
        minutes = sum(block.minutes for block in self.blocks)
        return Fraction(_HOUR * self.changes, minutes) if minutes else Fraction(0)

    @property
    def longest(self) -> int:
        """Minutes of the longest block."""
        return max((block.minutes for block in self.blocks), default=0)


@dataclass(frozen=True, slots=True)
class RehearsalNeed:
    """What one rehearsal has to hold: whole minutes, and the weights of the two halves.

    `exactly` is the minutes of fundamentals that the director set for this rehearsal, in
    place of the weights; the day gives no more than it has.
    Raises ValueError unless 1 <= shortest_block <= longest_block and the weights are not
    negative and not both zero.
    """

    length: int
    slots: FixedSlots
    fundamentals: int
    music: int
    longest_block: int = USUAL_LONGEST
    shortest_block: int = USUAL_SHORTEST
    exactly: int | None = None

    def __post_init__(self) -> None:
        if not 1 <= self.shortest_block <= self.longest_block:
            raise ValueError(
                f"no block is between {self.shortest_block} and {self.longest_block} minutes"
            )
        if min(self.fundamentals, self.music) < 0 or self.fundamentals + self.music == 0:
            raise ValueError("fundamentals and music need a weight above zero between them")


class AgendaFault(StrEnum):
    """Why a rehearsal has no agenda."""

    TOO_SHORT = "too_short"  # not even set-up and close fit
    NOTHING_TO_REHEARSE = "nothing_to_rehearse"  # minutes left, but neither strand nor passage
    EXERCISES_AT_MOST = "exercises_at_most"  # minutes left, and no exercise may have more of them


class AgendaError(ValueError):
    """A rehearsal's minutes cannot be laid out; `rehearsal` is its place, from 0.

    `unfilled` counts the minutes that nothing may fill.
    """

    def __init__(self, kind: AgendaFault, rehearsal: int, unfilled: int = 0) -> None:
        super().__init__(f"{kind.value} at rehearsal {rehearsal}")
        self.kind = kind
        self.rehearsal = rehearsal
        self.unfilled = unfilled


@dataclass(frozen=True, slots=True)
class BeforeMusic:
    """One rehearsal's fixed slots and fundamentals (in order, starts still 0), and what is left for music."""

    slots: FixedSlots
    fundamentals: tuple[Block, ...]
    music: int


@dataclass(frozen=True, slots=True)
class _Division:
    slots: FixedSlots
    fundamentals: int
    music: int


def before_music(
    needs: Sequence[RehearsalNeed], strands: Sequence[StrandShare], *, has_music: bool
) -> tuple[BeforeMusic, ...]:
    """Lay out what every rehearsal of a cycle holds before its music, and the minutes left for that.

    Fixed slots come first, as the director wrote them; fundamentals and music share the
    rest by weight. On a day shorter than the cycle's usual length (the most frequent; of
    a tie the longer) music shrinks first, down to half of what the fixed slots leave
    (less if its own share is less), so that an early release still has some; then both
    shrink, then notices, then warm-up, never set-up or close. The fundamentals then
    take the minutes that their exercises state, as `strand_turns` says, and music the
    rest: slots, fundamentals and music sum to the rehearsal's length. Our own rules.

    Raises AgendaError.
    """
    divisions = _divisions(needs, has_strands=bool(strands), has_passages=has_music)
    days = strand_turns(
        strands,
        [
            SharedTime(
                division.fundamentals,
                division.music,
                need.shortest_block,
                need.longest_block,
                exact=need.exactly is not None,
            )
            for need, division in zip(needs, divisions, strict=True)
        ],
        has_music=has_music,
    )
    for place, day in enumerate(days):
        if day.unfilled:
            raise AgendaError(AgendaFault.EXERCISES_AT_MOST, place, day.unfilled)
    return tuple(
        BeforeMusic(
            division.slots,
            tuple(
                Block(BlockKind.FUNDAMENTALS, 0, turn.minutes, turn.strand, turn.exercise)
                for turn in day.turns
            ),
            day.music,
        )
        for division, day in zip(divisions, days, strict=True)
    )


def agenda(before: BeforeMusic, music: Sequence[Block], rest: BlockKind) -> Agenda:
    """Put a rehearsal's blocks in order between the fixed slots, and give each its start.

    In order: set-up, warm-up, notices, fundamentals, what `music` holds, close. Minutes that
    no music fills are one block of `rest` (a sectional, an assembly), or lengthen the last
    block where `rest` is music itself. The agenda sums to the rehearsal's length exactly.
    """
    slots, left = before.slots, before.music - sum(block.minutes for block in music)
    body = [*before.fundamentals, *music]
    if left and rest is not BlockKind.MUSIC:
        body.append(Block(rest, 0, left))
    elif left and body:
        body[-1] = replace(body[-1], minutes=body[-1].minutes + left)
    ordered = [
        Block(BlockKind.SET_UP, 0, slots.set_up),
        Block(BlockKind.WARM_UP, 0, slots.warm_up),
        Block(BlockKind.NOTICES, 0, slots.notices),
        *body,
        Block(BlockKind.CLOSE, 0, slots.close),
    ]
    start = 0
    placed: list[Block] = []
    for block in ordered:
        if block.minutes:
            placed.append(
                Block(block.kind, start, block.minutes, block.subject, block.exercise, block.music)
            )
            start += block.minutes
    return Agenda(tuple(placed))


def _divisions(
    needs: Sequence[RehearsalNeed], *, has_strands: bool, has_passages: bool
) -> list[_Division]:
    lengths = Counter(need.length for need in needs)
    usual = max(lengths, key=lambda length: (lengths[length], length), default=0)
    divisions: list[_Division] = []
    for place, need in enumerate(needs):
        slots = need.slots
        short = slots.set_up + slots.warm_up + slots.notices + slots.close - need.length
        if slots.set_up + slots.close > need.length:
            raise AgendaError(AgendaFault.TOO_SHORT, place)
        if short > 0:
            notices = max(0, slots.notices - short)
            warm_up = slots.warm_up - (short - (slots.notices - notices))
            slots = replace(slots, notices=notices, warm_up=warm_up)
        rest = max(0, -short)
        if rest and not has_strands and not has_passages:
            raise AgendaError(AgendaFault.NOTHING_TO_REHEARSE, place)
        if need.exactly is not None:
            fundamentals = min(rest, need.exactly) * has_strands
        elif has_strands and has_passages:
            fundamentals = _fundamentals_minutes(need, rest, usual)
        else:
            fundamentals = rest * has_strands
        divisions.append(_Division(slots, fundamentals, rest - fundamentals))
    return divisions


def _fundamentals_minutes(need: RehearsalNeed, rest: int, usual: int) -> int:
    """Share the minutes that the fixed slots leave; the answer is the part of fundamentals."""
    weights = (need.fundamentals, need.music)
    if need.length >= usual:
        fundamentals = largest_remainder(rest, weights)[0]
    else:
        missing = usual - need.length
        kept = min(rest // 2, largest_remainder(rest, weights)[1])
        fundamentals = min(rest - kept, largest_remainder(rest + missing, weights)[0])
    music, shortest = rest - fundamentals, need.shortest_block
    if 0 < music < shortest:  # on a short day lost to fundamentals, else made up to one block
        return rest - shortest if need.length >= usual and rest >= 2 * shortest else rest
    if music and 0 < fundamentals < shortest:
        return shortest if rest >= 2 * shortest else 0
    return fundamentals
