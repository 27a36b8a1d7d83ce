"""Reads the messages out of code, templates, scripts and tables."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file

from handbook.outputs.i18n.catalogues import DOMAIN
from handbook.outputs.i18n.tables import table_messages

CHECKOUT = Path(__file__).resolve().parents[2]
LOCALES = CHECKOUT / "handbook" / "locale"
KEYWORDS = {
    "_": None,
    "gettext": None,
    "gettext_noop": None,
    "ngettext": (1, 2),
    "pgettext": ((1, "c"), 2),
    "npgettext": ((1, "c"), 2, 3),
}
_TEMPLATES = ("pages", "components", "history", "theme", "binder", "sheets")
_KINDS = (
    ("python", "handbook/outputs", "*.py", {}),
    ("python", "handbook/binder", "*.py", {}),
    *(
        ("jinja2.ext:babel_extract", f"site_templates/{name}", "*.j2", {"trimmed": "true"})
        for name in _TEMPLATES
    ),
    ("javascript", "site_templates/assets", "*.js", {}),
    ("javascript", "site_templates/joined", "*.js", {}),
    ("javascript", "site_templates/binder", "*.js", {}),
)


def sources() -> Iterator[tuple[str, Path, dict[str, str]]]:
    """Give each file that may hold messages, with how it is read."""
    for method, folder, pattern, options in _KINDS:
        for path in sorted((CHECKOUT / folder).rglob(pattern)):
            if path.is_file() and "vendor" not in path.parts:
                yield method, path, options


def extracted() -> Catalog:
    """Give all messages, each with the files that hold it."""
    catalog = Catalog(domain=DOMAIN, project="Cycle Handbook", charset="utf-8", fuzzy=False)
    for method, path, options in sources():
        found = extract_from_file(
            method, path, keywords=KEYWORDS, comment_tags=("Translators:",), options=options
        )
        for _, message, comments, context in found:
            place = path.relative_to(CHECKOUT).as_posix()
            catalog.add(message, None, [(place, 0)], auto_comments=comments, context=context)
    for context, text in table_messages():
        catalog.add(text, None, [("handbook/domain/tables", 0)], context=context or None)
    return catalog
