"""How readers type days, times, measures and tempos that a page writes in its own way.

Common practice, no source. Signs (`B♭`, `F sharp`), the ends of a span of measures and
dynamics are read alike by the script, on pages and in questions.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time

from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.tempo import Tempo
from handbook.outputs.i18n import speech
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.i18n.formats import names
from handbook.outputs.search.entry import SearchEntry

_NOON = 12
_LONGEST_SPAN = 200  # measures that are spelled out one by one


def spellings(entry: SearchEntry) -> str:
    """Collect what may be typed for the values of an entry, each once."""
    found = (
        *(_day(entry.day) if entry.day else ()),
        *(spelled for at in entry.times for spelled in _time(at)),
        *(spelled for span in entry.measures for spelled in _measures(span)),
        *(spelled for tempo in entry.tempos for spelled in _tempo(tempo)),
        *(str(key) for key in entry.keys),
    )
    return " ".join(dict.fromkeys(found))


def _day(day: date) -> Iterator[str]:
    """Spell names in full and short, numbers by month and day; in other languages also day first."""
    for code in dict.fromkeys((SOURCE, speech().code)):
        own = names(code)
        yield from (own.days[day.weekday()], own.short_days[day.weekday()])
        yield from (own.months[day.month - 1], own.short_months[day.month - 1])
    yield str(day.day)
    yield from (f"{day.month}/{day.day}", day.isoformat())
    if speech().code != SOURCE:
        yield f"{day.day}/{day.month}"


def _time(at: time) -> Iterator[str]:
    hour = at.hour % _NOON or _NOON
    yield f"{hour}:{at.minute:02}"
    yield f"{at:%H:%M}"
    if not at.minute:
        yield f"{hour}{'am' if at.hour < _NOON else 'pm'}"


def _measures(span: MeasureSpan) -> Iterator[str]:
    """Spell every measure: who asks for measure 14 means the passage around it."""
    for measure in range(span.first, min(span.last, span.first + _LONGEST_SPAN) + 1):
        yield f"m{measure}"


def _tempo(tempo: Tempo) -> Iterator[str]:
    yield from (str(tempo), "bpm", "tempo")
