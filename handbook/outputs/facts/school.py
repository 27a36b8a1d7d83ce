"""Facts of the school year: days without school, days that run otherwise, days made up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from handbook.domain.facts import Fact, Topic
from handbook.outputs.components.school_dates import SchoolDateView, year_date_views
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.schema.year import Year


def school_facts(context: Context) -> Iterator[Fact]:
    """Give the facts of all school years that have a cycle."""
    years = {cycle.item.year: cycle.year for cycle in context.plan.cycles}
    for name, year in years.items():
        for key, line in school_lines(context, name, year):
            about, title = _told(line)
            value = (
                gettext("%(name)s (%(detail)s)", name=title, detail=line.detail)
                if line.detail
                else title
            )
            yield Fact(key, (), Topic.DAY, about, value, line.first)


def _told(line: SchoolDateView) -> tuple[str, str]:
    """Give the topic of a line's sentence, and the name that the school gives it."""
    if line.kind == "altered":
        return line.when, line.title
    one_day = line.first == line.last
    if line.kind == "closed":
        about = (
            gettext("No school on %(day)s", day=line.when)
            if one_day
            else gettext("No school, %(days)s", days=line.when)
        )
    else:
        about = (
            gettext("School on %(day)s", day=line.when)
            if one_day
            else gettext("School, %(days)s", days=line.when)
        )
    return about, line.name


def school_lines(context: Context, name: str, year: Year) -> Iterator[tuple[str, SchoolDateView]]:
    """Give what is not as on ordinary days in the year of this `name`, each under its key."""
    seen: Counter[str] = Counter()
    for line in year_date_views(context, year):
        key = f"school/{name}/{line.kind}/{line.first}"
        seen[key] += 1
        yield key if seen[key] == 1 else f"{key}-{seen[key]}", line
