"""Messages with their values.

That an abbreviation's period ends the sentence too is by the Real Academia Española,
Ortografía (2010), on the period after abbreviations, and by The Chicago Manual of Style.
"""

from __future__ import annotations

from markupsafe import Markup

from handbook.outputs.i18n import gettext


def test_a_value_that_ends_with_a_period_ends_the_sentence() -> None:
    assert gettext("Pick-up %(time)s.", time="4:40 p. m.") == "Pick-up 4:40 p. m."
    assert gettext("%(day)s. %(what)s.", day="dic.", what="Band") == "dic. Band."
    bold = gettext("<b>%(what)s.</b>", what=Markup("<i>a</i> etc."))
    assert bold == Markup("<b><i>a</i> etc.</b>")
    assert isinstance(bold, Markup)


def test_dots_of_addresses_and_dots_in_threes_stay() -> None:
    assert gettext('<a href="%(url)s">', url="../../words/") == '<a href="../../words/">'
    assert gettext("%(what)s and so on", what="a...") == "a... and so on"
    assert gettext("%(what)s.", what="..") == "..."
