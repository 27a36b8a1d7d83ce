"""The sheets of a single rehearsal, for whoever takes only that one along."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.binder.model import Binder, BinderFile
from handbook.binder.paper import can_print, sheet_file
from handbook.binder.rehearsal_sheets import rehearsal_sheet, rehearsal_sheets
from handbook.binder.substitute_sheets import substitute_pages, substitute_sheet
from handbook.outputs.i18n import gettext
from handbook.plan.model import CyclePlan, EnsemblePlan, RehearsalRow


def day_sheets(
    binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow
) -> Iterator[BinderFile]:
    """Make a rehearsal's own sheet and its page for a substitute, `lantern-2026-11-30.pdf` and the like."""
    if not can_print(binder):
        return
    sheet = rehearsal_sheets(binder, cycle, ensemble)[row.place]
    page = substitute_pages(binder, cycle, ensemble)[row.place]
    name = f"{ensemble.item.id}-{sheet.day.line.anchor}"
    yield sheet_file(
        binder,
        rehearsal_sheet(f"{name}.pdf", gettext("Rehearsal sheet"), sheet),
        about=gettext("The hour by the clock, with room to write down what was reached (PDF)."),
        cycle=cycle.id,
    )
    yield sheet_file(
        binder,
        substitute_sheet(f"{name}-substitute.pdf", gettext("For a substitute"), page),
        about=gettext("The same hour for someone who need not be a musician (PDF)."),
        cycle=cycle.id,
    )
