"""The schemas beside the content, from which editors offer fields: made by `new`, renewed by `fix`."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from handbook.disk import is_folder
from handbook.loader.folder_walk import read_bytes
from handbook.schema.entries import ENTRY_NAMES

SCHEMA_FOLDER = ".schema"
_MADE_FOR = "made-for.txt"
_SIGNS = 16


def shape() -> str:
    """Give a sign of all fields and what is said of them: another one after an upgrade that changes any."""
    fields = [
        (model.__name__, field.alias or name, field.description, field.is_required())
        for model in ENTRY_NAMES
        for name, field in model.model_fields.items()
    ]
    return hashlib.sha256(repr(fields).encode()).hexdigest()[:_SIGNS]


def is_of_another_version(content: Path) -> bool:
    """Whether the schemas beside the content were made for other fields; not told where nothing says for which."""
    folder = content / SCHEMA_FOLDER
    made_for = read_bytes(folder / _MADE_FOR) if is_folder(folder) else None
    return made_for is not None and made_for.decode("utf-8", "replace").strip() != shape()


def schema_files() -> Iterator[tuple[str, str]]:
    """Give the name and the text of each file of the folder, with the sign for which fields they are."""
    from handbook.schema.json_schema import schema_texts  # noqa: PLC0415 - takes a while, and `check` needs none

    for topic, text in schema_texts().items():
        yield f"{SCHEMA_FOLDER}/{topic}.json", text
    yield f"{SCHEMA_FOLDER}/{_MADE_FOR}", f"{shape()}\n"


def outdated(content: Path) -> dict[str, tuple[bytes | None, bytes]]:
    """Give the schemas that are not current, as they are and as they are to be; none where nobody wants any."""
    if not is_folder(content / SCHEMA_FOLDER):
        return {}
    found = {name: (read_bytes(content / name), text.encode()) for name, text in schema_files()}
    return {name: texts for name, texts in found.items() if texts[0] != texts[1]}
