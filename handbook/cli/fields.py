"""What may stand in a content file, field by field, as text for a terminal of 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping

from handbook.schema.base import Item
from handbook.schema.concert import Concert, UsualConcert
from handbook.schema.cycle import Cycle, Usual
from handbook.schema.entries import entry_inside, field_descriptions
from handbook.schema.handbook import MODELS
from handbook.source.names import nearest

_WIDTH, _INDENT = 80, 2
_NEEDED, _IF_NOT_USUAL = "(needed) ", "(needed, if the program has none under usual) "
_USUAL: Mapping[type[Item], type[Item]] = {Cycle: Usual, Concert: UsualConcert}


def fields_text(name: str) -> str | None:
    """Say which fields a content file has, or one of its entries: `concert`, `concert.yaml`, `concert.program`.

    None for a name that is no content file's; what such a file does not have is told with
    what is near it.
    """
    topic, *steps = name.replace(".yaml", "", 1).split(".")
    topic = {"years": "year", "cycles": "cycle", "event": "events"}.get(topic, topic)
    model = MODELS.get(topic)
    if model is None:
        return None
    for place, step in enumerate(steps):
        inside = entry_inside(model, step)
        if inside is None:
            above = ".".join((topic, *steps[:place]))
            known = [one for one in field_descriptions(model) if entry_inside(model, one)]
            near = nearest(step, known, most=1) or known
            return f"{above} has no entries called {step}: there are {', '.join(near)}"
        model = inside
    title = ".".join((topic, *steps)) if steps else f"{topic}.yaml"
    return "\n".join((title, "", *_lines(model, 0, ())))


def _lines(model: type[Item], depth: int, above: tuple[type[Item], ...]) -> Iterator[str]:
    """List the fields of an entry, those of entries within it below them."""
    needed = {
        field.alias or name for name, field in model.model_fields.items() if field.is_required()
    }
    usual = _USUAL[model].model_fields if model in _USUAL else {}
    for name, description in field_descriptions(model).items():
        lead = " " * (_INDENT * depth)
        mark = (_IF_NOT_USUAL if name in usual else _NEEDED) if name in needed else ""
        words = f"{mark}{description}"
        yield textwrap.fill(
            f"{name}: {words}",
            _WIDTH,
            initial_indent=lead,
            subsequent_indent=f"{lead}    ",
            break_on_hyphens=False,
        )
        inside = entry_inside(model, name)
        if inside is not None and inside not in above:
            yield from _lines(inside, depth + 1, (*above, model))
