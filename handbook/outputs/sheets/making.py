"""The words of a sheet, written by its template with what pages are written with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jinja2 import Environment

from handbook.outputs.html.partly import partly
from handbook.outputs.i18n.languages import spoken
from handbook.outputs.i18n.other_language import bare, told
from handbook.outputs.sheets.model import MadeSheet, Sheet
from handbook.outputs.sheets.typefaces import has_typefaces

if TYPE_CHECKING:
    from handbook.outputs.page import Context, Page

_PARTLY = "<p data-partly></p>"
"""Where a sheet that may need it says that some of it is in another language."""


def sheets_are_made(context: Context) -> bool:
    """Whether there are sheets in the language of the context: the site must have letters for it."""
    return has_typefaces(context.language)


def sheets_in(context: Context, *sheets: Sheet) -> tuple[Sheet, ...]:
    """Give the sheets that a page has in its language: none where the site has no letters for it."""
    return sheets if sheets_are_made(context) else ()


def made_sheet(
    context: Context, environment: Environment, page: Page | None, sheet: Sheet
) -> MadeSheet:
    """Write a sheet of a page, in the language of the context."""
    template = environment.get_template(f"sheets/{sheet.kind}.html.j2")
    written = template.render(view=sheet.view, say=context.say, root="", top="")
    shown = told(written, context.language)
    note = partly(context, environment, "sheets/_partly.html.j2", shown.languages)
    program, tree = context.plan.program, context.tree
    about = sheet.page or (page.path if page else "")
    return MadeSheet(
        path=f"{tree}{sheet.path}",
        title=bare(sheet.title),
        language=context.language,
        spoken=spoken(context.language),
        html=shown.html.replace(_PARTLY, note),
        page=f"{tree}{about}",
        paper=program.paper,
        points=sheet.points,
        one_page=sheet.one_page,
        landscape=sheet.landscape,
        layout=sheet.layout,
        head=bare(context.say(program.name)),
        notice=sheet.notice,
        languages=tuple(sorted(set(context.plan.languages))),
    )
