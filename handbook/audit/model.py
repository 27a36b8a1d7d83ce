"""What a look at a finished site finds, as plain data."""

from __future__ import annotations

from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class Concern:
    """A kind of thing that a site should not show: its code, what it is, and what to do about it.

    One that `refuses` stops a publication; another is only told.
    """

    code: str
    sentence: str
    hint: str
    refuses: bool


@dataclass(frozen=True, slots=True)
class Origin:
    """A line of the content, counted from 1, where the words stand; 0 for a file as a whole."""

    file: str
    line: int


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was found: the `words` as the site has them, and the first file they are in.

    `origins` are the lines of the content that have them, none if they do not stand there so.
    """

    concern: Concern
    words: str
    file: str
    origins: tuple[Origin, ...] = ()

    @property
    def refuses(self) -> bool:
        """Whether it stops a publication."""
        return self.concern.refuses


@dataclass(frozen=True, slots=True)
class Words:
    """A run of words that a reader of a file of the site can see, hear or look up.

    They stand between two edges of the page's blocks; lines are parted by line ends. `single`
    are its words one by one, in small letters, by which a look passes over most runs at once.
    """

    file: str
    text: str
    single: frozenset[str]


@dataclass(frozen=True, slots=True)
class Seen:
    """Something that a look has found in a file, before it is known whether it may be public."""

    concern: Concern
    words: str
    file: str
