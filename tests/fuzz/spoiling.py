"""Small changes of a content folder, at the level of bytes, lines, tokens, nodes and values.

A sixth level, grammar, puts together what the seeds hold: fields and list items are taken
from wherever one of the same name stands in any seed, so that most of it is in order.
"""

from __future__ import annotations

import copy
import random
import re
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import Any

import yaml

from tests.fuzz.values import SIGNS, VALUES

Files = dict[str, bytes]
Pool = Mapping[str, tuple[Any, ...]]
_TOKEN = re.compile(r"([\[\]{},:#]\s?|\s+|-\s)")
_MOST_CHANGES = 4


def spoilt(seed: Files, level: str, pool: Pool, chance: random.Random) -> Files:
    """Give a folder with one or a few changes of one level in one or two of its files."""
    files = dict(seed)
    change = LEVELS[level]
    for _ in range(chance.choice((1, 1, 1, 2, _MOST_CHANGES))):
        name = chance.choice(sorted(files))
        files[name] = change(files[name], pool, chance)
    return files


def pool_of(seeds: Iterator[Files]) -> Pool:
    """Collect what stands under each field of all seeds, and the items of each list."""
    found: dict[str, list[Any]] = {}
    for files in seeds:
        for raw in files.values():
            for key, value in _fields(_tree(raw)):
                if value not in found.setdefault(key, []):
                    found[key].append(value)
    return {key: tuple(values) for key, values in found.items()}


def _bytes(raw: bytes, _pool: Pool, chance: random.Random) -> bytes:
    made = bytearray(raw)
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(made) + 1)
        match chance.randrange(4):
            case 0:
                made[at:at] = chance.choice(SIGNS).encode()
            case 1:
                made[at:at] = chance.randbytes(chance.randint(1, 4))
            case 2:
                del made[at : at + chance.randint(1, 8)]
            case _:
                made[at : at + 1] = chance.randbytes(1)
    return bytes(made)


def _lines(raw: bytes, _pool: Pool, chance: random.Random) -> bytes:
    lines = raw.decode("utf-8", "replace").split("\n")
    here, there = chance.randrange(len(lines)), chance.randrange(len(lines))
    match chance.randrange(6):
        case 0:
            del lines[here]
        case 1:
            lines.insert(here, lines[there])
        case 2:
            lines[here], lines[there] = lines[there], lines[here]
        case 3:
            lines[here] = " " * chance.randrange(9) + lines[here].lstrip()
        case 4:
            del lines[here : here + chance.randint(1, 12)]
        case _:
            lines = lines[:here]
    return "\n".join(lines).encode()


def _tokens(raw: bytes, _pool: Pool, chance: random.Random) -> bytes:
    tokens = _TOKEN.split(raw.decode("utf-8", "replace"))
    here, there = chance.randrange(len(tokens)), chance.randrange(len(tokens))
    match chance.randrange(4):
        case 0:
            tokens[here] = tokens[there]
        case 1:
            tokens[here] = chance.choice(VALUES)
        case 2:
            tokens[here], tokens[there] = tokens[there], tokens[here]
        case _:
            del tokens[here]
    return "".join(tokens).encode("utf-8", "replace")


def _nodes(raw: bytes, pool: Pool, chance: random.Random) -> bytes:
    def change(holder: Any, key: Any) -> None:
        value = holder[key]
        match chance.randrange(6):
            case 0:
                del holder[key]
            case 1:
                holder[key] = [value]
            case 2:
                holder[key] = {"id": value}
            case 3 if isinstance(value, list) and value:
                value.append(chance.choice(value))
            case 4 if isinstance(value, list):
                chance.shuffle(value)
            case _:
                holder[key] = chance.choice(pool[chance.choice(sorted(pool))])

    return _changed(raw, chance, change)


def _values(raw: bytes, _pool: Pool, chance: random.Random) -> bytes:
    def change(holder: Any, key: Any) -> None:
        holder[key] = (
            _read(chance.choice(VALUES)) if chance.random() < 0.5 else chance.choice(VALUES)
        )

    return _changed(raw, chance, change, leaves=True)


def _grammar(raw: bytes, pool: Pool, chance: random.Random) -> bytes:
    def change(holder: Any, key: Any) -> None:
        known = pool.get(key) if isinstance(key, str) else None
        if known:
            holder[key] = chance.choice(known)
        elif isinstance(holder, list) and chance.random() < 0.5:
            del holder[key]
        elif isinstance(holder, list):
            holder.append(holder[key])

    made = raw
    for _ in range(chance.randint(1, 4)):
        made = _changed(made, chance, change)
    return made


LEVELS: Mapping[str, Callable[[bytes, Pool, random.Random], bytes]] = {
    "byte": _bytes,
    "line": _lines,
    "token": _tokens,
    "node": _nodes,
    "value": _values,
    "grammar": _grammar,
}


def _changed(
    raw: bytes,
    chance: random.Random,
    change: Callable[[Any, Any], None],
    *,
    leaves: bool = False,
) -> bytes:
    """Change one place of a YAML file's tree; what is no YAML is left as it is."""
    tree = _tree(raw)
    places = [place for place in _places(tree) if not leaves or _is_leaf(place)]
    if not places:
        return raw
    change(*chance.choice(places))
    return yaml.safe_dump(tree, allow_unicode=True, sort_keys=False, width=200).encode(
        "utf-8", "replace"
    )


def _is_leaf(place: tuple[Any, Any]) -> bool:
    return not isinstance(place[0][place[1]], dict | list)


def _places(tree: Any) -> Iterator[tuple[Any, Any]]:
    steps = (
        list(tree) if isinstance(tree, dict) else range(len(tree)) if isinstance(tree, list) else ()
    )
    for step in steps:
        yield tree, step
        yield from _places(tree[step])


def _fields(tree: Any) -> Iterator[tuple[str, Any]]:
    for holder, step in _places(tree):
        if isinstance(step, str):
            yield step, holder[step]


def _tree(raw: bytes) -> Any:
    text = raw.decode("utf-8", "replace")
    made = _parsed(text)
    return made() if made else None


@lru_cache(maxsize=4096)
def _parsed(text: str) -> Callable[[], Any] | None:
    """Read a file once; each call gives a tree of its own. Texts stay texts, as the reader has them."""
    try:
        tree = yaml.load(text, Loader=yaml.BaseLoader)
    except (yaml.YAMLError, RecursionError, ValueError):
        return None
    return lambda: copy.deepcopy(tree)


def _read(text: str) -> Any:
    try:
        return yaml.load(text, Loader=yaml.BaseLoader)
    except (yaml.YAMLError, ValueError):
        return text
