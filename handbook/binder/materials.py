"""What must lie ready, day by day, and the recordings themselves, beside the pages that name them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from handbook.binder.model import Binder, BinderFile
from handbook.binder.needs import NeedView, need_view
from handbook.cleaning.model import UncleanError
from handbook.outputs import addresses
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.plan.materials import NeedRow, needs_of
from handbook.plan.model import CyclePlan, EnsemblePlan, RehearsalRow
from handbook.records import dataclass
from handbook.source.links import MEDIA


@dataclass(frozen=True, slots=True)
class BandNeeds:
    """What one rehearsal needs; `when` says its hours and its room."""

    band: str
    when: str
    needs: tuple[NeedView, ...]


@dataclass(frozen=True, slots=True)
class DayNeeds:
    """A day with its rehearsals in order of time."""

    day: date
    date: str
    bands: tuple[BandNeeds, ...]


@dataclass(frozen=True, slots=True)
class MaterialsView:
    """The days of a cycle on which anything must lie ready; `media` leads to the recordings."""

    cycle: str
    media: str
    days: tuple[DayNeeds, ...]


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make a page for each cycle that needs anything, and give the recordings once."""
    needs: list[NeedRow] = []
    for cycle in binder.cycles:
        needs += [need for _, _, own in _rehearsals(cycle) for need in own]
        days = tuple(_days(binder, cycle))
        if not days:
            continue
        path = f"{cycle.id}/materials.html"
        view = MaterialsView(
            binder.context.say(cycle.item.name), f"{addresses.root_of(path)}{MEDIA}/", days
        )
        yield binder.page(
            "materials",
            view,
            path,
            title=gettext("Materials and recordings"),
            about=gettext("What must lie ready on which day, where it lies, and the recordings."),
            cycle=cycle.id,
        )
    yield from media_of(binder, needs)


def media_of(binder: Binder, needs: Iterable[NeedRow]) -> Iterator[BinderFile]:
    """Give the recordings and pictures that are needed, each once; one that is lost is left out."""
    names = {need.media.removeprefix(f"{MEDIA}/") for need in needs if need.media}
    for name in sorted(names):
        content = _bytes(binder, name)
        if content:
            yield BinderFile(f"{MEDIA}/{name}", content)


def _bytes(binder: Binder, name: str) -> bytes:
    """Read a file as it is published, or as it is: what is played in class alone may be of any kind."""
    try:
        return binder.media(name)
    except UncleanError:
        return (binder.content / MEDIA / name).read_bytes()
    except OSError:
        return b""


_Rehearsals = Iterator[tuple[EnsemblePlan, RehearsalRow, tuple[NeedRow, ...]]]


def _rehearsals(cycle: CyclePlan) -> _Rehearsals:
    for ensemble in cycle.ensembles:
        for row in ensemble.rehearsals:
            yield ensemble, row, needs_of(ensemble, row)


def _days(binder: Binder, cycle: CyclePlan) -> Iterator[DayNeeds]:
    by_day: dict[date, list[tuple[float, BandNeeds]]] = {}
    for ensemble, row, needs in _rehearsals(cycle):
        if needs:
            own = band_needs(binder, ensemble, row, needs)
            start = row.rehearsal.start.timestamp()
            by_day.setdefault(row.rehearsal.day, []).append((start, own))
    for day in sorted(by_day):
        bands = sorted(by_day[day], key=lambda one: (one[0], one[1].band))
        yield DayNeeds(day, formatting.short_day(day), tuple(own for _, own in bands))


def band_needs(
    binder: Binder, ensemble: EnsemblePlan, row: RehearsalRow, needs: Iterable[NeedRow]
) -> BandNeeds:
    """Say what a rehearsal needs, with when and where it is."""
    say = binder.context.say
    return BandNeeds(
        band=say(ensemble.item.name),
        when=formatting.dotted(
            (
                formatting.span(row.rehearsal.start, row.rehearsal.end),
                say(row.room.name) if row.room else "",
            )
        ),
        needs=tuple(need_view(binder, need) for need in needs),
    )
