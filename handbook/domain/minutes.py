"""A rehearsal's minutes: what is done, in what order, for how long."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from handbook.domain.apportion import largest_remainder
from handbook.domain.blocks import block_count, in_turn
from handbook.domain.passage_turns import MusicTime, passage_turns
from handbook.domain.strand_turns import SharedTime, StrandShare, strand_turns

USUAL_LONGEST, USUAL_SHORTEST = 12, 3  # minutes of a block
MOST_URGENT = 3
# Added to every distance, so that a passage at its goal is still visited: our own choice.
_KEPT_ALIVE = Fraction(1, 10)


class BlockKind(StrEnum):
    """The parts of a rehearsal, in the order they come."""

    SET_UP = "set_up"
    WARM_UP = "warm_up"
    NOTICES = "notices"
    FUNDAMENTALS = "fundamentals"
    MUSIC = "music"
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

    `subject` is the id of the strand or passage, None for a fixed slot; `exercise` the id
    of the strand's exercise.
    """

    kind: BlockKind
    start: int
    minutes: int
    subject: str | None = None
    exercise: str | None = None


@dataclass(frozen=True, slots=True)
class Agenda:
    """One rehearsal's blocks; they sum to its length exactly."""

    blocks: tuple[Block, ...]

    @property
    def changes(self) -> int:
        """How often the activity changes."""
        return max(0, len(self.blocks) - 1)

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


@dataclass(frozen=True, slots=True)
class PassageShare:
    """A passage: `priority` 1 to 3 (the most urgent), and its distance from the goal.

    `distance` has one number a rehearsal, from 0 (at the goal) to 1. Raises ValueError
    outside these bounds.
    """

    id: str
    priority: int
    distance: tuple[Fraction, ...]

    def __post_init__(self) -> None:
        if not 1 <= self.priority <= MOST_URGENT or not all(
            0 <= part <= 1 for part in self.distance
        ):
            raise ValueError(f"the priority or the distance of {self.id} is out of bounds")


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


def agendas(
    needs: Sequence[RehearsalNeed], strands: Sequence[StrandShare], passages: Sequence[PassageShare]
) -> tuple[Agenda, ...]:
    """Lay out the minutes of one ensemble's cycle, one agenda a rehearsal.

    In order: set-up, warm-up, notices, fundamentals, music, close; each agenda sums to its
    rehearsal's length. What comes before music is laid out by `before_music`. Passages
    take turns by priority times distance from the goal (`passage_turns`). No block of
    music is over `longest_block`, and none under `shortest_block` unless the day forces
    it. Two blocks of one passage never follow each other, unless it has more than half of
    the blocks. Our own rules.

    Raises AgendaError, and ValueError when a passage's distances are not one a rehearsal.
    """
    if any(len(passage.distance) != len(needs) for passage in passages):
        raise ValueError("each passage needs one distance a rehearsal")
    befores = before_music(needs, strands, has_music=bool(passages))
    times = [
        MusicTime(
            before.music,
            block_count(before.music, len(passages), need.shortest_block, need.longest_block),
            need.shortest_block,
            need.longest_block,
        )
        for need, before in zip(needs, befores, strict=True)
    ]
    urgency = [
        [passage.priority * (part + _KEPT_ALIVE) for part in passage.distance]
        for passage in passages
    ]
    return tuple(
        _agenda(
            before,
            [
                Block(BlockKind.MUSIC, 0, minutes, passages[passage].id)
                for passage, minutes in music
            ],
        )
        for before, music in zip(befores, passage_turns(times, urgency), strict=True)
    )


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
        if not (has_strands and has_passages):
            fundamentals = rest * has_strands
        elif need.exactly is not None:
            fundamentals = min(rest, need.exactly)
        else:
            fundamentals = _fundamentals_minutes(need, rest, usual)
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


def _agenda(before: BeforeMusic, music: Sequence[Block]) -> Agenda:
    """Put the blocks in order between the fixed slots and give each its start."""
    slots = before.slots
    ordered = [
        Block(BlockKind.SET_UP, 0, slots.set_up),
        Block(BlockKind.WARM_UP, 0, slots.warm_up),
        Block(BlockKind.NOTICES, 0, slots.notices),
        *before.fundamentals,
        *in_turn(music, lambda block: block.subject),
        Block(BlockKind.CLOSE, 0, slots.close),
    ]
    start = 0
    placed: list[Block] = []
    for block in ordered:
        if block.minutes:
            placed.append(replace(block, start=start))
            start += block.minutes
    return Agenda(tuple(placed))
