"""The shape of an explanation: the rule, why, what is refused, and what is read."""

from __future__ import annotations

from textwrap import indent


def explained(rule: str, why: str = "", *, bad: str, good: str) -> str:
    """Put an explanation together, as a check's docstring is laid out."""
    snippets = ("Bad:", indent(bad, "    "), "Good:", indent(good, "    "))
    return "\n\n".join((rule, *((why,) if why else ()), *snippets))
