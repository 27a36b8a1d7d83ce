"""The one error that reading a written value may raise."""

from __future__ import annotations


class UnreadableError(ValueError):
    """A text is no value of the wanted kind.

    `message` is one lower-case sentence for the author; `suggestions` are
    spellings that would be read, best first. `sure` if the first says what was written in
    the one way in which it can be meant, so that it may be put in its place unasked.
    """

    def __init__(
        self, message: str, suggestions: tuple[str, ...] = (), *, sure: bool = False
    ) -> None:
        super().__init__(message)
        self.message = message
        self.suggestions = suggestions
        self.sure = sure and bool(suggestions)
