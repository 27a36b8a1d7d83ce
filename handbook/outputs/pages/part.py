"""A part: what one player practises this week, in the pitch that is read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from handbook.domain.tables.brass import Action
from handbook.domain.tuning import frequency
from handbook.domain.values.keys import Mode
from handbook.domain.values.pitch import NoteName, SpelledPitch
from handbook.outputs import addresses
from handbook.outputs.components.drones import DroneView, drone_view
from handbook.outputs.components.evening_spans import EveningSpan, evening_spans
from handbook.outputs.components.know_first import KnowFirstView, know_first_view
from handbook.outputs.components.notation import Notation, RhythmFigures, page_sprite
from handbook.outputs.components.part_links import part_name
from handbook.outputs.components.part_music import (
    KeyView,
    PartExerciseView,
    PartPieceView,
    Shared,
    exercise_views,
    piece_views,
    shared_by_parts,
)
from handbook.outputs.components.rotation import RotationView, rotation_view
from handbook.outputs.components.sections import SectionView, part_sections
from handbook.outputs.components.weeks import WeekView
from handbook.outputs.engraving.flat_svg import Glyph
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import with_clauses, with_commas, with_semicolons
from handbook.outputs.note_names import sign, signs
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.outputs.sheets.kinds.part import part_sheet, sheet_paths
from handbook.outputs.sheets.making import sheets_are_made
from handbook.outputs.sheets.model import Sheet
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.parts_model import PartPlan
from handbook.plan.percussion import is_percussion
from handbook.records import dataclass

_OCTAVE = 12
_C, _F, _B_FLAT = NoteName("C"), NoteName("F"), NoteName("B", -1)


@dataclass(frozen=True, slots=True)
class TuningView:
    """The tuning note as it is read and as it sounds, with its frequency in hertz."""

    written: SpelledPitch
    concert: SpelledPitch
    hertz: str
    pitch: int

    @property
    def named(self) -> str:
        """Write `C (concert B♭)`, or the note alone where both are one."""
        read, heard = self.written.name, self.concert.name
        if read == heard:
            return sign(read)
        return gettext("%(note)s (concert %(concert)s)", note=sign(read), concert=sign(heard))


@dataclass(frozen=True, slots=True)
class PlayersConcert:
    """A concert on its day; what its player does next, the page is told by its cycle's script."""

    day: date
    path: str


@dataclass(frozen=True, slots=True)
class PartView:
    """The page of a part; `sides` are the notes of a double horn's tubes, the longer first.

    `sheet` is the address of what of it is printed, if there is such; `warm_up` that of the
    band's warm-up, which plays at home.
    """

    name: str
    ensemble: str
    ensemble_id: str
    ensemble_path: str
    cycle: str
    instrument: str
    store: str
    sounds: str
    known: bool
    drums: bool
    slide: bool
    valved: bool
    thumb: bool
    sides: tuple[str, str]
    weeks: tuple[WeekView, ...]
    ends: date
    concerts: tuple[PlayersConcert, ...]
    sections: tuple[SectionView, ...]
    pieces: tuple[PartPieceView, ...]
    exercises: tuple[PartExerciseView, ...]
    tuning: TuningView | None
    drone: DroneView | None
    glyphs: tuple[Glyph, ...]
    rotation: RotationView | None
    words_path: str
    cycle_id: str
    evenings: tuple[EveningSpan, ...]
    know: KnowFirstView
    sheet: str = ""
    warm_up: str = ""


