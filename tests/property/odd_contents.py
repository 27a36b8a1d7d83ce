"""Contents that are in order, with values that are odd and yet allowed where they stand."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from typing import Any

import yaml

from tests.fuzz.seeds import SEEDS, read_folder
from tests.fuzz.spoiling import Files

TEXTS = (
    *("See [the rules](pages/odd.md#two)", "A ![map](media/the%20stage.pdf)", "[now](calendar/)"),
    *('[a](https://x.example/?a=1&b=2#c "t")', "<https://x.example> or <mailto:a@x.example>"),
    *("*a* **b** `c` ~~d~~ \\* & < > \" '", "<b>bold</b> <script>x</script>", "R&D &amp; &lt;"),
    *(
        "Play {Bb} and {F#4}",
        "a: b # c",
        "- one\n- two\n\n> three",
        "| a | b |\n|---|---|\n| c | d |",
    ),
    *(
        "```\n[x](nowhere)\n```",
        "`[x](nowhere)`",
        "\\[x](nowhere)",
        "[x] (nowhere)",
        "![a]",
        "[a][b]",
    ),
    *("[a [b](media/the%20stage.pdf) c](https://x.example)", "מוזיקה", "🎵 ♭ ♯ é ß", "a" * 4_000),
    *(
        "word " * 900,
        "…",
        "0",
        "1e9",
        "~x",
        "%s {{x}} {% x %} $x",
        "line\nline",
        "  a  ",
        "2026-12-10",
    ),
    *('x href="nowhere" src="https://y.example"', "[a]:", "media/none.mp3", "50 %", "a\\"),
    *("[x](./pages/../pages/odd.md)", "[x](%6dedia/the%20stage.pdf)", "[x](<media/the stage.pdf>)"),
)
NAMES = (
    *(
        "<b>x</b>",
        "[/b]",
        "[x](nowhere)",
        "*",
        "R&D",
        "מוזיקה",
        "🎵",
        "a" * 200,
        "null",
        "yes",
        "12",
    ),
    *(
        '"',
        "'",
        "{{x}}",
        "%s",
        "a: b",
        "# a",
        "- a",
        "é",
        "con",
        "a/b",
        "../x",
        "A · B",
        "[x]",
        "\\",
    ),
)
IDS = ("a", "0", "a-1", "b" * 60, "2026", "x1-y2-z3", "m", "lantern-band", "nul1", "null")
WORDS = ("♭", "main", "50%", "a b", "<b>", "é", "#", "q", "A", "letter a", "[x](nowhere)")
PAGES = (
    "## Two\n\n[up](#two) [this](odd.md) [now](../../calendar/) [map](../media/the%20stage.pdf)\n",
    '## Two\n\n`a href="nowhere"` and x id="y"\n\n    b src="nowhere"\n',
    "## Two\n\n## Two\n\n## ♭\n\n[a](#two_1) [b](#266d)\n",
    "## Two\n\nA[^1] b[^x]\n\n[^1]: one\n\n[^x]: two [c](odd.md#two)\n\n[^3]: three\n",
    '## Two\n\n!!! note "A [b](odd.md)"\n    c\n\n??? warning\n    - d\n        - e\n',
    "## Two\n\n| a [b](odd.md) | c |\n|---|--:|\n| d | `e|f` |\n\nterm\n:   told\n",
    "## Two\n\n[a]: odd.md\n[b]: <../media/the stage.pdf> 't'\n\n[a] [x][b] ![p][b] [![q](odd.md)](odd.md)\n",
    "## Two\n\n" + "[a](odd.md) " * 290 + "\n\n" + "> " * 40 + "deep\n",
)
PLAIN = (
    "about",
    "purpose",
    "text",
    "why",
    "parking",
    "access",
    "directions",
    "attire_note",
    "thanks",
)
LISTS = ("goals", "notes", "listen", "steps", "pick_up_rules", "notices", "attire", "bring")
TITLES = ("name", "title", "by", "school", "role", "level", "place")
VALUES: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(PLAIN, TEXTS),
    **dict.fromkeys(TITLES, NAMES),
    "key": ("Cb major", "F# minor", "D dorian", "B locrian"),
    "tuning_note": ("Bb", "A", "F#"),
    "priority": ("high", "low"),
    "counting": ("numbers",),
}
CYCLES = "cycles/"


def odd_content(seed: int) -> Files:
    """Give the content of a seed: a folder in order with some odd values, as a director may have it."""
    chance = random.Random(seed)
    files = dict(read_folder(chance.choice(SEEDS)))
    trees = {
        name: yaml.load(raw, Loader=yaml.BaseLoader)
        for name, raw in files.items()
        if ".yaml" in name
    }
    for _ in range(chance.randint(1, 5)):
        chance.choice(CHANGES)(trees, chance)
    page = f"# {chance.choice(NAMES)}\n\n{chance.choice(PAGES)}".encode()
    written = {
        name: yaml.safe_dump(tree, allow_unicode=True, sort_keys=False, width=500).encode()
        for name, tree in trees.items()
    }
    beside = {"pages/odd.md": page, "media/the stage.pdf": b"%PDF-1.7 a map"}
    return {**files, **written, **beside}


def _value(trees: dict[str, Any], chance: random.Random) -> None:
    """Replace the value of a field by an odd one."""
    places = [at for tree in trees.values() for at in _places(tree) if at[1] in VALUES]
    holder, name = chance.choice(places)
    holder[name] = chance.choice(VALUES[name])


def _listed(trees: dict[str, Any], chance: random.Random) -> None:
    """Add an odd text to a list of texts."""
    places = [
        holder[name]
        for tree in trees.values()
        for holder, name in _places(tree)
        if name in LISTS and isinstance(holder[name], list)
    ]
    chance.choice(places).append(chance.choice(TEXTS))


def _more(trees: dict[str, Any], chance: random.Random) -> None:
    """Write a field that the folder may do without."""
    program = trees["program.yaml"]
    pieces = [piece for name, tree in trees.items() if "music" in name for piece in tree["pieces"]]
    piece, word = chance.choice(pieces), chance.choice(WORDS)
    cycle = chance.choice([tree for name, tree in trees.items() if name.endswith("cycle.yaml")])
    match chance.randrange(6):
        case 0:
            program["about"] = chance.choice(TEXTS)
        case 1:
            program.setdefault("words", {})[word] = chance.choice(TEXTS)
            piece["terms"] = [word]
        case 2:
            piece["about"] = chance.choice(TEXTS)
        case 3:
            piece["watch"] = [{"measures": "1-2", "text": chance.choice(TEXTS)}]
        case 4:
            cycle["notes"] = [chance.choice(TEXTS), chance.choice(TEXTS)]
        case _:
            passage = chance.choice(piece["passages"])
            passage["home"] = chance.choice(TEXTS)


def _id(trees: dict[str, Any], chance: random.Random) -> None:
    """Call something by another id, wherever it is named."""
    known = sorted(
        {holder[name] for tree in trees.values() for holder, name in _places(tree) if name == "id"}
    )
    old, new = chance.choice(known), chance.choice(IDS)
    if new not in known:
        for name, tree in trees.items():
            trees[name] = _renamed(tree, old, new)


def _renamed(tree: Any, old: str, new: str) -> Any:
    if isinstance(tree, dict):
        return {
            new if key == old else key: _renamed(value, old, new) for key, value in tree.items()
        }
    if isinstance(tree, list):
        return [_renamed(value, old, new) for value in tree]
    return new if tree == old else tree


def _places(tree: Any) -> Iterator[tuple[Any, Any]]:
    """Give each field of a tree with the entry that holds it."""
    if isinstance(tree, dict):
        yield from ((tree, name) for name in tree)
    for value in (
        tree.values() if isinstance(tree, dict) else tree if isinstance(tree, list) else ()
    ):
        yield from _places(value)


CHANGES: tuple[Callable[[dict[str, Any], random.Random], None], ...] = (_value, _listed, _more, _id)
