"""The form of a piece: its measures, and the order in which its parts are played."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.wording import measures_named, unknown
from handbook.domain.road_map import RouteFault, Sign, route_faults, signs_by_part
from handbook.domain.values.measures import MeasureSpan
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.music import Part, Piece


@check
def measures_outside_form(handbook: Handbook) -> Iterator[Problem]:
    """A passage, a rhythm, a trill or a watch point names measures that the piece's form does not have.

    Bad:

        form:
          - {name: Whole, measures: 1-40, meter: 4/4, tempo: quarter = 96}
        passages:
          - {id: end, name: End, measures: 37-48, goal: quarter = 96}

    Good:

        passages:
          - {id: end, name: End, measures: 37-40, goal: quarter = 96}
    """
    for address, span, piece in _spans(handbook):
        covered = _covered(piece.form)
        if not any(
            stretch.first <= span.first and span.last <= stretch.last for stretch in covered
        ):
            known = " and ".join(str(stretch) for stretch in covered)
            verb = "is not" if span.count == 1 else "are not all"
            yield finding(
                f"{measures_named(span)} {verb} in the form of `{piece.id}`, which has {known}",
                (*address, "measures"),
                "check the numbers, or add the missing part to `form`",
            )


def _spans(handbook: Handbook) -> Iterator[tuple[Address, MeasureSpan, Piece]]:
    for address, passage, piece in traversal.passages(handbook):
        yield address, passage.measures, piece
    for address, point, piece in traversal.watch_points(handbook):
        if point.measures is not None:
            yield address, point.measures, piece
    for address, rhythm, piece in traversal.rhythms(handbook):
        if rhythm.measures is not None:
            yield address, rhythm.measures, piece
    for address, trill, piece in traversal.trills(handbook):
        if trill.measures is not None:
            yield address, trill.measures, piece


def _covered(form: Sequence[Part]) -> list[MeasureSpan]:
    """Join the form's parts to stretches without holes, in order of measure."""
    stretches: list[MeasureSpan] = []
    for span in sorted(part.measures for part in form):
        if stretches and span.first <= stretches[-1].last + 1:
            before = stretches.pop()
            span = MeasureSpan(before.first, max(before.last, span.last))  # noqa: PLW2901
        stretches.append(span)
    return stretches


@check
def form_gap(handbook: Handbook) -> Iterator[Problem]:
    """Measures are missing between two parts of a form.

    They would be missing from the piece's duration too.

    Bad:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 18-40, meter: 4/4, tempo: quarter = 96}

    Good:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96}
    """
    for address, piece in traversal.all_pieces(handbook):
        for before, after in pairwise(_covered(piece.form)):
            place = next(
                n for n, part in enumerate(piece.form) if part.measures.first == after.first
            )
            missing = MeasureSpan(before.last + 1, after.first - 1)
            yield finding(
                f"{measures_named(missing)} of `{piece.id}` {'is' if missing.count == 1 else 'are'} in no part of its form",
                (*address, "form", place, "measures"),
                "let each part begin on the measure after the one before it",
                Severity.WARNING,
            )


@check
def form_overlap(handbook: Handbook) -> Iterator[Problem]:
    """A part of the form begins with measures that the part before it had already.

    Going back to an earlier place, or to a repeat's first measure, is no overlap; a part
    that begins inside the one before and goes on past its end surely is.

    Bad:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 16-40, meter: 4/4, tempo: quarter = 96}

    Good:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96}
    """
    for address, piece in traversal.all_pieces(handbook):
        for place, (before, after) in enumerate(pairwise(piece.form), 1):
            one, other = before.measures, after.measures
            if one.first < other.first <= one.last < other.last:
                shared = MeasureSpan(other.first, one.last)
                yield finding(
                    f"{measures_named(shared)} of `{piece.id}` {'is' if shared.count == 1 else 'are'} in this part and in the one before",
                    (*address, "form", place, "measures"),
                    f"begin it at measure {one.last + 1}",
                    Severity.WARNING,
                    (Note("the part before is here", (*address, "form", place - 1, "measures")),),
                )


@check
def unknown_part(handbook: Handbook) -> Iterator[Problem]:
    """The order of a piece plays a part that its form does not have.

    Bad:

        order: [intro, vers, trio, coda]

    Good:

        order: [intro, verse, trio, coda]
    """
    for address, piece in traversal.all_pieces(handbook):
        known = [part.id for part in piece.form if part.id]
        for place, step in enumerate(piece.order):
            if step.part is not None and step.part not in known:
                at = (*address, "order", place)
                where = "to the parts under form, as their `id`"
                if step.part == "fine":
                    yield finding("no part is called `fine`", at, "the word at the end is `Fine`")
                else:
                    yield unknown("part", step.part, at, known, where)


@check
def part_never_played(handbook: Handbook) -> Iterator[Problem]:
    """A part of the form does not come in the order of its piece.

    Its measures would be missing from the road map and from the piece's duration.

    Bad:

        order: [intro, verse, coda]   # and the trio

    Good:

        order: [intro, verse, trio, coda]
    """
    for address, piece in traversal.all_pieces(handbook):
        for place, part in enumerate(piece.form if piece.order else ()):
            if not piece.times(part):
                name = f"`{part.id}`" if part.id else f"the part at {measures_named(part.measures)}"
                yield finding(
                    f"{name} is never played: `order` leaves it out",
                    (*address, "form", place, *(("id",) if part.id else ())),
                    "put it into `order`"
                    if part.id
                    else "give it an `id`, and put that into `order`",
                    notes=(Note("the order is here", (*address, "order")),),
                )


