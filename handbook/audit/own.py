"""What a program makes public on purpose: its own address, its places, its pieces, its plain words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from urllib.parse import urlsplit

from handbook.audit.model import Concern, Words
from handbook.audit.tables.trade_words import TRADE_WORDS
from handbook.checks.traversal import texts
from handbook.domain.values.text import Text
from handbook.plan.model import Plan
from handbook.records import dataclass

UNUSED_PERMISSION = Concern(
    "unused-permission",
    "program.yaml lets this be public, and nothing like it is on the site",
    "take the entry out of `may_be_public`",
    refuses=False,
)

_PLAIN_WORD = re.compile(r"(?<![\w'’])[a-zà-ÿ]{3,}")
_WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
_DIGIT = re.compile(r"\d")
_OF_PLACES = frozenset({"place", "pick_up_place", "address"})  # fields
_LEAST_LABELS = 2  # of a domain: school.example


@dataclass(frozen=True, slots=True)
class OwnWords:
    """What may stand on a program's site without a question.

    `phones` are digits alone; `domains` are those of its mail and its address; `names` are
    those of its places, bands and pieces and of whoever wrote these, folded; `places` are what is said
    of where its halls and events are; `plain` are words that the site uses in small letters, which
    are no names of people, and those of the trade.
    """

    phones: frozenset[str]
    mails: frozenset[str]
    domains: frozenset[str]
    names: frozenset[str]
    places: tuple[str, ...]
    plain: frozenset[str]

    def is_plain(self, word: str) -> bool:
        """Whether a word is an ordinary one, whatever its capitals, and no name of a person."""
        low = word.lower()
        return low in self.plain or low.removesuffix("s") in self.plain

    def is_named(self, name: str) -> bool:
        """Whether the program has something of this name."""
        return folded(name) in self.names


def own_words(plan: Plan, words: Iterable[Words]) -> OwnWords:
    """Gather what a plan says of itself, and the plain words of its site."""
    program = plan.program
    mail = (program.contact.email or "").lower()
    hosts = {mail.rpartition("@")[2], (urlsplit(program.address or "").hostname or "").lower()}
    texts = {run.text for run in words}
    plain = {word for text in texts for word in _PLAIN_WORD.findall(text)}
    return OwnWords(
        phones=frozenset(map(digits_of, _phones(plan))) - {""},
        mails=frozenset({mail} - {""}),
        domains=frozenset(host for host in hosts if host.count(".") >= _LEAST_LABELS - 1),
        names=frozenset(folded(text) for text in _names(plan)),
        places=tuple(folded(text) for text in _places(plan)),
        plain=frozenset(plain) | TRADE_WORDS,
    )


def digits_of(text: str) -> str:
    """Leave out all but the digits."""
    return "".join(_DIGIT.findall(text))


def folded(text: str) -> str:
    """Write a text as it is compared: small letters, single spaces, plain apostrophes and hyphens."""
    plain = text.casefold().replace("’", "'").replace("\u2011", "-")
    return " ".join(plain.split())


def words_of(text: str) -> tuple[str, ...]:
    """Give the words of a text, without digits and signs."""
    return tuple(_WORD.findall(text))


def _phones(plan: Plan) -> Iterator[str]:
    """Give the numbers that a program is called at, at any time or on one day."""
    yield plan.program.contact.phone or ""
    called = [one.item.on_the_day for cycle in plan.cycles for one in cycle.concerts]
    called += [day.facts.on_the_day for event in plan.events for day in event.days]
    yield from (one.phone for one in called if one)


def _names(plan: Plan) -> Iterator[str]:
    program = plan.program
    texts = [program.name, program.school, *((program.place,) if program.place else ())]
    texts += [band.name for band in program.ensembles]
    texts += [room.name for room in program.rehearsal_rooms.values()]
    texts += [venue.name for venue in program.venues]
    for cycle in plan.cycles:
        pieces = [row.item for band in cycle.ensembles for row in band.pieces]
        texts += [piece.title for piece in pieces]
        texts += [piece.by for piece in pieces if piece.by]
        for concert in cycle.concerts:
            played = [one for guest in concert.item.guests for one in guest.pieces]
            texts += [one.title for one in played]
            texts += [one.by for one in played if one.by]
            texts += [guest.name for guest in concert.item.guests]
    for text in texts:
        yield from _versions(text)
        for version in _versions(text):
            # `Arr. by First Last`, or two of them with a sign between
            yield from re.split(r"\s*(?:[,;/&]|\band\b|\barr\.?|\bby\b|\btrans\.?)\s*", version)


def _places(plan: Plan) -> Iterator[str]:
    """Give the addresses of halls, and where events and steps of a concert's day are."""
    for venue in plan.program.venues:
        yield from _versions(venue.address)
    items = [row.item for row in plan.events]
    concerts = [concert.item for cycle in plan.cycles for concert in cycle.concerts]
    for item in (*items, *concerts):
        for address, text in texts(item, ()):
            if address and address[-1] in _OF_PLACES:
                yield from _versions(text)


def _versions(text: Text) -> Iterator[str]:
    return (version for _, version in text.versions)
