"""One day's rehearsals as a folder to take along: stand view, sheets, recordings, nothing else."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from datetime import date

from handbook.binder.looks import look_files
from handbook.binder.materials import BandNeeds, band_needs, media_of
from handbook.binder.model import INDEX, Binder, BinderFile
from handbook.binder.paper import sheet_file
from handbook.binder.private_notes import OwnNote, notes_of_rehearsal
from handbook.binder.rehearsal_sheets import rehearsal_sheet, rehearsal_sheets
from handbook.binder.stand import stand_page
from handbook.binder.substitute_sheets import substitute_pages, substitute_sheet
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.plan.materials import needs_of
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan, RehearsalRow
from handbook.records import dataclass
from handbook.source.links import MEDIA


@dataclass(frozen=True, slots=True)
class TakenBand:
    """A band of the day: its sheets, and what each of its rehearsals needs, with the notes of that."""

    name: str
    sheets: tuple[BinderFile, ...]
    rehearsals: tuple[tuple[BandNeeds, tuple[OwnNote, ...]], ...]


@dataclass(frozen=True, slots=True)
class TakenView:
    """The first page of the folder; `media` is the folder of the recordings in it."""

    title: str
    media: str
    stands: tuple[BinderFile, ...]
    bands: tuple[TakenBand, ...]


def rehearsal_days(plan: Plan, band: str | None = None) -> tuple[date, ...]:
    """List the days with a rehearsal, of all bands or of one by its id."""
    days = (
        row.rehearsal.day
        for cycle in plan.cycles
        for ensemble in cycle.ensembles
        if band in {None, ensemble.band, ensemble.item.id}
        for row in ensemble.rehearsals
    )
    return tuple(sorted(set(days)))


def taken_files(binder: Binder, day: date, band: str | None = None) -> tuple[BinderFile, ...]:
    """Make the folder of a day, of all bands or of one; it leads nowhere outside itself."""
    with binder.context.speaking():
        cycles = tuple(_of_day(binder.cycles, day, band))
        own = replace(binder, cycles=cycles)
        stands = tuple(_stand(own, cycle, day, single=len(cycles) == 1) for cycle in cycles)
        bands = tuple(
            _band(own, cycle, ensemble, day) for cycle in cycles for ensemble in cycle.ensembles
        )
        needs = [
            need
            for cycle in cycles
            for ensemble in cycle.ensembles
            for row in _rows(ensemble, day)
            for need in needs_of(ensemble, row)
        ]
        title = formatting.long_day(day)
        view = TakenView(title, f"{MEDIA}/", stands, bands)
        sheets = [sheet for one in bands for sheet in one.sheets]
        first = own.page("taken", view, INDEX, title=title)
        made = (first, *stands, *sheets, *media_of(own, needs))
        return (*made, *look_files(own, made))


def _of_day(cycles: Collection[CyclePlan], day: date, band: str | None) -> Iterator[CyclePlan]:
    """Leave of the cycles the bands that rehearse on the day."""
    for cycle in cycles:
        ensembles = tuple(
            one
            for one in cycle.ensembles
            if band in {None, one.band, one.item.id} and any(_rows(one, day))
        )
        if ensembles:
            yield replace(cycle, ensembles=ensembles)


def _rows(ensemble: EnsemblePlan, day: date) -> Iterable[RehearsalRow]:
    return [row for row in ensemble.rehearsals if row.rehearsal.day == day]


def _stand(binder: Binder, cycle: CyclePlan, day: date, *, single: bool) -> BinderFile:
    name = "stand.html" if single else f"stand-{cycle.id}.html"
    return BinderFile(name, stand_page(binder, cycle, day), title=gettext("Stand view"))


def _band(binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan, day: date) -> TakenBand:
    name, rows = binder.context.say(ensemble.item.name), _rows(ensemble, day)
    places = [ensemble.rehearsals.index(row) for row in rows]
    sheets = rehearsal_sheets(binder, cycle, ensemble)
    pages = substitute_pages(binder, cycle, ensemble)
    made = (
        rehearsal_sheet(
            f"{ensemble.item.id}-rehearsal.pdf",
            gettext("%(band)s: the rehearsal on one sheet", band=name),
            *(sheets[place] for place in places),
        ),
        substitute_sheet(
            f"{ensemble.item.id}-substitute.pdf",
            gettext("%(band)s: for a substitute", band=name),
            *(pages[place] for place in places),
        ),
    )
    return TakenBand(
        name=name,
        sheets=tuple(sheet_file(binder, one, about=gettext("To print (PDF).")) for one in made),
        rehearsals=tuple(
            (
                band_needs(binder, ensemble, row, needs_of(ensemble, row)),
                notes_of_rehearsal(binder, cycle, ensemble, row),
            )
            for row in rows
        ),
    )
