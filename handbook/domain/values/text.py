"""Text for people, in one language or several."""

from __future__ import annotations

from dataclasses import field

from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class Text:
    """What a person reads; `versions` pairs a language code with its text.

    A plain text has the one code `""`: the program's first language. Pages show one that is
    `markdown` with its links and emphasis, any other letter by letter.
    """

    versions: tuple[tuple[str, str], ...]
    markdown: bool = field(default=False, repr=False, compare=False)

    @classmethod
    def plain(cls, text: str) -> Text:
        """Make a text in the program's first language."""
        return cls((("", text),))

    def read(self, language: str = "") -> str:
        """Give the text in `language`, else in the first one given."""
        return self.version(language)[1]

    def version(self, language: str = "") -> tuple[str, str]:
        """Give what `read` gives, with its language code before it."""
        for wanted in (language, ""):
            for version in self.versions:
                if version[0] == wanted and version[1]:
                    return version
        return self.versions[0]

    def followed_by(self, other: Text) -> Text:
        """Give both with a comma between, in each language that either is given in."""
        codes = dict.fromkeys((*self.languages, *other.languages))
        return Text(tuple((code, f"{self.read(code)}, {other.read(code)}") for code in codes))

    @property
    def languages(self) -> tuple[str, ...]:
        """The codes given, in the author's order."""
        return tuple(code for code, _ in self.versions)

    def __str__(self) -> str:
        return self.versions[0][1]
