"""Data that a page carries for its scripts: compact JSON that is safe inside an attribute."""

from __future__ import annotations

import json
from collections.abc import Mapping

from jinja2.utils import htmlsafe_json_dumps
from markupsafe import Markup

Json = dict[str, object]


def attribute_json(data: Mapping[str, object]) -> Markup:
    """Write JSON for an attribute between single quotes; the same data gives the same bytes."""
    return htmlsafe_json_dumps(
        data, dumps=json.dumps, ensure_ascii=False, separators=(",", ":"), sort_keys=True
    )
