"""Putting translations into the content: each beside its text, where it stands; no other byte changes."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping

import yaml

from handbook.problems import Address
from handbook.records import dataclass
from handbook.source.cutting import Cutting
from handbook.source.quoting import in_quotes
from handbook.source.source_map import is_called
from handbook.source.yaml_reader import LOADER, YamlFile, read_yaml
from handbook.translating.lacking import Lack, LackingText
from handbook.translating.paragraphs import paragraphs

_BYTE_ORDER_MARK = b"\xef\xbb\xbf"
_EXPLICIT_INDENT = re.compile(r"[|>][+-]?\d")


@dataclass(frozen=True, slots=True)
class TakenFile:
    """A file as it would be with its translations, and how many those are; `before` is None for a new one."""

    name: str
    before: bytes | None
    after: bytes
    texts: int


@dataclass(frozen=True, slots=True)
class Taken:
    """The files that would change, and pages of which not every paragraph is translated."""

    files: tuple[TakenFile, ...]
    unfinished: tuple[str, ...]


def taken(lack: Lack, words: Mapping[str, str], raw: Mapping[str, bytes], first: str) -> Taken:
    """Put translations into the files; `words` gives them by text, `first` is the first language.

    `raw` are the bytes of the content's files.
    """
    files = list[TakenFile]()
    for name, texts in lack.by_file().items():
        known = [text for text in texts if text.words in words]
        if known and name in raw:
            after = with_versions(name, raw[name], known, words, lack.language, first)
            files.append(TakenFile(name, raw[name], after, len(known)))
    unfinished = []
    for page in lack.pages:
        parts = paragraphs(_decoded(raw[page.file]))
        said = [words.get(one.words, "") for one in parts]
        if all(said):
            name = f"pages/{lack.language}/{page.file.removeprefix('pages/')}"
            text = "\n\n".join(said) + "\n"
            files.append(TakenFile(name, None, text.encode(), len(said)))
        elif any(said):
            unfinished.append(page.file)
    return Taken(tuple(files), tuple(unfinished))


def with_versions(
    name: str,
    raw: bytes,
    texts: Iterable[LackingText],
    words: Mapping[str, str],
    language: str,
    first: str,
) -> bytes:
    """Give a file's bytes with a version in a language beside each of some texts."""
    file = read_yaml(name, raw)
    cutting = Cutting(file)
    for text in texts:
        _put(cutting, file, text, (language, words[text.words]), first)
    return _with_ends_of(raw, cutting.whole())


def _put(
    cutting: Cutting, file: YamlFile, text: LackingText, version: tuple[str, str], first: str
) -> None:
    """Write a version beside what is there: into the mapping of languages, or making one of a plain text."""
    assert file.root
    key, node = _follow(file.root, text.address)
    if not _is_text(node, text, first):
        return
    if isinstance(node, yaml.MappingNode):
        _put_in(cutting, file, node, version)
    elif isinstance(node, yaml.ScalarNode):
        _put_beside(cutting, key, node, version, first)


def _put_beside(
    cutting: Cutting,
    key: yaml.Node | None,
    node: yaml.ScalarNode,
    version: tuple[str, str],
    first: str,
) -> None:
    """Make a mapping of languages of a plain text, which stays as it is written."""
    own = _pair(version)
    if node.style in {"|", ">"}:
        written = cutting.text_of(node)
        if not _EXPLICIT_INDENT.match(written):
            indent = (key.start_mark.column if key else node.start_mark.column - 2) + 2
            lines = [f"  {line}" if line.strip() else line for line in written.split("\n")[1:]]
            block = "\n".join([f"{first}: {written.split(chr(10))[0]}", *lines])
            lead = "\n" + " " * indent if key else ""
            cutting.put(node, f"{lead}{block}\n{' ' * indent}{own}")
            return
    plain = cutting.text_of(node)
    if not _stands_in_braces(plain, node.value):
        plain = _quoted(node.value)
    cutting.put(node, f"{{{first}: {plain}, {own}}}")


def _put_in(
    cutting: Cutting, file: YamlFile, node: yaml.MappingNode, version: tuple[str, str]
) -> None:
    language, words = version
    if any(key.value == language for key, _ in node.value):  # there, and empty
        cutting.put_in(node, language, _quoted(words))
        return
    key, value = node.value[-1]
    if node.flow_style:
        cutting.put(value, f"{cutting.text_of(value)}, {_pair(version)}")
        return
    indent = " " * key.start_mark.column
    line = file.lines[value.end_mark.line] if value.end_mark.line < len(file.lines) else ""
    if value.style not in {"|", ">"} and line[value.end_mark.column :].strip():
        cutting.put(key, f"{_pair(version)}\n{indent}{cutting.text_of(key)}")  # before its remark
        return
    cutting.put(value, f"{cutting.text_of(value)}\n{indent}{_pair(version)}")


def _pair(version: tuple[str, str]) -> str:
    language, words = version
    return f"{language}: {_quoted(words)}"


def _quoted(words: str) -> str:
    """Quote words on one line, whatever is in them."""
    return (
        json.dumps(words, ensure_ascii=False)
        if "\n" in words or "\t" in words
        else in_quotes(words)
    )


def _stands_in_braces(written: str, value: str) -> bool:
    """Whether a text reads the same within braces as it does outside."""
    if "\n" in written:
        return False
    try:
        read = yaml.load(f"{{x: {written}, y: z}}", Loader=LOADER)  # noqa: S506 - texts alone
    except yaml.YAMLError:
        return False
    return bool(read == {"x": value, "y": "z"})


def _follow(root: yaml.Node, address: Address) -> tuple[yaml.Node | None, yaml.Node]:
    """Give a value with the name of its field, None for an item of a list.

    What may be written in short, a text for a list of one or for an entry with nothing else in
    it, is found where it is written so.
    """
    key: yaml.Node | None = None
    node = root
    for step in address[1:]:
        if isinstance(node, yaml.SequenceNode) and isinstance(step, int):
            key, node = None, node.value[step]
        elif isinstance(node, yaml.MappingNode):
            key, node = next((one for one in node.value if is_called(one[0], step)), (key, node))
    return key, node


def _is_text(node: yaml.Node, text: LackingText, first: str) -> bool:
    """Whether a value is the text it was taken for."""
    if isinstance(node, yaml.MappingNode):
        return {key.value for key, _ in node.value} >= {code or first for code in text.has}
    return isinstance(node, yaml.ScalarNode) and node.value.split() == text.words.split()


def _decoded(raw: bytes) -> str:
    return raw.removeprefix(_BYTE_ORDER_MARK).decode().replace("\r\n", "\n").replace("\r", "\n")


def _with_ends_of(raw: bytes, text: str) -> bytes:
    """Write a text with the byte order mark and the ends of lines that the file had."""
    ends = "\r\n" if b"\r\n" in raw else "\r" if b"\r" in raw and b"\n" not in raw else "\n"
    made = text.replace("\n", ends).encode()
    return _BYTE_ORDER_MARK + made if raw.startswith(_BYTE_ORDER_MARK) else made
