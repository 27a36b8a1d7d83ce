"""What a language lacks as a PO file, for who translates it."""

from __future__ import annotations

from collections.abc import Iterable
from io import BytesIO

from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

from handbook.records import dataclass
from handbook.source.po_files import locale_of

_HEADER = """\
What {program} has not yet in {language}, what families need first at the top.

Write each translation between the quotation marks behind msgstr. Leave msgid as it is.
 - {{Bb}} and other notes in braces stay as they are: each player reads the right note there.
 - **bold**, *leaning* and [words](address) keep their signs; translate the words alone.
 - Names of bands and titles of pieces stay as they are.
 - What you are not sure of may stay empty: readers then see the first language, marked.
Then run: handbook words {code} THIS-FILE"""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A text to be translated; `places` are where it stands, `told` says what it is."""

    words: str
    places: tuple[tuple[str, int], ...]
    told: str = ""
    context: str = ""
    plural: str = ""


def po_text(wanted: Iterable[Wanted], code: str, *, program: str, language: str) -> bytes:
    """Write texts to be translated; equal ones once, at the place of the first."""
    catalog = Catalog(locale=locale_of(code), project=program, charset="utf-8", fuzzy=False)
    for one in wanted:
        text = (one.words, one.plural) if one.plural else one.words
        catalog.add(
            text,
            None,
            one.places,
            auto_comments=[one.told] * bool(one.told),
            context=one.context or None,
        )
    head = _HEADER.format(program=program, language=language or code, code=code)
    return po_bytes(catalog, code, head)


def po_bytes(catalog: Catalog, code: str, comment: str, *, lines: bool = True) -> bytes:
    """Write a catalogue with a remark at its head, the same on any day, so that two can be compared.

    Without `lines` only the files are named in which its messages stand.
    """
    made = BytesIO()
    write_po(made, catalog, width=0, omit_header=True, include_lineno=lines, ignore_obsolete=True)
    head = [*(f"# {line}".rstrip() for line in comment.splitlines()), 'msgid ""', 'msgstr ""']
    fields = {
        "Project-Id-Version": catalog.project,
        "Language": code,
        "MIME-Version": "1.0",
        "Content-Type": "text/plain; charset=utf-8",
        "Content-Transfer-Encoding": "8bit",
    }
    if catalog.locale:
        fields["Plural-Forms"] = catalog.plural_forms
    head += [f'"{name}: {_escaped(value)}\\n"' for name, value in fields.items()]
    return ("\n".join(head) + "\n\n").encode() + made.getvalue()


def _escaped(value: str) -> str:
    return value.replace("\\", "\\\\").replace('"', '\\"')
