"""What class really reached: from there a ladder climbs anew, and what has been stays as planned."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence

from handbook.domain.ladders import Band, Pace, Rung, ladder
from handbook.domain.values.tempo import Tempo
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class ReachedTempo:
    """The tempo of a passage at the end of the rehearsal at a place; None where it was not played."""

    place: int
    tempo: Tempo | None


@dataclass(frozen=True, slots=True)
class KnownClimb:
    """The rungs of a passage as they are known after the rehearsal at `place`, None: from the beginning.

    `standing` is the tempo that class had then, None if it had not played the passage.
    """

    place: int | None
    standing: Tempo | None
    rungs: tuple[Rung, ...]


def in_beat_of(goal: Tempo, tempo: Tempo) -> Tempo:
    """Give a tempo in beats of the goal."""
    if tempo.beat == goal.beat:
        return tempo
    return goal.at(tempo.quarters_per_minute / goal.beat.quarters)


def capped(pace: Pace, tempo: Tempo) -> Tempo:
    """Give a tempo in beats of the goal, and no faster than the goal."""
    mine = in_beat_of(pace.goal, tempo)
    return mine if mine.bpm < pace.goal.bpm else pace.goal


def played_at(
    visits: Mapping[int, Tempo], reached: Iterable[ReachedTempo], last: int
) -> list[tuple[int, Tempo]]:
    """Give the rehearsals up to the `last` in which a passage was really played, each with its tempo.

    `visits` are the tempos as planned, by their places: a passage went as planned where
    nothing else is `reached`.
    """
    said: dict[int, Tempo | None] = {**visits, **{one.place: one.tempo for one in reached}}
    return [(place, tempo) for place in sorted(said) if (tempo := said[place]) and place <= last]


def climbs(
    pace: Pace,
    places: Sequence[int],
    stages: Sequence[int],
    bands: Sequence[Band],
    reached: Sequence[ReachedTempo],
    *,
    start: Tempo | None = None,
    settled: int = 0,
    held: Sequence[Tempo] = (),
    on_the_way: Sequence[tuple[int, Tempo]] = (),
) -> tuple[KnownClimb, ...]:
    """Give the ladder as planned, then as it climbs anew after each of `reached`, in order of their places.

    `places` are those of the visits, `stages` has the stage of every rehearsal; all else is
    as in `ladder`. After what was reached the next visits climb from that tempo by the same
    rules: from a slower one no more than the leap, and never slower than a faster one;
    above the goal counts as the goal. Visits up to there keep their rungs, and where a
    passage went as planned so do all. Of a passage that was not played, the climb goes on from
    what it had before, or begins anew. Our own rules. Raises LadderError for a start above
    the goal.
    """
    rungs = ladder(
        pace,
        [stages[place] for place in places],
        bands,
        start=start,
        settled=settled,
        held=held,
        on_the_way=on_the_way,
    )
    found = [KnownClimb(None, None, rungs)]
    for turn, one in enumerate(reached, 1):
        done = bisect_right(places, one.place)
        if done < len(held):
            continue  # the visits held since then have climbed from it already
        planned = {
            place: rung.tempo for place, rung in zip(places[:done], rungs[:done], strict=True)
        }
        played = played_at(planned, reached[:turn], one.place)
        standing = capped(pace, played[-1][1]) if played else None
        if done and standing == rungs[done - 1].tempo:
            continue
        ahead = [stages[place] for place in places[done:]]
        by = settled - done
        left = [(visit - done, tempo) for visit, tempo in on_the_way if visit >= done]
        if standing is None:
            new = ladder(pace, ahead, bands, start=start, settled=max(0, by), on_the_way=left)
        else:
            # The visit that class has made of it stands in front, and is no rung of its own.
            new = ladder(
                pace,
                [stages[one.place], *ahead],
                bands,
                held=(standing,),
                settled=max(0, by + 1),
                on_the_way=[(visit + 1, tempo) for visit, tempo in left],
            )[1:]
        rungs = (*rungs[:done], *new)
        found.append(KnownClimb(one.place, standing, rungs))
    return tuple(found)
