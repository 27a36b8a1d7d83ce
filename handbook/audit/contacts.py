"""Phone numbers and mail addresses other than the program's own."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from handbook.audit.model import Concern, Seen, Words
from handbook.audit.own import OwnWords, digits_of
from handbook.audit.tables.given_names import GIVEN_NAMES

PHONE_NUMBER = Concern(
    "phone-number",
    "this phone number is not the program's own",
    "take it out, or give the number of an office",
    refuses=True,
)
MAIL_ADDRESS = Concern(
    "mail-address",
    "this mail address is not of the program's own domain",
    "take it out, or give the address of a role, such as the band office",
    refuses=True,
)
MAIL_OF_PERSON = Concern(
    "mail-of-a-person",
    "this mail address looks like one person's",
    "give the address of a role, such as the band office",
    refuses=False,
)
NAME_OF_ACCOUNT = Concern(
    "name-of-an-account",
    "this looks like the name of somebody's account",
    "take it out unless it is the program's own, or a role's",
    refuses=False,
)

# North American numbers (ITU-T E.164 and the national plan: 3 + 3 + 4 digits, the first three may
# be left out), and others with their country's code.
_PHONE = re.compile(
    r"""(?<![\w./+-])(?:
        (?:\+?1[ .-]?)?(?:\(\d{3}\)[ ]?|\d{3}[ .-])\d{3}[ .-]\d{4}
        |\d{3}[-.]\d{4}
        |\+(?!1\b)\d{1,3}(?:[ ().-]{0,2}\d){7,12}
    )(?![\w-]|\.\d)""",
    re.VERBOSE,
)
_BARE_PHONE = re.compile(
    r"(?i)\b(?:tel:|sms:|phone|call|text|cell|mobile|tel[eé]fono|llam[ae]n?)\W{0,3}(?:\w+ ){0,2}(\+?1?\d{10})\b"
)
_LINKED_PHONE = re.compile(r"(?i)^(?:tel|sms):([\d+().,; -]{7,})")
_MAIL = re.compile(r"(?<![\w.+-])[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
# The keys of JSON-LD 1.1 begin so, too.
_ACCOUNT = re.compile(
    r"(?<![\w.+@/-])@(?!(?:home|midnight|noon|school|the)\b)[A-Za-z_](?:\.?\w){2,29}(?![\w@-]|\"\s*:)"
)
_HIDDEN_MAIL = re.compile(
    r"(?i)(?<![\w.+-])[\w.+-]+ ?[\[({] ?at ?[\])}] ?[\w-]+(?: ?(?:[\[({] ?dot ?[\])}]|\.) ?[\w-]+)+"
)
_MAYBE_PHONE = re.compile(r"\d{3}[-. )]{1,2}\d{3}|\d{10}|\+\d")
_MEASURES = re.compile(r"(?i)\b(?:measures?|mm?\.?|bars?|comp[aá]s(?:es)?) ?$")
_OF_NUMBER = 7  # digits that a number has without its area


def contacts(words: Sequence[Words], own: OwnWords) -> Iterator[Seen]:
    """Find phone numbers and mail addresses that are not the program's own."""
    for run in words:
        text = run.text.replace("\u2011", "-")
        if "@" in text or "at" in run.single:
            yield from _mails(text, run.file, own)
            yield from (Seen(NAME_OF_ACCOUNT, one[0], run.file) for one in _ACCOUNT.finditer(text))
        if _MAYBE_PHONE.search(text):
            yield from _phones(text, run.file, own)


def _mails(text: str, file: str, own: OwnWords) -> Iterator[Seen]:
    for match in _MAIL.finditer(text):
        mail = match[0].rstrip(".").lower()
        if mail in own.mails:
            continue
        if not _is_own_domain(mail.rpartition("@")[2], own):
            yield Seen(MAIL_ADDRESS, match[0].rstrip("."), file)
        elif _of_person(mail.rpartition("@")[0]):
            yield Seen(MAIL_OF_PERSON, match[0].rstrip("."), file)
    for match in _HIDDEN_MAIL.finditer(text):
        yield Seen(MAIL_ADDRESS, match[0], file)


def _is_own_domain(domain: str, own: OwnWords) -> bool:
    return any(domain == host or host.endswith(f".{domain}") for host in own.domains)


def _of_person(local: str) -> bool:
    """Whether the part before the sign is made of a given name and more."""
    given = {name.lower() for name in GIVEN_NAMES}
    parts = re.split(r"[._+-]", local)
    return len(parts) > 1 and (parts[0] in given or parts[-1] in given or len(parts[0]) == 1)


def _phones(text: str, file: str, own: OwnWords) -> Iterator[Seen]:
    for pattern in (_PHONE, _BARE_PHONE, _LINKED_PHONE):
        for match in pattern.finditer(text):
            found = match[match.lastindex or 0]
            if _MEASURES.search(text, 0, match.start()):
                continue
            if not _is_own_phone(digits_of(found), own):
                yield Seen(PHONE_NUMBER, found.strip(), file)


def _is_own_phone(digits: str, own: OwnWords) -> bool:
    """Whether two numbers are one: an area or country may be left out of either."""
    return any(
        min(len(digits), len(phone)) >= _OF_NUMBER
        and (digits.endswith(phone) or phone.endswith(digits))
        for phone in own.phones
    )
