"""Entries are taken out of a text so that all else is read as before, letter by letter."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from handbook.source.cutting import Cutting
from handbook.source.yaml_reader import YamlFile, read_yaml
from tests.demo import DEMO

RURAL = Path(__file__).parents[1] / "rural_year"
FILES = [
    *(DEMO / name for name in ("program.yaml", "years/2026-27.yaml", "events.yaml")),
    *sorted((DEMO / "cycles" / "winter-2026").glob("c*.yaml")),
    *sorted(RURAL.rglob("c*.yaml")),
]


def read(text: str) -> YamlFile:
    file = read_yaml("x.yaml", text.encode())
    assert isinstance(file.root, yaml.MappingNode)
    return file


def entries(node: yaml.Node, data: object) -> Iterator[tuple[yaml.MappingNode, dict[str, object]]]:
    """Give each entry of a file with the data that was read of it."""
    if isinstance(node, yaml.MappingNode) and isinstance(data, dict):
        yield node, data
        for key, value in node.value:
            if key.value in data:
                yield from entries(value, data[key.value])
    elif isinstance(node, yaml.SequenceNode) and isinstance(data, list):
        for one, item in zip(node.value, data, strict=True):
            yield from entries(one, item)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_field_taken_out_of_any_entry_changes_nothing_else(path: Path) -> None:
    """What the YAML reader makes of the text afterwards is the judge."""
    file = read(path.read_text("utf-8"))
    assert file.root is not None
    number = len(list(entries(file.root, file.data)))
    for place in range(0, number, 19):
        again = read(path.read_text("utf-8"))
        assert again.root is not None
        node, data = list(entries(again.root, again.data))[place]
        for name in list(data)[: 1 if len(data) > 1 else 0]:
            cutting = Cutting(again)
            cutting.take_out(node, {name})
            del data[name]
            assert read(cutting.without_head()).data == again.data


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_outermost_field_alone_is_read_as_before(path: Path) -> None:
    file = read(path.read_text("utf-8"))
    assert isinstance(file.data, dict)
    for name, value in file.data.items():
        cutting = Cutting(file)
        cutting.take_out(cutting.root, {key.value for key, _ in cutting.root.value} - {name})
        assert read(cutting.without_head()).data == {name: value}


TEXT = """\
# About the file.
a:
  - name: x
    # about from
    from: 1
    to: 2   # how long
    list: [a, b]
  # about the second
  - {k: 1, from: 2, to: 3}
  - text: |
      hello

      there
    private: >-
      mine

      # - an old item

# about z
z: 1 # as ever
"""


def test_remarks_go_with_what_they_are_about() -> None:
    cutting = Cutting(read(TEXT))
    items = cutting.root.value[0][1]
    for item in items.value:
        cutting.take_out(item, {"name", "from", "to", "private"})
    assert cutting.without_head() == (
        "a:\n"
        "  - list: [a, b]\n"
        "  # about the second\n"
        "  - {k: 1}\n"
        "  - text: |\n"
        "      hello\n"
        "\n"
        "      there\n"
        "\n"
        "# about z\n"
        "z: 1 # as ever\n"
    )


def test_items_go_with_the_remarks_above_them() -> None:
    cutting = Cutting(read(TEXT))
    items = cutting.root.value[0][1]
    cutting.take_out_items(items, {1, 2})
    cutting.put(items.value[0].value[1][1], "9")
    cutting.remark(items.value[0].value[2][1], "look")
    assert cutting.without_head() == (
        "a:\n"
        "  - name: x\n"
        "    # about from\n"
        "    from: 9\n"
        "    # look\n"
        "    to: 2   # how long\n"
        "    list: [a, b]\n"
        "\n"
        "# about z\n"
        "z: 1 # as ever\n"
    )


def test_a_value_is_put_behind_the_name_of_its_field() -> None:
    cutting = Cutting(
        read("a:\n  # of a\n  - 1\n  - 2\nb: [1,\n  2]  # of b\nc:\nd: |\n  x\n\ne: 1\n")
    )
    for name in "abcd":
        cutting.put_in(cutting.root, name, "[]")
    assert cutting.without_head() == "a: []\nb: []  # of b\nc: []\nd: []\n\ne: 1\n"


def test_of_a_list_in_brackets_the_other_items_stay() -> None:
    cutting = Cutting(read("a: [1, 2, 3] # of a\n"))
    cutting.take_out_items(cutting.root.value[0][1], {0, 2})
    assert cutting.without_head() == "a: [2] # of a\n"


def test_a_head_goes_with_the_field_below_it() -> None:
    cutting = Cutting(read("# About\n# the file.\n\n# about a\na: 1\n\n# about b\nb: 2\n"))
    cutting.take_out(cutting.root, {"a"})
    assert cutting.without_head() == "# about b\nb: 2\n"


def test_an_item_is_given_from_its_hyphen_on_with_what_was_changed() -> None:
    cutting = Cutting(
        read("a:\n-   every: Wed\n    bells: late\n    except:\n    - 1\n\n-   b: [{c: 1, d: 2}]\n")
    )
    items = cutting.root.value[0][1]
    cutting.take_out(items.value[0], {"except"})
    inner = items.value[1].value[0][1]
    cutting.take_out(inner.value[0], {"c"})
    assert cutting.item_text(items, 0) == "-   every: Wed\n    bells: late"
    assert cutting.item_text(items, 1) == "-   b: [{d: 2}]"
    assert cutting.item_text(inner, 0) == "- {d: 2}"
