"""A sheet for each rehearsal: the hour by the clock, with room to write down what was reached."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.binder.model import Binder, BinderFile
from handbook.binder.needs import NeedView, need_view
from handbook.binder.paper import BandFile, band_sheets, notice
from handbook.binder.private_notes import OwnNote, notes_of_rehearsal
from handbook.binder.thanks import ThanksView, thanks_by_ensemble
from handbook.outputs.components.blocks import BlockView
from handbook.outputs.components.rehearsal_view import RehearsalView, band_rehearsals
from handbook.outputs.components.watch import WatchView, watch_view
from handbook.outputs.i18n import gettext
from handbook.outputs.sheets.model import CREW_POINTS, Layout, Sheet
from handbook.plan.materials import needs_of
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class SheetBlock:
    """A block of the hour, and what to watch where it plays one passage alone.

    It was `told_before` if the same passage was watched at the band's last rehearsal.
    """

    shown: BlockView
    watch: tuple[WatchView, ...]
    told_before: bool


@dataclass(frozen=True, slots=True)
class RehearsalSheet:
    """One rehearsal of a band, all that is said of it on paper."""

    band: str
    warm_up: str
    day: RehearsalView
    blocks: tuple[SheetBlock, ...]
    thanks: ThanksView
    needs: tuple[NeedView, ...]
    notes: tuple[OwnNote, ...]

    def has(self, kind: str) -> bool:
        """Whether the hour has a block of a kind, by which something is said in it."""
        return any(block.shown.kind == kind for block in self.blocks)

    @property
    def watches(self) -> bool:
        """Whether anything is to be watched."""
        return any(block.watch for block in self.blocks)

    @property
    def watches_again(self) -> bool:
        """Whether any of it was told at the last rehearsal, too."""
        return any(block.watch and block.told_before for block in self.blocks)


def rehearsal_sheets(
    binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan
) -> tuple[RehearsalSheet, ...]:
    """Gather what stands on the sheets of a band's rehearsals, in order."""
    context = binder.context
    thanks = context.once("thanks", context.plan, lambda: thanks_by_ensemble(context))
    days = tuple(band_rehearsals(context, cycle, ensemble))
    return tuple(
        _sheet(binder, cycle, ensemble, day, whom, _watched(before))
        for day, before, whom in zip(
            days, (None, *days), thanks[cycle.id, ensemble.item.id], strict=False
        )
    )


def _watched(day: RehearsalView | None) -> frozenset[tuple[str, str]]:
    """Give the passages that a rehearsal plays alone, each by its piece and its own id."""
    return frozenset(
        (block.piece.id, block.passage.id)
        for block in (day.row.blocks if day else ())
        if block.piece and block.passage
    )


def _sheet(
    binder: Binder,
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    day: RehearsalView,
    thanks: ThanksView,
    watched: frozenset[tuple[str, str]],
) -> RehearsalSheet:
    context, row = binder.context, day.row
    return RehearsalSheet(
        band=context.say(ensemble.item.name),
        warm_up=context.say(ensemble.warm_up.name) if ensemble.warm_up else "",
        day=day,
        blocks=tuple(
            SheetBlock(
                shown,
                tuple(watch_view(context, point) for point in block.passage.watch)
                if block.passage
                else (),
                bool(
                    block.piece and block.passage and (block.piece.id, block.passage.id) in watched
                ),
            )
            for block, shown in zip(row.blocks, day.blocks, strict=True)
        ),
        thanks=thanks,
        needs=tuple(need_view(binder, need) for need in needs_of(ensemble, row)),
        notes=notes_of_rehearsal(binder, cycle, ensemble, row),
    )


def rehearsal_sheet(path: str, title: str, *sheets: RehearsalSheet) -> Sheet:
    """Put sheets into one file, a page each."""
    return Sheet(
        path=path,
        kind="rehearsal",
        title=title,
        view=sheets,
        points=CREW_POINTS,
        notice=notice(),
        layout=Layout.PAGES,
    )


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make a file for each band, with a page for each rehearsal."""
    file = BandFile(
        ends="rehearsals",
        title=lambda name: gettext("%(band)s: rehearsal sheets", band=name),
        about=gettext(
            "One page for each rehearsal: the hour by the clock, with room to write down what was reached (PDF)."
        ),
    )
    return band_sheets(binder, file, rehearsal_sheets, rehearsal_sheet)
