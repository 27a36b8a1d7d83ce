"""The line that says that a page or a sheet is not wholly in its language."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from jinja2 import Environment

from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.i18n.languages import name_in

if TYPE_CHECKING:
    from handbook.outputs.page import Context


def partly(
    context: Context, environment: Environment, template: str, languages: Collection[str]
) -> str:
    """Write by a template that some of what is told is in these languages; nothing for none."""
    if not languages:
        return ""
    others = [one for one in context.plan.languages if one in languages]
    names = [name_in(one, context.language) for one in others]
    return environment.get_template(template).render(english=others == [SOURCE], names=names)
