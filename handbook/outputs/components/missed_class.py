"""Classes that players miss on the day of a concert, in words."""

from __future__ import annotations

from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.page import Context
from handbook.plan.concert_model import MissedClass


def missed_words(context: Context, missed: MissedClass) -> str:
    """Say whose rehearsal is missed by whom."""
    name, when = context.say(missed.ensemble.name), formatting.span(missed.start, missed.end)
    if missed.ensemble == missed.because:
        return gettext("%(band)s misses its rehearsal, %(when)s.", band=name, when=when)
    also = context.say(missed.because.name)
    if missed.shared is None:
        return gettext(
            "Players of %(band)s who are in %(other)s too miss its rehearsal, %(when)s.",
            band=name,
            other=also,
            when=when,
        )
    return ngettext(
        "The player of %(band)s who is in %(other)s too misses its rehearsal, %(when)s.",
        "The %(num)s players of %(band)s who are in %(other)s too miss its rehearsal, %(when)s.",
        missed.shared,
        band=name,
        other=also,
        when=when,
    )
