"""What if: content in which a day is lost, a piece dropped, a concert moved or a goal changed.

Items are changed as the director would change the lines, and the season is planned anew from
them, so that what is told of a change is what would come of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from handbook.domain.meetings import RehearsalKind
from handbook.domain.values.dates import dated, short_day
from handbook.domain.values.tempo import parse_tempo
from handbook.domain.values.unreadable import UnreadableError
from handbook.plan.content_lines import (
    Altered,
    cycle_of,
    with_cancellation,
    with_closure,
    with_concert,
    with_dropped,
    with_goal,
    with_turn,
    without_days_after,
)
from handbook.plan.model import ConcertPlan, CyclePlan, EnsemblePlan, Plan, RehearsalRow
from handbook.plan.players import Players, players_of
from handbook.plan.school_days import days_of
from handbook.records import dataclass
from handbook.schema.handbook import Handbook, concert_id
from handbook.schema.music import Passage, Piece

_UNDATED_GOAL = (
    "A goal has no date: the climb toward it is planned anew from the first rehearsal on, also "
    "where rehearsals have been."
)
_NEAREST = 2  # rehearsals that are named on either side of a wrong day


class NotThereError(ValueError):
    """What is asked about is not in the content; the sentence names what is."""


@dataclass(frozen=True, slots=True)
class LostDay:
    """A day without rehearsals: of everyone, or of a band or group by its id."""

    day: date
    band: str | None = None


@dataclass(frozen=True, slots=True)
class MovedConcert:
    """A concert on another day: `concert` is its id, that of its cycle, or both with a slash; None for the only one."""

    day: date
    concert: str | None = None


@dataclass(frozen=True, slots=True)
class OtherGoal:
    """A passage with another goal; `tempo` as it is written, a number alone counting the beat of the goal."""

    piece: str
    passage: str
    tempo: str


@dataclass(frozen=True, slots=True)
class Wishes:
    """All that is asked at once.

    `since` is the day from which it is known; None: for a lost day that day, else `today`.
    Only `cycles` are looked at, all if there are none; those that are over last.
    """

    lost: tuple[LostDay, ...] = ()
    pieces: tuple[str, ...] = ()
    concerts: tuple[MovedConcert, ...] = ()
    goals: tuple[OtherGoal, ...] = ()
    since: date | None = None
    today: date = date.min
    cycles: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked:
    """The content after all that is asked, a sentence for each wish, and the first day it touches.

    `notes` say what else there is to know.
    """

    altered: Altered
    sentences: tuple[str, ...]
    first: date
    notes: tuple[str, ...] = ()


def asked(handbook: Handbook, plan: Plan, wishes: Wishes) -> Asked:
    """Change the content of a plan as it is asked. Raises NotThereError for what is not in it."""
    found = _Asking(handbook, plan, wishes)
    for lost in wishes.lost:
        found.lose(lost)
    for concert in wishes.concerts:
        found.move(concert)
    for piece in wishes.pieces:
        found.drop(piece)
    for goal in wishes.goals:
        found.set_goal(goal)
    notes = tuple(dict.fromkeys(found.notes))
    return Asked(found.altered, tuple(found.sentences), min(found.days), notes)


def such_a_goal(
    handbook: Handbook, plan: Plan, piece: str, cycles: tuple[str, ...], today: date
) -> str | None:
    """Give an example of how a goal is asked for: of that piece, else of the first ahead; None without passages."""
    found = _Asking(handbook, plan, Wishes(cycles=cycles, today=today)).pieces_ahead()
    with_passages = [one for one in found if one.passages]
    for one in sorted(with_passages, key=lambda one: one.id != piece)[:1]:
        passage = one.passages[0]
        return f"{one.id}/{passage.id}={passage.goal.bpm_text}"
    return None


class _Asking:
    """The content as far as it is changed."""

    def __init__(self, handbook: Handbook, plan: Plan, wishes: Wishes) -> None:
        self.altered, self.plan, self.wishes = Altered(handbook), plan, wishes
        self.language = plan.languages[0]
        self.cycles = [one for one in plan.cycles if not wishes.cycles or one.id in wishes.cycles]
        self.sentences: list[str] = []
        self.notes: list[str] = []
        self.days: list[date] = []

    def lose(self, lost: LostDay) -> None:
        """Take a day's rehearsals away."""
        bands = self._bands(lost)
        rows = [(cycle, one, row) for cycle, one in bands for row in _on(one, lost.day)]
        if not rows:
            raise NotThereError(self._no_rehearsal(lost, [one for _, one in bands]))
        told = min(lost.day, self.wishes.since or lost.day)
        in_class = {
            (cycle.id, one.item.id): one
            for cycle, one, row in rows
            if row.rehearsal.kind is not RehearsalKind.EXTRA
        }
        if lost.band is None and in_class:
            self._close(lost.day, told, {cycle.item.year for cycle, _, _ in rows})
        else:
            self._cancel(lost, told, list(dict.fromkeys(cycle for cycle, _ in in_class)))
            self._cancel_extras(lost, told, {cycle.id: cycle for cycle, _, _ in rows})
        self.days.append(lost.day)
        who = f"has no rehearsal on {short_day(lost.day)}"
        name = self._name(lost.band) if lost.band else ""
        self.sentences.append(f"{name} {who}" if name else f"{short_day(lost.day)} is lost")

    def move(self, moved: MovedConcert) -> None:
        """Put a concert on another day."""
        cycle, concert = self._concert(moved)
        if concert.item.date == moved.day:
            raise NotThereError(f"`{_whole_id(cycle, concert)}` is on {dated(moved.day)} already")
        told = min(self.wishes.since or self._today(cycle), concert.item.date)
        file = next(
            one.file
            for one in cycle_of(self.altered.handbook, cycle.id).concerts
            if concert_id(one.file) == concert.id
        )
        before = (*concert.item.moved_from, concert.item.date)
        days = [dated(day) for day in before]
        since = days[0] if len(days) == 1 else f"[{', '.join(days)}]"
        self.altered = with_concert(
            self.altered,
            cycle.id,
            file,
            {"date": moved.day, "moved_from": before, "told": told},
            (f"date: {dated(moved.day)}", f"moved_from: {since}", f"told: {dated(told)}"),
        )
        last = cycle_of(self.altered.handbook, cycle.id).concert
        if last and last.item.date < cycle.last:
            self.altered = without_days_after(self.altered, cycle.id, last.item.date)
        self.days.append(min(told, moved.day))
        name = concert.item.name.read(self.language)
        self.sentences.append(
            f"{name} is on {short_day(moved.day)}, not on {short_day(concert.item.date)}"
        )

    def drop(self, name: str) -> None:
        """Rehearse a piece no more, and take it off the programs ahead."""
        cycle, piece = self._piece(name)
        if piece.dropped:
            raise NotThereError(f"`{name}` is dropped already, on {dated(piece.dropped)}")
        since = self.wishes.since or self._today(cycle)
        played_before = False
        content = cycle_of(self.altered.handbook, cycle.id)
        for concert in content.concerts:
            for place, turn in enumerate(concert.item.program):
                left = [one for one in turn.pieces if one != name]
                if len(left) == len(turn.pieces):
                    continue
                if concert.item.date < since:
                    played_before = True
                    continue
                if not left:
                    raise NotThereError(
                        f"`{name}` is all that {self._name(turn.band)} plays at "
                        f"{concert.item.name.read(self.language)}: put another piece on its program first"
                    )
                self.altered = with_turn(self.altered, cycle.id, concert.file, place, left)
        if not played_before:
            self.altered = with_dropped(self.altered, cycle.id, name, since)
        self.days.append(since)
        title = piece.title.read(self.language)
        self.sentences.append(f"{title} is not rehearsed from {short_day(since)} on")

    def set_goal(self, goal: OtherGoal) -> None:
        """Give a passage another goal."""
        cycle, piece = self._piece(goal.piece)
        passage = self._passage(piece, goal.passage)
        try:
            tempo = parse_tempo(goal.tempo, passage.goal.beat.name)
        except UnreadableError as error:
            such_as = f"{goal.piece}/{goal.passage}={passage.goal.bpm_text}"
            raise NotThereError(f"{error}: write such as {such_as}") from error
        if tempo == passage.goal:
            raise NotThereError(f"the goal of `{passage.id}` is {tempo} already")
        self.altered = with_goal(self.altered, cycle.id, piece.id, passage.id, tempo)
        self.days.append(cycle.first)
        if cycle.first < self.wishes.today:
            self.notes.append(_UNDATED_GOAL)
        name, title = passage.name.read(self.language), piece.title.read(self.language)
        self.sentences.append(f"{name} of {title} has the goal {tempo}, not {passage.goal}")

    def _bands(self, lost: LostDay) -> list[tuple[CyclePlan, EnsemblePlan]]:
        """Give the plans that a lost day is about."""
        every = [(cycle, one) for cycle in self.cycles for one in cycle.ensembles]
        if lost.band is None:
            return every
        known = dict.fromkeys(name for _, one in every for name in (one.band, one.item.id))
        if lost.band not in known:
            raise NotThereError(
                f"there is no ensemble `{lost.band}`: the ensembles are {', '.join(known)}"
            )
        return [(cycle, one) for cycle, one in every if lost.band in {one.band, one.item.id}]

    def _close(self, day: date, told: date, years: Iterable[str]) -> None:
        for year_id in sorted(set(years)):
            year = self.altered.handbook.years[year_id]
            if any(one.date == day for one in year.item.make_up):
                raise NotThereError(
                    f"{dated(day)} is a make-up day: to lose it, take it out of `make_up` in {year.file}"
                )
            if not any(day in days_of(one, year.item) for one in year.item.closures):
                self.altered = with_closure(self.altered, year_id, day, told)

    def _cancel(self, lost: LostDay, told: date, cycles: Iterable[str]) -> None:
        """Cancel a band's classes; of everyone there are none."""
        for cycle in cycles:
            band = self._band(lost.band or "")
            self.altered = with_cancellation(self.altered, cycle, band, lost.day, told)

    def _cancel_extras(self, lost: LostDay, told: date, cycles: Iterable[str]) -> None:
        """Cancel the extra rehearsals of a day: by their start, so that those before them stay as they were."""
        players = self._players(lost.band) if lost.band else None
        whole = players is not None and players.band.id == lost.band
        for cycle in cycles:
            for extra in cycle_of(self.altered.handbook, cycle).cycle.item.extra:
                meant = players is None or (
                    extra.ensemble == lost.band if whole else players.named_by(extra)
                )
                if extra.date != lost.day or not meant:
                    continue
                band = {"ensemble": extra.ensemble} | (
                    {"group": extra.group} if extra.group else {}
                )
                if players and not whole:
                    band = self._band(lost.band or "")
                self.altered = with_cancellation(
                    self.altered, cycle, band, lost.day, told, extra.start
                )

    def _band(self, name: str) -> dict[str, str]:
        """Give what a line says of a band or group."""
        players = self._players(name)
        group = players.group if players.group and players.id == name else None
        return {"ensemble": players.band.id} | ({"group": group.id} if group else {})

    def _players(self, name: str) -> Players:
        every = (one for band in self.plan.program.ensembles for one in players_of(band))
        return next(one for one in every if name in {one.id, one.band.id})

    def _name(self, name: str) -> str:
        players = self._players(name)
        item = players.band if players.band.id == name else players.item
        return item.name.read(self.language)

    def _no_rehearsal(self, lost: LostDay, plans: Sequence[EnsemblePlan]) -> str:
        """Say that nobody rehearses on a day, and which days are near."""
        days = sorted({row.rehearsal.day for one in plans for row in one.rehearsals})
        near = [*[day for day in days if day < lost.day][-_NEAREST:]]
        near += [day for day in days if day > lost.day][:_NEAREST]
        who = f"of `{lost.band}` " if lost.band else ""
        closed = [
            missed.reason(self.language)
            for one in plans
            for missed in one.missed
            if missed.day == lost.day
        ]
        why = f" ({closed[0]})" if closed else ""
        told = f"there is no rehearsal {who}on {dated(lost.day)}{why}"
        return f"{told}: near it are {', '.join(map(dated, near))}" if near else told

    def _today(self, cycle: CyclePlan) -> date:
        """Give today within a cycle, or its first day as long as it lies ahead."""
        if self.wishes.today > cycle.last:
            raise NotThereError(
                f"`{cycle.id}` is over since {dated(cycle.last)}: say with --from on which day "
                "it would have been known"
            )
        return max(self.wishes.today, cycle.first)

    def _ahead(self) -> list[CyclePlan]:
        """Give the cycles that are asked about, without those that are over if others are not."""
        left = [one for one in self.cycles if one.last >= self.wishes.today]
        return left or self.cycles

    def pieces_ahead(self) -> list[Piece]:
        """Give the pieces of the cycles that are asked about, in the order of the content."""
        return [
            piece
            for cycle in self._ahead()
            for music in cycle_of(self.altered.handbook, cycle.id).music
            for piece in music.item.pieces
        ]

    def _concert(self, moved: MovedConcert) -> tuple[CyclePlan, ConcertPlan]:
        every = [(cycle, concert) for cycle in self.cycles for concert in cycle.concerts]
        meant = [pair for pair in every if moved.concert is None or moved.concert in _ids(*pair)]
        ahead = self._ahead()
        found = [pair for pair in meant if pair[0] in ahead] or meant
        if len(found) == 1:
            return found[0]
        if not every:
            raise NotThereError("there is no concert that could be moved")
        choices = ", ".join(f"{_whole_id(*pair)}={moved.day.isoformat()}" for pair in every)
        why = (
            f"there is no concert `{moved.concert}`"
            if moved.concert and not found
            else "there are several concerts"
        )
        raise NotThereError(f"{why}: write one of {choices}")

    def _piece(self, name: str) -> tuple[CyclePlan, Piece]:
        for cycles in (self._ahead(), self.cycles):
            found = [
                (cycle, piece)
                for cycle in cycles
                for music in cycle_of(self.altered.handbook, cycle.id).music
                for piece in music.item.pieces
                if piece.id == name
            ]
            if len(found) == 1:
                return found[0]
            if found:
                ids = ", ".join(cycle.id for cycle, _ in found)
                raise NotThereError(f"`{name}` is in {ids}: say which with --cycle")
        known = dict.fromkeys(piece.id for piece in self.pieces_ahead())
        raise NotThereError(f"there is no piece `{name}`: the pieces are {', '.join(known)}")

    def _passage(self, piece: Piece, name: str) -> Passage:
        found = next((one for one in piece.passages if one.id == name), None)
        if found is None:
            known = ", ".join(one.id for one in piece.passages)
            raise NotThereError(f"`{piece.id}` has no passage `{name}`: its passages are {known}")
        return found


def _on(ensemble: EnsemblePlan, day: date) -> Iterator[RehearsalRow]:
    return (row for row in ensemble.rehearsals if row.rehearsal.day == day)


def _ids(cycle: CyclePlan, concert: ConcertPlan) -> tuple[str, ...]:
    return concert.id, cycle.id, _whole_id(cycle, concert)


def _whole_id(cycle: CyclePlan, concert: ConcertPlan) -> str:
    return f"{cycle.id}/{concert.id}"
