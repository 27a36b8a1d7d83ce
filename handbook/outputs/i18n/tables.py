"""Messages that stand in tables of the domain, where no call marks them for the catalogues."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.values.tempo import BEAT_UNITS
from handbook.outputs import note_values
from handbook.outputs.components import click_beats
from handbook.outputs.components.cautions import caution_messages
from handbook.outputs.instrument_names import name_messages
from handbook.outputs.note_names import note_messages
from handbook.page_kinds import KINDS


def table_messages() -> Iterator[tuple[str, str]]:
    """Give each with its context, as `pgettext` is asked for it; an empty context for `gettext`."""
    yield from (("menu", kind.menu) for kind in KINDS if kind.menu)
    yield from (("beat", f"{unit.name} note") for unit in BEAT_UNITS.values())
    yield from note_messages()
    yield from name_messages()
    yield from note_values.messages()
    yield from click_beats.messages()
    yield from caution_messages()
