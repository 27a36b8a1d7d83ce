"""Planning a season: stretches first, then visits by due date, then what is left by urgency."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.domain.season import Season, SeasonNeed, stage_places, unmet_laws
from handbook.domain.season_board import Board
from handbook.domain.season_minutes import share_minutes
from handbook.domain.stretch_choice import chosen_stretches

_ROUNDS = 6  # of mending; what one round moves may let the next one mend
_TRIES = 6000  # of moving a join or run, over days times passages

_Placed = tuple[
    int, tuple[int, ...]
]  # a join or run, and the places it may come at, the best first


def plan_season(need: SeasonNeed) -> Season:
    """Plan the music of every rehearsal, and say which laws the hours do not suffice for.

    Joins and runs (`chosen_stretches`) are spread evenly over their stage. Passages then
    come by due date, the latest at which their next visit still keeps each law at an even
    pace; what does not fit is mended by adding, changing and moving blocks, the weightier
    law first, and where that does not do by moving joins and runs. Each rehearsal has as
    few blocks as hold its minutes and the laws, since each change costs a minute; the
    minutes go to the urgent by `worth`. Deterministic.
    """
    board = _filled(need, _spread(need))
    tries = _TRIES // max(1, len(need.days) * len(need.passages))
    while board.broken and tries > 0:
        better, tries = _better(board, tries)
        if better is None:
            break
        board = better
    board.thin()
    blocks = share_minutes(board)
    return Season(blocks, unmet_laws(need, blocks))


def _spread(need: SeasonNeed) -> tuple[_Placed, ...]:
    """Spread each stage's stretches evenly over its rehearsals, the pieces by turns."""
    by_stage = {need.days[places[0]].stage: places for places in stage_places(need.days)}
    found: list[_Placed] = []
    for stage, stretches in chosen_stretches(need).items():
        places = [place for place in by_stage[stage] if need.days[place].held is None]
        for turn, index in enumerate(stretches):
            middle = (2 * turn + 1) * len(places) // (2 * len(stretches))
            nearest = sorted(range(len(places)), key=lambda one: (abs(one - middle), one))
            found.append((index, tuple(places[one] for one in nearest)))
    return tuple(found)


def _filled(need: SeasonNeed, stretches: Sequence[_Placed]) -> Board:
    board = Board(need)
    board.placed = tuple(
        (index, places, board.place_stretch(index, places)) for index, places in stretches
    )
    board.place_visits()
    for _ in range(_ROUNDS):
        if not board.mend():
            break
    return board


def _better(board: Board, tries: int) -> tuple[Board | None, int]:
    """Move one join or run to another rehearsal of its stage, so that less is broken."""
    for turn, (index, places, now) in enumerate(board.placed):
        for place in places:
            if place == now:
                continue
            if tries <= 0:
                return None, 0
            tries -= 1
            moved: list[_Placed] = [(one, where) for one, where, _ in board.placed]
            moved[turn] = (index, (place, *(one for one in places if one != place)))
            moved = [moved[turn], *moved[:turn], *moved[turn + 1 :]]
            other = _filled(board.need, moved)
            if other.broken < board.broken:
                return other, tries
    return None, tries
