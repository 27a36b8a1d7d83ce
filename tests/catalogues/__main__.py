"""`python -m tests.catalogues` brings the catalogues up to date with the code; new messages stay empty.

With `--missing LANGUAGE` it prints what a catalogue lacks instead.
"""

import sys

from babel.messages.pofile import read_po, write_po

from tests.catalogues.extraction import LOCALES, extracted


def main(arguments: "list[str]") -> None:
    """Write handbook.pot, and each catalogue with the messages of today."""
    template = extracted()
    if arguments[:1] == ["--missing"]:
        with (LOCALES / arguments[1] / "LC_MESSAGES" / "handbook.po").open("rb") as file:
            known = read_po(file)
        for message in template:
            own = message.id and known.get(message.id, message.context)
            if message.id and not (own and own.string and all(own.string)):
                print(message.id)  # noqa: T201
        return
    with (LOCALES / "handbook.pot").open("wb") as file:
        write_po(file, template, width=0, include_lineno=False, sort_by_file=True)
    for path in sorted(LOCALES.glob("*/LC_MESSAGES/handbook.po")):
        with path.open("rb") as file:
            catalog = read_po(file, locale=path.parent.parent.name)
        catalog.update(template, no_fuzzy_matching=True)
        with path.open("wb") as file:
            write_po(
                file,
                catalog,
                width=0,
                include_lineno=False,
                ignore_obsolete=True,
                sort_by_file=True,
            )
    print(sum(1 for message in template if message.id), "messages")  # noqa: T201


if __name__ == "__main__":
    main(sys.argv[1:])
