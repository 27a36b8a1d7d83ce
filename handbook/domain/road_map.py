"""The order in which the parts of a form are played: repeats, endings, D.C., D.S., Fine, coda."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from enum import StrEnum

from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass

_MOST_TIMES = 20
_PART = re.compile(r"(?P<part>[a-z0-9]+(?:-[a-z0-9]+)*)(?:\s+[xX×]\s*(?P<times>\d{1,3}))?")
_REPEAT = "repeat "
_TIMES_FIRST = re.compile(r"(?P<times>\d{1,2})\s*[xX×]\s*(?P<part>[a-z0-9-]+)")


class Sign(StrEnum):
    """A sign that a part bears: it begins at the segno or at the coda, or ends at Fine."""

    SEGNO = "segno"
    CODA = "coda"
    FINE = "fine"


class Jump(StrEnum):
    """Words at which the players go on elsewhere, or end; what they mean is common practice, no source."""

    DA_CAPO = "D.C."
    DA_CAPO_AL_FINE = "D.C. al Fine"
    DA_CAPO_AL_CODA = "D.C. al Coda"
    DAL_SEGNO = "D.S."
    DAL_SEGNO_AL_FINE = "D.S. al Fine"
    DAL_SEGNO_AL_CODA = "D.S. al Coda"
    TO_CODA = "To Coda"
    FINE = "Fine"

    @property
    def to_start(self) -> bool:
        """Whether it leads back to the first part."""
        return self.value.startswith("D.C.")

    @property
    def to_segno(self) -> bool:
        """Whether it leads back to the segno."""
        return self.value.startswith("D.S.")

    @property
    def al_coda(self) -> bool:
        """Whether the coda follows after it."""
        return self.value.endswith("al Coda")

    @property
    def al_fine(self) -> bool:
        """Whether the piece ends at Fine after it."""
        return self.value.endswith("al Fine")


_WORDS = {"da capo": "dc", "dal segno": "ds", "d c": "dc", "d s": "ds"}
_JUMPS = {jump.value.lower().replace(".", ""): jump for jump in Jump}


@dataclass(frozen=True, slots=True)
class OrderStep:
    """An entry of an order: a part by its id with the times it is played in a row, or a jump."""

    part: str | None = None
    times: int = 1
    jump: Jump | None = None

    def __str__(self) -> str:
        return self.jump or f"{self.part}{f' x{self.times}' if self.times > 1 else ''}"


def parse_order_step(text: str) -> OrderStep:
    """Read `verse`, `verse x2` or `D.S. al Coda`, in any letter case and with or without its dots.

    Raises UnreadableError for other text, and for more than 20 times in a row.
    """
    plain = " ".join(text.split())
    jump = _jump(plain)
    if jump:
        return OrderStep(jump=jump)
    found = _PART.fullmatch(plain)
    if not found:
        turned = _TIMES_FIRST.fullmatch(plain)
        repeated = plain.lower().startswith(_REPEAT)
        name = re.sub(r"[^a-z0-9]+", "-", plain.lower().removeprefix(_REPEAT)).strip("-")
        meant = (f"{name} x2" if repeated else name,) * bool(name)
        meant = (f"{turned['part']} x{turned['times']}",) if turned else meant
        raise UnreadableError(
            f"`{plain}` is neither a part, such as `verse` or `verse x2`, nor words such as `D.S. al Coda`",
            meant,
        )
    times = int(found["times"] or 1)
    if not 1 <= times <= _MOST_TIMES:
        raise UnreadableError(f"{times} times in a row is outside 1 to {_MOST_TIMES}")
    return OrderStep(found["part"], times)


def _jump(plain: str) -> Jump | None:
    if plain == "fine":  # a part may have that id
        return None
    words = " ".join(plain.lower().replace(".", " ").split())
    for long, short in _WORDS.items():
        words = re.sub(rf"^{long}\b", short, words)
    return _JUMPS.get(words)


def times_played(steps: Sequence[OrderStep]) -> Counter[str]:
    """Count how often each part is played."""
    counts: Counter[str] = Counter()
    for step in steps:
        if step.part is not None:
            counts[step.part] += step.times
    return counts


class LegKind(StrEnum):
    """How the players come to a leg of the road."""

    BEGIN = "begin"
    BACK = "back"
    AHEAD = "ahead"
    TO_START = "to start"
    TO_SEGNO = "to segno"
    TO_CODA = "to coda"


@dataclass(frozen=True, slots=True)
class Leg:
    """Parts that are played one after another as they are printed: each with its times in a row.

    `parts` are places in the form; `words` is the jump that leads here, or None.
    """

    kind: LegKind
    parts: tuple[tuple[int, int], ...]
    measures: MeasureSpan
    words: Jump | None = None


def road_map(
    form: Sequence[tuple[str | None, MeasureSpan, Sequence[Sign]]], steps: Sequence[OrderStep]
) -> tuple[Leg, ...]:
    """Lay out an order as legs, each of which is printed without a break.

    `form` has each part's id, measures and signs. Parts that the form does not have are
    passed over.
    """
    places = {name: place for place, (name, _, _) in enumerate(form) if name}
    found: list[tuple[LegKind, list[tuple[int, int]], Jump | None]] = []
    last: MeasureSpan | None = None
    jump: Jump | None = None
    for step in steps:
        if step.jump:
            jump = step.jump
            continue
        place = places.get(step.part or "")
        if place is None:
            continue
        _, span, signs = form[place]
        if last is None or jump or span.first != last.last + 1:
            found.append((_turn(last, span, signs, jump), [], jump))
        found[-1][1].append((place, step.times))
        last, jump = span, None
    return tuple(
        Leg(
            turn,
            tuple(parts),
            MeasureSpan(form[parts[0][0]][1].first, form[parts[-1][0]][1].last),
            words,
        )
        for turn, parts, words in found
    )


def _turn(
    last: MeasureSpan | None, span: MeasureSpan, signs: Sequence[Sign], jump: Jump | None
) -> LegKind:
    if last is None:
        return LegKind.BEGIN
    if jump and jump.to_start:
        return LegKind.TO_START
    if jump and jump.to_segno:
        return LegKind.TO_SEGNO
    if Sign.CODA in signs and span.first > last.last:
        return LegKind.TO_CODA
    return LegKind.AHEAD if span.first > last.last else LegKind.BACK


class RouteFault(StrEnum):
    """What a jump is not followed by."""

    NOT_FIRST = "not first"
    NO_SEGNO = "no segno"
    NOT_SEGNO = "not segno"
    NO_CODA = "no coda"
    NOT_CODA = "not coda"
    NO_AL_CODA = "no al coda"
    FINE_EARLY = "fine early"
    NOT_AT_FINE = "not at fine"
    NOTHING = "nothing"


def signs_by_part(
    parts: Sequence[tuple[str | None, Sequence[Sign]]],
) -> dict[str, tuple[Sign, ...]]:
    """Give the signs of each part that has an id; a part called coda is the coda if none has the sign."""
    signs = {name: tuple(own) for name, own in parts if name}
    if "coda" in signs and not any(Sign.CODA in own for own in signs.values()):
        signs["coda"] = (*signs["coda"], Sign.CODA)
    return signs


def route_faults(
    signs: Mapping[str, Sequence[Sign]], steps: Sequence[OrderStep]
) -> list[tuple[int, RouteFault]]:
    """List the places in an order at which its words and what follows disagree.

    `signs` are those of each part, by its id.
    """
    found = []
    for place, step in enumerate(steps):
        if step.jump is None:
            continue
        if step.jump is Jump.FINE:
            fault = _fault_of_fine(place, signs, steps)
        else:
            fault = _fault_of_jump(step.jump, place, signs, steps)
        if fault:
            found.append((place, fault))
    return found


def _with(sign: Sign, signs: Mapping[str, Sequence[Sign]]) -> str | None:
    return next((part for part, own in signs.items() if sign in own), None)


def _last_part(steps: Sequence[OrderStep]) -> str | None:
    return next((step.part for step in reversed(steps) if step.part), None)


def _fault_of_fine(
    place: int, signs: Mapping[str, Sequence[Sign]], steps: Sequence[OrderStep]
) -> RouteFault | None:
    if place < len(steps) - 1:
        return RouteFault.FINE_EARLY
    fine = _with(Sign.FINE, signs)
    return RouteFault.NOT_AT_FINE if fine and _last_part(steps) != fine else None


def _fault_of_jump(
    jump: Jump, place: int, signs: Mapping[str, Sequence[Sign]], steps: Sequence[OrderStep]
) -> RouteFault | None:
    later = [step.part for step in steps[place + 1 :] if step.part]
    if not later or steps[place + 1].part is None:
        return RouteFault.NOTHING
    segno, coda, fine = (_with(sign, signs) for sign in (Sign.SEGNO, Sign.CODA, Sign.FINE))
    first = next(step.part for step in steps if step.part)
    told_before = any(one.jump and one.jump.al_coda for one in steps[:place])
    wrong = (
        (jump.to_start and later[0] != first, RouteFault.NOT_FIRST),
        (jump.to_segno and segno is None, RouteFault.NO_SEGNO),
        (jump.to_segno and later[0] != segno, RouteFault.NOT_SEGNO),
        (jump.al_coda and coda is None, RouteFault.NO_CODA),
        (jump.al_coda and coda not in later, RouteFault.NOT_CODA),
        (jump is Jump.TO_CODA and coda is None, RouteFault.NO_CODA),
        (jump is Jump.TO_CODA and later[0] != coda, RouteFault.NOT_CODA),
        (jump is Jump.TO_CODA and not told_before, RouteFault.NO_AL_CODA),
        (jump.al_fine and bool(fine) and later[-1] != fine, RouteFault.NOT_AT_FINE),
    )
    return next((fault for is_so, fault in wrong if is_so), None)
