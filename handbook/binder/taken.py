"""One day's rehearsals as a folder to take along: stand view, sheets, recordings, nothing else."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from datetime import date

from handbook.binder.day_sheets import day_sheets
from handbook.binder.looks import look_files
from handbook.binder.materials import BandNeeds, band_needs, media_of
from handbook.binder.model import INDEX, Binder, BinderFile
from handbook.binder.private_notes import OwnNote, notes_of_rehearsal
from handbook.binder.stand import stand_page
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.plan.materials import needs_of
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan, RehearsalRow
from handbook.records import dataclass
from handbook.source.links import MEDIA


@dataclass(frozen=True, slots=True)
class TakenRehearsal:
    """A rehearsal of the day: what it needs, the notes of it, and its sheets to print."""

    needs: BandNeeds
    notes: tuple[OwnNote, ...]
    sheets: tuple[BinderFile, ...]


@dataclass(frozen=True, slots=True)
class TakenBand:
    """A band of the day, with its rehearsals in order."""

    name: str
    rehearsals: tuple[TakenRehearsal, ...]


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
        sheets = [
            sheet for own_band in bands for one in own_band.rehearsals for sheet in one.sheets
        ]
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
    rows = _rows(ensemble, day)
    return TakenBand(
        name=binder.context.say(ensemble.item.name),
        rehearsals=tuple(
            TakenRehearsal(
                band_needs(binder, ensemble, row, needs_of(ensemble, row)),
                notes_of_rehearsal(binder, cycle, ensemble, row),
                tuple(day_sheets(binder, cycle, ensemble, row)),
            )
            for row in rows
        ),
    )
