"""What slipped in from the computer at which the site was made, and what was only for its author."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from urllib.parse import parse_qsl, urlsplit

from handbook.audit.model import Concern, Seen, Words
from handbook.audit.own import OwnWords
from handbook.outputs.model import SiteFile

KEY_IN_LINK = Concern(
    "key-in-a-link",
    "whoever has this link can open what it leads to",
    "share it with families in another way, or make what it leads to public for all, without a key",
    refuses=True,
)
CODE_IN_LINK = Concern(
    "code-in-a-link",
    "nobody can guess this link, but whoever has it can open what it leads to",
    "see that what it leads to is meant for everybody",
    refuses=False,
)
PATH_OF_COMPUTER = Concern(
    "path-of-a-computer",
    "this is a place on somebody's computer, which nobody else can open",
    "put the file into media/ and link to it there, or take the line out",
    refuses=True,
)
LEFT_BY_EDITOR = Concern(
    "left-by-an-editor",
    "this file was left by an editor or a system, and is no part of a site",
    "remove it from the content folder",
    refuses=True,
)
REMARK_IN_PAGE = Concern(
    "remark-in-a-page",
    "this remark is hidden on the page, and anybody can read it in the page's source",
    "take it out",
    refuses=True,
)
NOTE_TO_SELF = Concern(
    "note-to-self",
    "this looks like a note to yourself",
    "finish it, or put it under `private:`",
    refuses=False,
)

_LINK = re.compile(r"""(?:https?:)?//[^\s<>"'()]+""")
_KEYS = frozenset(
    {
        *("access_token", "authkey", "auth", "authuser", "code", "invite", "invitecode", "key"),
        *("migratedtomsa", "password", "passwd", "pin", "pwd", "resourcekey", "rlkey", "secret"),
        *("sig", "signature", "token", "usp"),
    }
)
_LEAST_KEY = 20  # signs of a word in a path that nobody would write by hand
_RANDOM = re.compile(r"(?=[\w-]*[A-Za-z])(?=[\w-]*\d)[\w-]{20,}")
_PATH = re.compile(
    r"(?i)(?<![\w/])[a-z]:(?:\\[\w .$-]+(?=\\))*\\[\w.$-]+|\\\\[\w.-]+(?:\\[\w .$-]+(?=\\))*\\[\w.$-]+|file:/{2,3}[^\s<>\"']+"
    r"|(?<![\w/.:-])/(?:home|users|volumes|mnt|media/[a-z]+|var/www)/[\w.-]+(?:/[^\s<>\"']*)?"
    r"|(?<![\w/])~/[\w.-]+/[^\s<>\"']*"
)
_INSIDE = re.compile(
    r"(?i)https?://(?:localhost|127\.\d+\.\d+\.\d+|10\.\d+\.\d+\.\d+|192\.168\.\d+\.\d+|\[::1\]|[\w-]+\.(?:local|lan|internal))(?::\d+)?(?:/[^\s<>\"']*)?"
)
_EDITOR_NAME = re.compile(
    r"(?i)(?:^|/)(?:\.ds_store|thumbs\.db|desktop\.ini|~\$[^/]*|\._[^/]*|[^/]*\.(?:bak|swp|swo|tmp|orig|rej|part|crdownload)|[^/]*~|\.git(?:/.*)?|__macosx(?:/.*)?)$"
)
_REMARK = re.compile(rb"<!--.*?-->", re.DOTALL)
_TO_SELF = re.compile(
    r"(?m)\b(?:DRAFT|TODO|FIXME|XXX|TBD|TK TK)\b|(?i:\blorem ipsum\b|^\W*(?:draft(?=\W*$)|do not (?:post|publish|share)|not (?:yet )?public|internal(?: use)? only|confidential|for my eyes only|borrador(?=\W*$)|no publicar)\b)"
)

_SELF = frozenset(
    {
        *("todo", "fixme", "xxx", "tbd", "tk", "lorem", "draft", "do", "not", "internal"),
        *("confidential", "for", "borrador", "no"),
    }
)


def leftovers(words: Sequence[Words], own: OwnWords) -> Iterator[Seen]:
    """Find links that carry a key, places on a computer, and notes to the author."""
    for run in words:
        text = run.text
        if "//" in text:
            for match in _LINK.finditer(text):
                concern = _of_link(match[0], own)
                if concern is not None:
                    yield Seen(concern, match[0], run.file)
        if "\\" in text or "/" in text:
            for match in (*_PATH.finditer(text), *_INSIDE.finditer(text)):
                yield Seen(PATH_OF_COMPUTER, match[0].strip(), run.file)
        if not run.single.isdisjoint(_SELF):
            for line in filter(_TO_SELF.search, text.split("\n")):
                yield Seen(NOTE_TO_SELF, line.strip(), run.file)


def hidden_things(files: Sequence[SiteFile]) -> Iterator[Seen]:
    """Find files that editors leave, and remarks in the source of pages."""
    for file in files:
        if _EDITOR_NAME.search(file.path):
            yield Seen(LEFT_BY_EDITOR, file.path, file.path)
        if file.path.endswith((".html", ".xml", ".svg")):
            content = file.read()
            if b"<!--" in content:
                for remark in _REMARK.findall(content):
                    yield Seen(REMARK_IN_PAGE, remark.decode(errors="replace"), file.path)


def _of_link(link: str, own: OwnWords) -> Concern | None:
    try:
        parts = urlsplit(link)
        host, fields = parts.hostname or "", parse_qsl(parts.query, keep_blank_values=True)
    except ValueError:
        return None
    if host in own.domains:
        return None
    given = {name.lower() for name, _ in fields} & _KEYS
    words = (*parts.path.split("/"), *(value for _, value in fields), parts.fragment)
    if given:
        return KEY_IN_LINK
    return CODE_IN_LINK if any(map(_is_random, words)) else None


def _is_random(word: str) -> bool:
    """Whether a word of an address is one that nobody would write, and that so works as a key."""
    found = _RANDOM.fullmatch(word)
    if found is None or len(word) < _LEAST_KEY:
        return False
    changes = sum(
        _kind(one) != _kind(other)
        for one, other in pairwise(word)
        if one.isalnum() and other.isalnum()
    )
    return changes * 4 >= len(word)


def _kind(letter: str) -> str:
    return "digit" if letter.isdigit() else "capital" if letter.isupper() else "small"
