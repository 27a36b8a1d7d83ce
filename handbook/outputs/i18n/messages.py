"""Our own words in the reader's language.

A message names its values, `gettext("Music %(start)s to about %(end)s", start=…, end=…)`, and
is never put together from pieces, since no two languages order them alike. A percent sign is
written twice. If a value is HTML the whole is, and all else in it is escaped.
"""

from __future__ import annotations

import re

from markupsafe import Markup

from handbook.outputs.i18n.speaking import speech

# Of no address: in `../` a slash follows.
_TWO_PERIODS = re.compile(r"(?<=[^\s./])\.\.(?=[\s<]|$)")


def gettext(message: str, /, **values: object) -> str:
    """Say a message with its values."""
    return _filled(speech().messages.gettext(message), values)


def pgettext(context: str, message: str, /, **values: object) -> str:
    """Say a message that means different things; `context` tells which is meant."""
    return _filled(speech().messages.pgettext(context, message), values)


def ngettext(singular: str, plural: str, num: int, /, **values: object) -> str:
    """Say a message about a number, which it may name as `%(num)s`."""
    return _filled(speech().messages.ngettext(singular, plural, num), {"num": num, **values})


def npgettext(context: str, singular: str, plural: str, num: int, /, **values: object) -> str:
    """Say a message about a number that means different things by `context`."""
    said = speech().messages.npgettext(context, singular, plural, num)
    return _filled(said, {"num": num, **values})


def gettext_noop(message: str) -> str:
    """Mark a message in a table for the catalogues; it is said with `gettext` where it is shown."""
    return message


def _filled(message: str, values: dict[str, object]) -> str:
    if any(hasattr(value, "__html__") for value in values.values()):
        told = Markup(message) % values  # noqa: S704 - our own words, whose values are escaped
        return Markup(_with_one_period(told))  # noqa: S704 - the same
    return _with_one_period(message % values)


def _with_one_period(told: str) -> str:
    """Let a value's own period, as in `4:40 p. m.`, end the sentence too."""
    return _TWO_PERIODS.sub(".", told) if ".." in told else told
