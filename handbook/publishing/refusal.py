"""Why a site was not published, in sentences for the person at the keyboard."""

from __future__ import annotations


class RefusedTargetError(Exception):
    """The folder asked for cannot be used; nothing was touched. The text is a sentence."""


class NotPublishedError(Exception):
    """The new site could not be made or put in place; the old one is as it was.

    The text is a sentence; `findings` are more lines, one for each thing to mend.
    """

    def __init__(self, sentence: str, findings: tuple[str, ...] = ()) -> None:
        super().__init__(sentence)
        self.findings = findings
