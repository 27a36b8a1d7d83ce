"""The whole look at a finished site, before it is published."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from handbook.audit.contacts import contacts
from handbook.audit.leftovers import hidden_things, leftovers
from handbook.audit.media import media_remains
from handbook.audit.model import Concern, Finding, Origin, Seen
from handbook.audit.origins import ContentLines
from handbook.audit.own import UNUSED_PERMISSION, folded, own_words
from handbook.audit.people import named_files, people
from handbook.audit.readings import OWN_FILES, readings
from handbook.audit.sentences import about_people
from handbook.audit.weight import heavy_files
from handbook.outputs.model import SiteFile
from handbook.plan.model import Plan

PROGRAM = "program.yaml"
_SEARCH = "search/"
MOST_OF_KIND = 100
_BEGINNING = 60  # letters
_SENTENCE = 3  # words: fewer may be within others by chance


def audit(files: Sequence[SiteFile], plan: Plan, content: Path) -> tuple[Finding, ...]:
    """Look through a finished site for what should not be public; pure but for reading `content`.

    What refuses comes first, then in the order of kinds and files. The same words are one
    finding, however many files have them; of a kind there are 100 at most. What the program allows by name in `may_be_public`
    is left out; an entry there that allows nothing is a finding too.
    """
    # Pages first: what search repeats of them is better told where it is read.
    words = tuple(readings(sorted(files, key=lambda file: file.path.startswith(_SEARCH))))
    own = own_words(plan, words)
    allowed = {folded(one.what): one.what for one in plan.program.may_be_public}
    used: set[str] = set()
    paths = [file.path for file in files if not file.path.startswith(OWN_FILES)]

    def seen() -> Iterator[Seen]:
        yield from hidden_things(files)
        yield from contacts(words, own)
        yield from about_people(words, own)
        yield from people(words, own, frozenset(allowed))
        yield from named_files(paths, own)
        yield from leftovers(words, own)
        yield from media_remains(files)
        yield from heavy_files(files)

    found = [one for one in seen() if not _is_allowed(one, allowed, used)]
    lines = ContentLines(content)
    findings = [*_not_retold(tuple(_gathered(found, lines)))]
    findings += [
        Finding(UNUSED_PERMISSION, what, "", lines.within(PROGRAM, what))
        for key, what in allowed.items()
        if key not in used and not any(key in folded(run.text) for run in words)
    ]
    kinds = list(dict.fromkeys(one.concern for one in findings))
    return tuple(sorted(findings, key=lambda one: (not one.refuses, kinds.index(one.concern))))


def _is_allowed(seen: Seen, allowed: Iterable[str], used: set[str]) -> bool:
    """Whether the words, or a longer text that holds them, are allowed; notes what allowed them.

    Of long words their beginning will do, as it is told.
    """
    words = f" {folded(seen.words)} "
    by = [
        what
        for what in allowed
        if words in f" {what} "
        or words.strip(" .") == what
        or (len(what) >= _BEGINNING and words.startswith(f" {what.rstrip('…')}"))
    ]
    used.update(by)
    return bool(by)


def _gathered(found: Iterable[Seen], lines: ContentLines) -> Iterator[Finding]:
    """Make one finding of all that show the same words; of a kind 100 at most, since nobody reads more."""
    first: dict[tuple[Concern, str], Seen] = {}
    of_kind: Counter[Concern] = Counter()
    for one in found:
        key = (one.concern, folded(one.words))
        if key not in first and of_kind[one.concern] < MOST_OF_KIND:
            first[key] = one
            of_kind[one.concern] += 1
    for one in first.values():
        yield Finding(one.concern, one.words, one.file, _origins(one.words, one.file, lines))


def _not_retold(findings: Sequence[Finding]) -> Iterator[Finding]:
    """Leave out what is told by itself too, and here with what stands around it.

    Search and lists of pages run the words of a page together; there a finding is longer, or
    stands at no other line of the content.
    """
    told: dict[Concern, list[tuple[str, Finding]]] = {}
    for one in findings:
        told.setdefault(one.concern, []).append((folded(one.words), one))
    for one in findings:
        words = folded(one.words)
        if not any(
            other in words and other != words and _is_same(shorter, one)
            for other, shorter in told[one.concern]
        ):
            yield one


def _is_same(shorter: Finding, longer: Finding) -> bool:
    """Whether the longer of two findings, which holds the words of the other, is no other thing."""
    if not shorter.origins:
        return longer.file.startswith(_SEARCH)
    return len(shorter.words.split()) >= _SENTENCE or set(longer.origins) <= set(shorter.origins)


def _origins(words: str, file: str, lines: ContentLines) -> tuple[Origin, ...]:
    found = lines.of(words, file)
    if not found and ", " in words:  # a list, which may be one in which each name has its line
        return lines.of(words.partition(", ")[0], file)
    return found
