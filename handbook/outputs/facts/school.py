"""Facts of the school year: days without school, days that run otherwise, days made up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from handbook.domain.facts import Fact, Topic
from handbook.outputs.components.school_dates import year_date_views
from handbook.outputs.page import Context


def school_facts(context: Context) -> Iterator[Fact]:
    """Give the facts of all school years that have a cycle."""
    years = {cycle.item.year: cycle.year for cycle in context.plan.cycles}
    for name, year in years.items():
        seen: Counter[str] = Counter()
        for line in year_date_views(context, year):
            key = f"school/{name}/{line.kind}/{line.first}"
            seen[key] += 1
            if seen[key] > 1:
                key = f"{key}-{seen[key]}"
            value = f"{line.title} ({line.detail})" if line.detail else line.title
            yield Fact(key, (), Topic.DAY, line.when, value, line.first)