@check
def times_beside_order(handbook: Handbook) -> Iterator[Problem]:
    """A part says how often it is played, and the order of its piece says it too.

    Bad:

        form: [{id: verse, name: Verse, measures: 1-24, meter: 4/4, tempo: quarter = 96, times: 2}]
        order: [verse]

    Good:

        form: [{id: verse, name: Verse, measures: 1-24, meter: 4/4, tempo: quarter = 96}]
        order: [verse x2]
    """
    for address, piece in traversal.all_pieces(handbook):
        for place, part in enumerate(piece.form if piece.order else ()):
            if part.times > 1:
                yield finding(
                    f"this part has `times: {part.times}`, and the order of its piece says how often it is played",
                    (*address, "form", place, "times"),
                    f"take `times` out, and write `{part.id or 'verse'} x{part.times}` in `order`",
                    notes=(Note("the order is here", (*address, "order")),),
                )


@check
def sign_twice(handbook: Handbook) -> Iterator[Problem]:
    """Two parts of a piece have the same sign.

    Nobody could tell which of them D.S. or To Coda leads to. Where a printed part has a
    second segno, write the order without words such as D.S.

    Bad:

        form:
          - {id: verse, name: Verse, measures: 1-16, meter: 4/4, tempo: quarter = 96, sign: segno}
          - {id: trio, name: Trio, measures: 17-40, meter: 6/8, tempo: dotted quarter = 80, sign: segno}

    Good:

        form:
          - {id: verse, name: Verse, measures: 1-16, meter: 4/4, tempo: quarter = 96, sign: segno}
          - {id: trio, name: Trio, measures: 17-40, meter: 6/8, tempo: dotted quarter = 80}
    """
    for address, piece in traversal.all_pieces(handbook):
        first: dict[Sign, Address] = {}
        for place, part in enumerate(piece.form):
            for sign in dict.fromkeys(part.sign):
                at = (*address, "form", place, "sign")
                if sign in first:
                    yield finding(
                        f"two parts have the sign `{sign}`",
                        at,
                        "keep it where it is printed",
                        notes=(Note("the other one is here", first[sign]),),
                    )
                first.setdefault(sign, at)


@check
def jump_leads_elsewhere(handbook: Handbook) -> Iterator[Problem]:
    """What follows D.C., D.S., To Coda or Fine in an order is not what they mean.

    After D.C. comes the part that is played first, after D.S. the one with `sign: segno`,
    after To Coda the one with `sign: coda`. After al Coda the coda comes at some time. Fine
    is the end of the order; a part with `sign: fine` is then the last one.

    Bad:

        form:
          - {id: intro, name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
          - {id: finale, name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96}
        order: [intro, finale, D.S., finale]

    Good:

        form:
          - {id: intro, name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
          - {id: finale, name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96, sign: segno}
    """
    for address, piece in traversal.all_pieces(handbook):
        signs = signs_by_part([(part.id, part.sign) for part in piece.form])
        if not {step.part for step in piece.order if step.part} <= signs.keys():
            continue  # told as unknown-part
        for place, fault in route_faults(signs, piece.order):
            sentence, hint = _ROUTES[fault]
            yield finding(
                sentence.format(jump=piece.order[place]), (*address, "order", place), hint
            )


_ROUTES = {
    RouteFault.NOT_FIRST: (
        "after `{jump}` comes the part that is played first, and here another one does",
        "write the first part after it, or the words that are printed",
    ),
    RouteFault.NO_SEGNO: (
        "`{jump}` leads to the segno, and no part has `sign: segno`",
        "give the part that begins at the segno `sign: segno`",
    ),
    RouteFault.NOT_SEGNO: (
        "after `{jump}` comes the part with `sign: segno`, and here another one does",
        "write that part after it, or move the sign",
    ),
    RouteFault.NO_CODA: (
        "`{jump}` leads to the coda, and no part has `sign: coda`",
        "give the coda `sign: coda`",
    ),
    RouteFault.NOT_CODA: (
        "`{jump}` leads to the coda, and here it does not follow",
        "write the coda where it is played",
    ),
    RouteFault.NO_AL_CODA: (
        "`{jump}` counts once D.C. al Coda or D.S. al Coda has been, and neither comes before it",
        "take it out, or write the words that lead back before it",
    ),
    RouteFault.FINE_EARLY: (
        "`{jump}` is the end, and more follows it",
        "put it at the end of the order; on the way there nobody stops at it",
    ),
    RouteFault.NOT_AT_FINE: (
        "`{jump}` ends at the part with `sign: fine`, and the order ends elsewhere",
        "let the order end with that part, or move the sign",
    ),
    RouteFault.NOTHING: (
        "`{jump}` leads on, and no part follows it",
        "write the parts that are played after it",
    ),
}
