"""Problems as a person reads them, as data, and as lines for GitHub."""

from __future__ import annotations

from handbook.report.counting import summary
from handbook.report.github import report_github
from handbook.report.json import report_json, rows
from handbook.report.places import Located, in_folder, located
from handbook.report.text import report_text

__all__ = [
    "Located",
    "in_folder",
    "located",
    "report_github",
    "report_json",
    "report_text",
    "rows",
    "summary",
]