def pages(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[Page]:
    """Make a page for each instrument of an ensemble in a cycle."""
    shared = shared_by_parts(context, cycle, ensemble, RhythmFigures())
    paths = (
        sheet_paths(context, cycle, ensemble) if sheets_are_made(context) and shared.weeks else {}
    )
    views = [_view(shared, part, paths.get(part.id, "")) for part in ensemble.parts]
    together = dict[str, list[PartView]]()
    for view in views:
        together.setdefault(view.sheet, []).append(view)
    for part, view in zip(ensemble.parts, views, strict=True):
        alike = together[view.sheet]
        sheets = (
            part_sheet(context, cycle, ensemble, alike) if view.sheet and view is alike[0] else ()
        )
        yield _page(shared, part, view, sheets)


def _page(shared: Shared, part: PartPlan, view: PartView, sheets: Iterable[Sheet]) -> Page:
    cycle, ensemble = shared.cycle, shared.ensemble
    return Page(
        path=addresses.part(cycle.id, ensemble.item.id, part.id),
        kind="part",
        title=view.name,
        description=gettext(
            "%(part)s, %(band)s: this week's passages and tempos, with key, notes and rhythms as your part has them.",
            part=view.name,
            band=view.ensemble,
        ),
        section=f"ensemble-{ensemble.item.id}",
        view=view,
        crumbs=(
            Link(view.cycle, addresses.cycle(cycle.id)),
            Link(view.ensemble, view.ensemble_path),
        ),
        search=tuple(_entries(view, part)),
        sheets=tuple(sheets),
    )


def _entries(view: PartView, part: PartPlan) -> Iterator[SearchEntry]:
    called = part.instrument.aliases if part.instrument else ()
    names = [name for name in called if "flat" not in name]  # who types B flat means the note
    keys = {piece.title: piece.key.key for piece in view.pieces if piece.key}
    told = with_semicolons(
        gettext("%(what)s: %(words)s", what=title, words=sign(key)) for title, key in keys.items()
    )
    tuning = gettext("Tuning note %(note)s.", note=view.tuning.named) if view.tuning else ""
    yield SearchEntry(
        with_clauses((view.name, view.ensemble)),
        apart(told, tuning, view.sounds),
        keywords=f"part practice this week {view.instrument} {' '.join(names)}",
    )
    if view.tuning:
        yield SearchEntry(
            gettext("Tuning note: %(part)s, %(band)s", part=view.name, band=view.ensemble),
            " ".join((gettext("With a drone to tune to."), tuning)),
            anchor="tuning",
            keywords=f"tuner tune drone in tune {view.tuning.hertz} Hz hertz",
            answer=gettext("Your tuning note is %(note)s.", note=view.tuning.named),
        )
    if not view.know.empty:
        yield SearchEntry(
            gettext("Know it first: %(part)s, %(band)s", part=view.name, band=view.ensemble),
            gettext(
                "Keys, fingerings, trills, rhythms, words and goal tempos to learn before playing; what to mark in pencil."
            ),
            anchor="know-first",
            keywords="learn first cards test yourself trill fingering pencil marks",
        )
    if view.rotation:
        yield SearchEntry(
            gettext("Percussion, %(band)s: who plays what", band=view.ensemble),
            with_semicolons(
                gettext(
                    "%(what)s: %(words)s",
                    what=row.title,
                    words=with_commas(filter(None, row.cells)),
                )
                for row in view.rotation.rows
            ),
            anchor="percussion-players",
            keywords="rotation assignments players",
        )
    for piece in view.pieces:
        notes = signs(row.written.name for row in piece.note_rows)
        # Translators: notes to look out for
        watch = gettext("Watch %(notes)s.", notes=notes) if notes else ""
        if piece.key is None:
            continue
        yield SearchEntry(
            gettext("%(what)s: %(words)s", what=piece.title, words=view.name),
            f"{_key_and_signature(piece.key)} {watch}",
            anchor=piece.item.id,
            keywords=f"{view.name} scale key signature notes",
            keys=(piece.key.key,),
        )


def _key_and_signature(key: KeyView) -> str:
    return gettext("%(key)s, %(signature)s.", key=sign(key.key), signature=key.signature)


def _view(shared: Shared, part: PartPlan, sheet: str) -> PartView:
    context, cycle, ensemble = shared.context, shared.cycle, shared.ensemble
    row = part.instrument
    pieces = tuple(piece_views(shared, part))
    exercises = tuple(exercise_views(shared, part))
    tubes = row.tubes if row else ()
    return PartView(
        name=part_name(part),
        ensemble=context.say(ensemble.item.name),
        ensemble_id=ensemble.item.id,
        ensemble_path=addresses.ensemble(cycle.id, ensemble.item.id),
        cycle=context.say(cycle.item.name),
        instrument=part.id,
        store=f"{cycle.id}-{ensemble.item.id}-{part.id}",
        sounds=_sounds(part),
        known=row is not None,
        drums=row is not None and not row.pitched,
        slide=any(tube.action is Action.SLIDE for tube in tubes),
        valved=any(tube.action is Action.VALVES for tube in tubes),
        thumb=any(tube.thumb for tube in tubes) and not ensemble.item.single_horns,
        sides=(sign(_F), sign(_B_FLAT)),
        weeks=shared.weeks,
        ends=ensemble.stages[-1].ends,
        concerts=tuple(
            PlayersConcert(one.item.date, addresses.concert(cycle.id, one.id))
            for one in cycle.concerts_of(ensemble.band)
            if not one.cancelled
        ),
        sections=part_sections(context, ensemble, part),
        pieces=pieces,
        exercises=exercises,
        tuning=_tuning(context, part),
        drone=_drone(context, part),
        glyphs=page_sprite(_figures(pieces, exercises)),
        rotation=context.once("rotation", ensemble, lambda: rotation_view(context, cycle, ensemble))
        if is_percussion(context.plan.program, part.id)
        else None,
        words_path=addresses.WORDS,
        cycle_id=cycle.id,
        evenings=evening_spans(context, cycle, ensemble, part.id),
        know=know_first_view(shared, part),
        sheet=sheet,
        warm_up=f"{addresses.ensemble(cycle.id, ensemble.item.id)}#warm-up"
        if ensemble.warm_up
        else "",
    )


def _figures(
    pieces: Sequence[PartPieceView], exercises: Sequence[PartExerciseView]
) -> Iterator[Notation | None]:
    for piece in pieces:
        yield from (piece.scale, piece.notes)
        for rhythms in (piece.rhythms, *(passage.rhythms for passage in piece.passages)):
            yield from (one.figure.notation for one in rhythms)
    for exercise in exercises:
        yield from (exercise.scale, exercise.notes)
        yield exercise.rhythm.notation if exercise.rhythm else None


def _sounds(part: PartPlan) -> str:
    """Say what a written C sounds, as far as the instrument transposes."""
    row = part.instrument
    if row is None or not row.pitched:
        return ""
    if row.sounding_c.fifths != 0:
        return gettext(
            "A written %(note)s sounds a concert %(concert)s.",
            note=sign(_C),
            concert=sign(row.sounding_c),
        )
    octaves = abs(row.sounds.semitones) // _OCTAVE
    if not octaves:
        return gettext("Sounds as written.")
    if row.sounds.semitones > 0:
        return ngettext(
            "Sounds an octave higher than written.",
            "Sounds %(num)s octaves higher than written.",
            octaves,
        )
    return ngettext(
        "Sounds an octave lower than written.",
        "Sounds %(num)s octaves lower than written.",
        octaves,
    )


def _tuning(context: Context, part: PartPlan) -> TuningView | None:
    if part.tuning is None:
        return None
    pitch = context.plan.program.pitch
    hertz = frequency(part.tuning.concert, pitch)
    return TuningView(part.tuning.written, part.tuning.concert, f"{hertz:.1f}", pitch)


def _drone(context: Context, part: PartPlan) -> DroneView | None:
    """Give the drone of the tuning note; its chord is major, as tuning chords are."""
    if part.tuning is None:
        return None
    tuning = part.tuning
    return drone_view(
        context, [(gettext("tuning note"), tuning.concert.name, Mode.MAJOR)], tuning.written.name
    )
