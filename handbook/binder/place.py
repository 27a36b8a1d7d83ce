"""Whether a binder may be put into a folder: never where readers could come upon it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from itertools import chain
from pathlib import Path

import yaml

from handbook.disk import is_folder, is_there, read_bytes
from handbook.publishing.contents import strangers
from handbook.publishing.manifest import BINDER, SITE
from handbook.publishing.near import bears, beside, inside
from handbook.publishing.refusal import RefusedTargetError
from handbook.publishing.target import real_place
from handbook.publishing.troubles import mount_sentence

_SERVED = frozenset({"public_html", "htdocs", "wwwroot", "www", "public", "docs", "_site"})
"""Folders that web servers and hosts of pages publish, by habit."""
_PUBLISHED = frozenset({"index.html", "index.htm", "index.php", "cname", ".nojekyll"})
"""Files that only a published folder has, in small letters."""
_MKDOCS = ("mkdocs.yml", "mkdocs.yaml")
_MKDOCS_USUAL = {"docs_dir": ["docs"], "site_dir": ["site"]}
_MOST_BYTES = 1_000_000
_NAMED = 3


def usable_place(target: Path, content: Path) -> Path:
    """Give the real path of `target`, or raise RefusedTargetError with a plain sentence.

    Refused are: a folder that holds the content or lies in it; one in or beside a site of
    ours, or beside one at a folder above it; one in what looks like somebody's web site; a
    mount point, and a folder with anything in it that was not put there by an earlier binder.
    """
    real, source = real_place(target), content.resolve()
    if real == source or source in real.parents:
        raise RefusedTargetError(
            f"the binder cannot be put inside the content folder: choose a folder outside {content}"
        )
    if real in source.parents:
        raise RefusedTargetError(
            f"{target} holds the content folder, and the binder replaces the whole folder: choose"
            " another one"
        )
    for sentence in _in_reach(real, target):
        raise RefusedTargetError(
            f"{sentence}: the binder is private, so choose a folder that is not published, such as"
            " handbook-binder in your home folder"
        )
    if os.path.ismount(real):
        raise RefusedTargetError(mount_sentence(target, "binder"))
    _refuse_strangers(real, target)
    return real


def _in_reach(real: Path, target: Path) -> Iterator[str]:
    """Say why readers of a site might come upon a folder."""
    for folder in (real, *real.parents):
        if bears(folder, SITE):
            where = "is" if folder == real else "lies in"
            yield f"{target} {where} a site that handbook made"
        shown = _published_file(folder)
        if shown:
            yield f"{target} lies in {folder}, which is published: it holds {shown}"
        if any(one == real or one in real.parents for one in _of_mkdocs(folder)):
            yield f"{target} lies in a folder that MkDocs publishes"
    for folder in (real, *real.parents):
        if folder.name.casefold() in _SERVED:
            yield f"{target} lies in {folder}, and a folder of that name is mostly published"
    yield from (f"{target} holds the site {one.name}" for one in inside(real, SITE))
    yield from (f"{target} would stand beside the site {one}" for one in beside(real, SITE))


def _published_file(folder: Path) -> str:
    """Name a file that tells that a folder is published; a binder has a first page of its own."""
    if bears(folder, BINDER):
        return ""
    with suppress(OSError):
        return min((one for one in os.listdir(folder) if one.casefold() in _PUBLISHED), default="")  # noqa: PTH208
    return ""


def _of_mkdocs(folder: Path) -> Iterator[Path]:
    """Give the folders that a mkdocs.yml in `folder` publishes or makes."""
    for name in _MKDOCS:
        raw = read_bytes(folder / name, _MOST_BYTES)
        if raw is not None:
            for value in chain.from_iterable({**_MKDOCS_USUAL, **_named_in(raw)}.values()):
                with suppress(OSError, ValueError, RuntimeError):  # no name of a folder
                    yield (folder / value).resolve()


def _named_in(raw: bytes) -> dict[str, list[str]]:
    """Give what a mkdocs.yml says of its folders; of a value with a tag, such as `!ENV`, all it may be.

    It is read as nodes, since its tags may name what only MkDocs knows.
    """
    with suppress(yaml.YAMLError, UnicodeDecodeError, RecursionError):
        root = yaml.compose(raw.decode(), Loader=yaml.SafeLoader)
        if isinstance(root, yaml.MappingNode):
            return {
                key.value: [*_scalars(value)]
                for key, value in root.value
                if isinstance(key, yaml.ScalarNode) and key.value in _MKDOCS_USUAL
            }
    return {}


def _scalars(node: yaml.Node) -> Iterator[str]:
    if isinstance(node, yaml.ScalarNode):
        yield node.value
    elif isinstance(node, yaml.SequenceNode):
        for one in node.value:
            yield from _scalars(one)


def _refuse_strangers(real: Path, target: Path) -> None:
    if not is_there(real):
        return
    if not is_folder(real):
        raise RefusedTargetError(f"{target} is a file: a binder needs a folder")
    foreign = strangers(real, marker=BINDER)
    if foreign:
        named = ", ".join(foreign[:_NAMED])
        more = f" and {len(foreign) - _NAMED} more" if len(foreign) > _NAMED else ""
        raise RefusedTargetError(
            f"{target} holds files that no binder of ours put there ({named}{more}), and the"
            " binder replaces the whole folder: move them away, or choose another folder"
        )
