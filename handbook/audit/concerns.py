"""All kinds of things that a look at a site finds, by their codes."""

from __future__ import annotations

from collections.abc import Mapping

from handbook.audit import contacts, leftovers, media, own, people, sentences, weight
from handbook.audit.model import Concern

_MODULES = (own, contacts, leftovers, media, people, sentences, weight)
CONCERNS: Mapping[str, Concern] = {
    concern.code: concern
    for module in _MODULES
    for concern in vars(module).values()
    if isinstance(concern, Concern)
}
_ALWAYS_PUBLIC = frozenset(
    {
        own.UNUSED_PERMISSION.code,
        weight.HEAVY_PAGE.code,
        weight.HEAVY_FIRST_VIEW.code,
        weight.HEAVY_MEDIA_FILE.code,
    }
)


def concern_text(code: str) -> str | None:
    """Say what a look means by a code, what it does, and what to do; None for no code of a look."""
    concern = CONCERNS.get(code)
    if concern is None:
        return None
    does = "It stops a publication." if concern.refuses else "It is told, and stops nothing."
    said = (
        *(
            f"Found by `handbook publish` on the finished site: {concern.sentence}. {does}",
            f"{concern.hint[:1].upper()}{concern.hint[1:]}.",
        ),
        *(
            "If it is meant to be public, name it in program.yaml as the site shows it, with the reason:",
            '    may_be_public:\n      - {what: "555-0142", why: "ticket office, asked in November"}',
        ),
    )
    return "\n\n".join(said if code not in _ALWAYS_PUBLIC else said[:2])
