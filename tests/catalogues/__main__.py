"""`python -m tests.catalogues` brings the catalogues up to date with the code; new messages stay empty.

With `--missing LANGUAGE` it prints what a catalogue lacks instead.
"""

import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from handbook.translating.po_text import po_bytes
from tests.catalogues.extraction import LOCALES, extracted


def main(arguments: "list[str]") -> None:
    """Write each catalogue with the messages of today."""
    template = extracted()
    if arguments[:1] == ["--missing"]:
        with (LOCALES / arguments[1] / "LC_MESSAGES" / "handbook.po").open("rb") as file:
            known = read_po(file)
        for message in template:
            own = message.id and known.get(message.id, message.context)
            if message.id and not (own and own.string and all(own.string)):
                print(message.id)  # noqa: T201
        return
    for path in sorted(LOCALES.glob("*/LC_MESSAGES/handbook.po")):
        write(path, template)
    print(sum(1 for message in template if message.id), "messages")  # noqa: T201


def write(path: Path, template: Catalog) -> None:
    """Bring a catalogue up to date; remarks at its head and translations stay."""
    code = path.parent.parent.name
    with path.open("rb") as file:
        catalog = read_po(file, locale=code)
    catalog.update(template, no_fuzzy_matching=True)
    for message in catalog:
        message.locations = [
            (place, 0) for place in sorted({place for place, _ in message.locations})
        ]
    comment = "\n".join(line.lstrip("# ") for line in catalog.header_comment.splitlines())
    path.write_bytes(po_bytes(catalog, code, comment, lines=False))


if __name__ == "__main__":
    main(sys.argv[1:])
