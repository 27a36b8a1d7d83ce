"""What a program says beside its pieces: who conducts, and whom the evening is owed to, by role."""

from __future__ import annotations

from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.page import Context
from handbook.plan.model import ConcertPlan
from handbook.schema.concert import Appearance


def conducted_by(context: Context, turn: Appearance) -> str:
    """Say who conducts a turn: as it states, else who leads the band; nothing if no role is named."""
    program = context.plan.program
    bands = {one.id: one.led_by for one in program.ensembles}
    roles = program.leaders(turn.led_by or bands.get(turn.band, ()))
    names = with_commas(context.say(one.name) for one in roles)
    return gettext("Conducted by %(leaders)s", leaders=names) if names else ""


def crew_names(context: Context, concert: ConcertPlan) -> str:
    """List the roles of the crew, as they are called; nothing if there are none."""
    return with_commas(context.say(role.name) for role in concert.item.crew)
