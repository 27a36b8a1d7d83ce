"""What of a file can be read although some of it is refused, so that the rest is checked in the same run.

The smallest entry of a list around each refused value is left out, or the field at the top
of the file; what must be there stands in for itself with an empty likeness. What was left
out is noted, so that nothing is said that only its absence makes true.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import Any, TypeVar

from pydantic import ValidationError

from handbook.loader.validation_errors import refused_places
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.base import Item
from handbook.schema.music import Music, Piece
from handbook.schema.scalars.patterns import KEBAB
from handbook.schema.site_names import MOST_LETTERS
from handbook.source.nodes import Data

ItemT = TypeVar("ItemT", bound=Item)
Steps = tuple[str | int, ...]

_WORD, _PART = re.compile(r"[\w-]+"), re.compile("[a-z0-9]+")
_MOST_ROUNDS, _MOST_PLACES = 5, 500
_NOBODY = "nobody"
_PIECE: Mapping[str, Any] = {
    "id": _NOBODY,
    "title": "-",
    "form": [{"name": "-", "measures": "1-4", "meter": "4/4", "tempo": "quarter = 60"}],
    "passages": [{"id": _NOBODY, "name": "-", "measures": "1-4", "goal": "quarter = 60"}],
}
_STANDS_IN: Mapping[str, Mapping[str, Any]] = {
    "program": {
        "name": "-",
        "school": "-",
        "time_zone": "UTC",
        "contact": {"role": "-"},
        "ensembles": [{"id": _NOBODY, "name": "-"}],
    },
    "year": {
        "first_day": "2000-01-03",
        "last_day": "2000-01-04",
        "meetings": [{"ensemble": _NOBODY, "weekdays": ["Mon"], "start": "10:00", "end": "10:01"}],
    },
    "cycle": {
        "name": "-",
        "year": _NOBODY,
        "starts": "2000-01-03",
        "ensembles": [_NOBODY],
        "stages": [
            {
                "id": _NOBODY,
                "name": "-",
                "purpose": "-",
                "tempo": "50-100",
                "minutes": {"fundamentals": "1", "music": "1"},
                "goals": ["-"],
            }
        ],
    },
    "music": {"pieces": [{**_PIECE, "ensemble": _NOBODY}]},
    "concert": {
        "name": "-",
        "date": "2000-01-04",
        "downbeat": "19:00",
        "venue": _NOBODY,
        "program": [{"ensemble": _NOBODY, "pieces": [_NOBODY]}],
    },
    "log": {"date": "2000-01-03", "ensemble": _NOBODY},
    "fundamentals": {},
    "events": {"events": [{"id": _NOBODY, "name": "-", "date": "2000-01-03"}]},
}
_OF_DAYS = frozenset({"year", "cycle", "concert"})
_DATES = frozenset({"first_day", "last_day", "starts", "ends", "date", "year", "school_days"})


@dataclass(frozen=True, slots=True)
class Lost:
    """Something that could not be read: where it stood, and all words that stand in it.

    `place` is the address of the entry or field, or of the file alone if all of it is lost.
    `words` are None if not even they can be told. `fields` are those at the top of the file
    that lack something, `dates` if days are known only with them.
    """

    place: Address
    words: frozenset[str] | None
    fields: frozenset[str]
    dates: bool = False

    @property
    def file(self) -> str:
        """The content file."""
        return str(self.place[0])


@dataclass(frozen=True, slots=True)
class Salvaged:
    """What could be read of a file; `cuts` are the places that were left out, `data` is whole."""

    item: Item
    lost: tuple[Lost, ...]
    data: Data
    cuts: frozenset[Steps] = frozenset()

    def as_written(self, address: Address) -> Address:
        """Turn an address in what could be read into one in the file: list places count all entries."""
        node: Any = self.data
        there: Steps = ()
        for step in address[1:]:
            if isinstance(node, list) and isinstance(step, int):
                kept = [
                    n
                    for n, one in enumerate(node)
                    if (*there, n) not in self.cuts or likeness_of(there, one)
                ]
                written = kept[step] if step < len(kept) else step
                there = (*there, written)
                node = node[written] if written < len(node) else None
            else:
                there = (*there, step)
                node = node.get(step) if isinstance(node, dict) else None
        return (address[0], *there)


def likeness_of(where: Steps, entry: Any) -> dict[str, Any]:
    """Give an empty likeness of a refused piece, so that its name still leads to something; else nothing."""
    if where != ("pieces",) or not isinstance(entry, dict):
        return {}
    names = {name: entry.get(name) for name in ("id", "title", "ensemble", "ensembles")}
    listed = entry.get("ensembles")
    bands: list[Any] = listed if isinstance(listed, list) else []
    ids = [names["id"], *([names["ensemble"]] if names["ensemble"] else []), *bands]
    if not isinstance(names["title"], str) or not all(
        isinstance(one, str) and re.fullmatch(KEBAB, one) for one in ids
    ):
        return {}
    given = {name: value for name, value in names.items() if value}
    return {**_PIECE, **given} if len(ids) > 1 else {}


def salvage(
    file: str, topic: str, model: type[ItemT], data: Data, lines: Iterable[str]
) -> Salvaged:
    """Read what can be read of a refused file; `data` is None if it could not be read at all."""
    owner = file.rpartition("/")[2].removesuffix(".yaml")
    stands_in = _STANDS_IN[topic]
    if not isinstance(data, dict):
        written = [line for line in lines if line.strip() and not line.lstrip().startswith("#")]
        words = _words((*written, owner)) if written else None
        fields = frozenset(one.alias or name for name, one in model.model_fields.items())
        whole = Lost((file,), words, fields, topic in _OF_DAYS)
        return Salvaged(model.model_validate(stands_in), (whole,), {})
    cuts: frozenset[Steps] = frozenset()
    for _ in range(_MOST_ROUNDS):
        kept = _without(data, cuts)
        for name, likeness in stands_in.items():
            kept.setdefault(name, likeness)
        try:
            item = model.model_validate(kept)
        except ValidationError as error:
            known = Salvaged(model.model_construct(), (), data, cuts)
            places = islice(refused_places(kept, model, error), _MOST_PLACES)
            more = frozenset(_cut(data, known.as_written((file, *at))[1:]) for at in places)
            if more <= cuts or () in more:
                break
            cuts |= more
        else:
            missing = frozenset((name,) for name in stands_in if name not in data)
            outer = {
                steps
                for steps in (*cuts, *missing)
                if not any(steps[:n] in cuts for n in range(1, len(steps)))
            }
            lost = (_lost(file, data, steps) for steps in sorted(outer, key=str))
            return Salvaged(item, tuple(lost), data, cuts)
    return salvage(file, topic, model, None, _scalars(data))


def _without(data: Any, cuts: frozenset[Steps], here: Steps = ()) -> Any:
    if isinstance(data, dict):
        return {
            name: _without(value, cuts, (*here, name))
            for name, value in data.items()
            if (*here, name) not in cuts
        }
    if isinstance(data, list):
        return [
            _without(value, cuts, (*here, n)) if (*here, n) not in cuts else likeness
            for n, value in enumerate(data)
            if (likeness := likeness_of(here, value)) or (*here, n) not in cuts
        ]
    return data


def _cut(data: Any, steps: Steps) -> Steps:
    """Give the smallest entry of a list around a place, or the field at the top of the file."""
    node, cut = data, steps[:1]
    for n, step in enumerate(steps, 1):
        inside = isinstance(node, list) and isinstance(step, int) and step < len(node)
        if isinstance(node, dict) and step in node:
            node = node[step]
        elif inside:
            node = node[step]
            if isinstance(node, dict):
                cut = steps[:n]
        else:
            break
    return cut


def _lost(file: str, data: Any, steps: Steps) -> Lost:
    node = data
    for step in steps:
        inside = step in node if isinstance(node, dict) else isinstance(node, list)
        node = node[step] if inside else None
    field = str(steps[0])
    return Lost(
        (file, *steps),
        _words(_scalars(node)),
        frozenset({field}),
        len(steps) == 1 and field in _DATES,
    )


def _words(texts: Iterable[str]) -> frozenset[str]:
    """Give all words of texts, and each short text as the id that was surely meant by it."""
    words: set[str] = set()
    for text in texts:
        words.update(_WORD.findall(text.casefold()))
        if len(text) <= MOST_LETTERS:
            words.add("-".join(_PART.findall(text.casefold())))
    return frozenset(words)


def _scalars(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        for name, value in node.items():
            yield name
            yield from _scalars(value)
    elif isinstance(node, list):
        for value in node:
            yield from _scalars(value)
    elif isinstance(node, str):
        yield node


def piece_likeness() -> Piece:
    """Give an empty piece, to stand for one that cannot be read."""
    return Music.model_validate(_STANDS_IN["music"]).pieces[0]
