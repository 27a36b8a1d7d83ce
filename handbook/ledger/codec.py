"""A history as the text of the ledger, and back."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from handbook.domain.calendar_events import EventRecord
from handbook.domain.facts import Fact
from handbook.domain.history import History, PageRecord, Publication
from handbook.ledger.records_json import (
    OddRecordError,
    from_json,
    mapping_from_json,
    text_from_json,
    to_json,
    tuple_from_json,
)
from handbook.records import dataclass

FORMAT = 2  # 1 had no words in other languages; it is read as well
_ABOUT = "Written by `handbook publish`. Keep it with the content, and change nothing in it."
_TOPICS = {"publications", "facts", "pages", "events"}
_SHA256 = re.compile("[0-9a-f]{64}")
_CONFLICT = re.compile(r"(?m)^(<{7}|={7}|>{7})")


class DamagedError(Exception):
    """A text that is no ledger. The text says what is wrong; `line` counts from 1."""

    def __init__(self, why: str, line: int = 1) -> None:
        super().__init__(why)
        self.line = line


class NewerError(Exception):
    """A ledger in a form that only a newer program knows."""


@dataclass(frozen=True, slots=True)
class Proof:
    """What shows that the publication of a ledger was done: `file`, from the content folder, has `digest`."""

    file: str
    digest: str


def encode(history: History, proof: Proof | None = None) -> bytes:
    """Write a history, each entry on a line of its own, so that versions can be compared.

    Raises ValueError if one is still to come: a fault of ours.
    """
    if history.coming:
        raise ValueError("a ledger tells only of what has been published")
    head: dict[str, Any] = {
        "about": _ABOUT,
        "format": FORMAT,
        "program": history.program,
        "zone": history.zone,
    }
    if proof:
        head["proof"] = to_json(proof)
    lines = [f"{_text(name)}: {_text(value)}" for name, value in head.items()]
    lines += [
        _block("publications", "[]", map(_text, to_json(history.publications))),
        _block("facts", "[]", map(_text, to_json(history.facts))),
        _block("pages", "{}", _rows(to_json(history.pages))),
        _block("events", "{}", _rows(to_json(history.events))),
    ]
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode()


def decode(raw: bytes) -> tuple[History, Proof | None]:
    """Read what `encode` wrote; raises DamagedError or NewerError."""
    data = _data(raw)
    try:
        proof = from_json(Proof, data["proof"], "proof") if "proof" in data else None
        history = _history(data)
        _refuse_contradictions(history)
    except OddRecordError as error:
        raise DamagedError(f"`{error}` is not as handbook writes it") from None
    return history, proof


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _rows(entries: Mapping[str, Any]) -> Iterator[str]:
    return (f"{_text(key)}: {_text(value)}" for key, value in entries.items())


def _block(name: str, brackets: str, rows: Iterator[str]) -> str:
    inside = ",\n".join(rows)
    return f"{_text(name)}: {brackets[0]}\n{inside}\n{brackets[1]}"


def _data(raw: bytes) -> dict[str, Any]:
    try:
        text = raw.decode()
        data = json.loads(text)
    except UnicodeDecodeError as error:
        raise DamagedError("it is not in UTF-8", raw.count(b"\n", 0, error.start) + 1) from None
    except json.JSONDecodeError as error:
        conflict = _CONFLICT.search(text)
        if conflict:
            line = text.count("\n", 0, conflict.start()) + 1
            raise DamagedError("git left two versions of it in one file", line) from None
        raise DamagedError("it breaks off or was changed here", error.lineno) from None
    except (RecursionError, ValueError):  # brackets without end, or a number of thousands of digits
        raise DamagedError("it was not written by handbook") from None
    form = data.get("format") if isinstance(data, dict) else None
    if not isinstance(form, int) or isinstance(form, bool) or form < 1:
        raise DamagedError("it was not written by handbook")
    if form > FORMAT:
        raise NewerError
    known = {"about", "format", "program", "zone", *_TOPICS}
    if not known <= data.keys() <= known | {"proof"}:
        raise DamagedError("something is missing in it, or was added")
    return dict(data)


def _history(data: Mapping[str, Any]) -> History:
    return History(
        program=text_from_json(data["program"], "program"),
        zone=text_from_json(data["zone"], "zone"),
        publications=tuple_from_json(Publication, data["publications"], "publications"),
        facts=tuple_from_json(Fact, data["facts"], "facts"),
        pages=mapping_from_json(PageRecord, data["pages"], "pages"),
        events=mapping_from_json(EventRecord, data["events"], "events"),
    )


def _refuse_contradictions(history: History) -> None:
    """Raise OddRecordError for what each part may hold, but not beside the others."""
    _refuse_order(history.publications)
    keys = [fact.key for fact in history.facts]
    if len(set(keys)) < len(keys):
        raise OddRecordError("facts")
    for path, page in history.pages.items():
        _refuse_digest(page.digest, f"pages[{path}].digest")
    for uid, record in history.events.items():
        event = record.event
        kinds_agree = type(event.starts) is type(event.ends)
        if event.uid != uid or not kinds_agree or event.ends < event.starts:
            raise OddRecordError(f"events[{uid}]")


def _refuse_order(publications: Sequence[Publication]) -> None:
    for place, one in enumerate(publications):
        _refuse_digest(one.site, f"publications[{place}].site")
        for change in one.changes:
            if not (change.old or change.new) or (
                change.old and change.new and change.old.key != change.new.key
            ):
                raise OddRecordError(f"publications[{place}].changes")
    later = [
        earlier.number < one.number and earlier.instant <= one.instant
        for earlier, one in pairwise(publications)
    ]
    if not all(later) or not all(one.number for one in publications):
        raise OddRecordError("publications")


def _refuse_digest(text: str, where: str) -> None:
    if not _SHA256.fullmatch(text):
        raise OddRecordError(where)
