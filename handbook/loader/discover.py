"""Which files a content folder holds, and which of them are known."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from handbook.loader.folder_walk import ODD_FILE_NAME, Walk, walk
from handbook.problems import Code, Fix, Position, Problem, Severity
from handbook.records import dataclass
from handbook.schema.handbook import MAIN_CONCERT, concert_id
from handbook.schema.site_names import DEVICES, MOST_LETTERS, NO_FOLDERS
from handbook.source.names import listed, nearest

WRONG_ENDING = Code(
    "wrong-ending",
    "A file's name ends in .yml.",
    "All content files end in .yaml, so that one topic is never in two files of nearly one name.",
    bad="cycles/winter/music.yml",
    good="cycles/winter/music.yaml",
)
UNKNOWN_FILE = Code(
    "unknown-file",
    "A file is in the folder that nothing reads.",
    "Its name is most often a slip. Files whose names begin with a dot, READMEs and everything in media/ may stay.",
    bad="cycles/winter/concerts.yaml",
    good="cycles/winter/concert.yaml",
)
MISSING_FILE = Code(
    "missing-file",
    "A file is missing that the others need.",
    "Every folder needs program.yaml, and every folder in cycles/ its cycle.yaml.",
    bad="content/\n  years/2026-27.yaml\n  cycles/winter/concert.yaml\n  cycles/winter/music.yaml",
    good="content/\n  program.yaml\n  years/2026-27.yaml\n  cycles/winter/concert.yaml\n  cycles/winter/cycle.yaml\n  cycles/winter/music.yaml",
)

_KEBAB = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_NO_ADDRESS = re.compile(r'[#%?\\:*"<>|]')
_TOP = (
    "program.yaml",
    "fundamentals.yaml",
    "events.yaml",
    "years/",
    "cycles/",
    "fundamentals/",
    "events/",
    "pages/",
    "media/",
)
_IN_CYCLE = ("cycle.yaml", "music.yaml", "concert.yaml", "music/", "concerts/", "log/")
_IN_FOLDER_OF_CYCLE = {
    "music": ("a .yaml file for each set of pieces",),
    "concerts": ("a .yaml file for each concert beside the one in concert.yaml",),
    "log": ("a .yaml file for each rehearsal, such as 2026-11-18.yaml",),
}
# Beside a concert's own page stands the one for its crew; concert.yaml has that name already.
_NO_CONCERTS = frozenset({"crew", MAIN_CONCERT})
_IN_FOLDER = {
    "cycles": ("a folder for each cycle",),
    "years": ("a .yaml file for each year, such as 2026-27.yaml",),
    "fundamentals": (".yaml files",),
    "events": (".yaml files",),
    "pages": (".md files",),
}


@dataclass(frozen=True, slots=True)
class FoundFile:
    """A file of the folder; `topic` names its model, or is `page` or `media`.

    `name` is its path from the content folder; `owner` the id in its path: of the cycle or
    the year, or the slug of a page.
    """

    name: str
    topic: str
    owner: str = ""


@dataclass(frozen=True, slots=True)
class Folder:
    """What was found, in the order of the names."""

    files: tuple[FoundFile, ...]
    problems: tuple[Problem, ...]

    def of(self, topic: str) -> tuple[FoundFile, ...]:
        """Give the files of one topic."""
        return tuple(file for file in self.files if file.topic == topic)


def look_into(folder: Path) -> Folder:
    """Sort a folder's files by topic.

    Files beginning with a dot, READMEs, a mkdocs.yml and what editors leave are passed over.
    """
    return sort_files(walk(folder))


def sort_files(walked: Walk) -> Folder:
    """Sort the files of a folder by topic."""
    files: list[FoundFile] = []
    problems = {problem.file: problem for problem in walked.problems}
    for name in walked.names:
        parts = tuple(name.split("/"))
        found = _known(name, parts)
        if found is None:
            problems[name] = _wrong_ending(name) or _unknown(name, parts)
            continue
        files.append(found)
        odd = _odd_media(found) if found.topic == "media" else _odd_name(found)
        if odd is not None:
            whole = found.topic in {"year", "page", "media"}
            problems.setdefault(name if whole else found.owner, odd)
        odd = _odd_concert(found)
        if odd is not None:
            problems.setdefault(name, odd)
    for name in walked.empty:
        if re.fullmatch("cycles/[^/]+", name):
            missing = _missing_file(
                f"{name}/cycle.yaml", "that gives this cycle its dates and stages"
            )
            problems[missing.file] = replace(missing, severity=Severity.WARNING)
    for missing in _missing_files(files):
        _add_missing(problems, missing)
    return Folder(tuple(files), tuple(problems.values()))


def _known(name: str, parts: tuple[str, ...]) -> FoundFile | None:  # noqa: PLR0911 - one a kind
    match parts:
        case ("program.yaml",):
            return FoundFile(name, "program")
        case (("fundamentals.yaml" | "events.yaml") as leaf,):
            return FoundFile(name, leaf.removesuffix(".yaml"))
        case (("fundamentals" | "events") as topic, leaf) if leaf.endswith(".yaml"):
            return FoundFile(name, topic)
        case ("years", leaf) if leaf.endswith(".yaml"):
            return FoundFile(name, "year", leaf.removesuffix(".yaml"))
        case ("cycles", cycle, ("cycle.yaml" | "music.yaml" | "concert.yaml") as leaf):
            return FoundFile(name, leaf.removesuffix(".yaml"), cycle)
        case ("cycles", cycle, ("music" | "log") as topic, leaf) if leaf.endswith(".yaml"):
            return FoundFile(name, topic, cycle)
        case ("cycles", cycle, "concerts", leaf) if leaf.endswith(".yaml"):
            return FoundFile(name, "concert", cycle)
        case ("pages", *_, leaf) if leaf.endswith(".md"):
            return FoundFile(name, "page", "/".join(parts[1:]).removesuffix(".md"))
        case ("media", *_, _leaf) if len(parts) > 1:
            return FoundFile(name, "media")
    return None


def _wrong_ending(name: str) -> Problem | None:
    """Refuse a file that would be known if it ended in .yaml, as all others here do."""
    stem, dot, ending = name.rpartition(".")
    renamed = f"{stem}.yaml"
    if (
        not dot
        or ending.lower() not in {"yml", "yaml"}
        or _known(renamed, tuple(renamed.split("/"))) is None
    ):
        return None
    return Problem(
        WRONG_ENDING,
        f"this file is not read, since its name ends in .{ending}",
        (name,),
        f"rename it to {renamed.rsplit('/', maxsplit=1)[-1]}",
        position=Position(1, 1),
        fix=Fix(rename=renamed),
    )


def _unknown(name: str, parts: tuple[str, ...]) -> Problem:
    before, known = _neighbours(parts)
    meant = nearest(parts[len(before)], known, most=1)
    where = f"in {'/'.join(before)}/" if before else "in the content folder"
    hint = f"did you mean {meant[0]}?" if meant else f"{where} belong {listed(known)};"
    return Problem(
        UNKNOWN_FILE,
        "this file is not read, since no topic has its name",
        (name,),
        f"{hint} rename it, remove it, or keep it here with a dot before its name",
        severity=Severity.WARNING,
        position=Position(1, 1),
    )


def _neighbours(parts: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Give the deepest known folder on the way, and what may stand in it."""
    deep = _IN_FOLDER_OF_CYCLE.get(parts[2], ()) if len(parts) > 3 else ()  # noqa: PLR2004 - cycles/x/music/
    if parts[0] == "cycles" and deep:
        return parts[:3], deep
    if parts[0] == "cycles" and len(parts) > 2:  # noqa: PLR2004 - cycles/x/
        return parts[:2], _IN_CYCLE
    if parts[0] in _IN_FOLDER and len(parts) > 1:
        return parts[:1], _IN_FOLDER[parts[0]]
    return (), _TOP


def _odd_media(found: FoundFile) -> Problem | None:
    """Refuse a name that links, or a computer with Windows, would read as another one."""
    parts = found.name.split("/")
    signs = sorted(set(_NO_ADDRESS.findall(found.name)))
    if not signs and any(
        part.split(".")[0].lower() in DEVICES or part[-1] in ". " for part in parts
    ):
        return _rename(found, "this name cannot be used on Windows")
    if not signs:
        return None
    why = (
        f"this name has {listed(signs)}, which cannot be part of an address or of a name on Windows"
    )
    plain = _NO_ADDRESS.sub("", found.name.rsplit("/", maxsplit=1)[-1])
    return _rename(found, why, " ".join(plain.split()))


def _odd_concert(found: FoundFile) -> Problem | None:
    """Refuse a name in concerts/ that cannot be a concert's id."""
    if "/concerts/" not in found.name or found.topic != "concert":
        return None
    own = concert_id(found.name)
    if own in _NO_CONCERTS:
        why = f"`{own}` cannot be the name of a concert: its address is that of another page"
        return _rename(found, why)
    return _odd_name(replace(found, topic="year", owner=own))


def _odd_name(found: FoundFile) -> Problem | None:
    if not found.owner:
        return None
    what = {"year": "file", "page": "page"}.get(found.topic, "folder")
    parts = found.owner.split("/")
    if not all(map(_KEBAB.fullmatch, parts)):
        kebab = re.sub(r"[^a-z0-9/]+", "-", found.owner.lower()).strip("-")
        why = f"`{found.owner}` is no name for this {what}: it becomes an address, of small letters, digits and hyphens"
        return _rename(found, why, kebab)
    if max(map(len, parts)) > MOST_LETTERS:
        why = f"the name of this {what} is too long for an address: {MOST_LETTERS} letters are the most"
        return _rename(found, why)
    if not NO_FOLDERS.isdisjoint(parts):
        why = f"`{found.owner}` cannot be the name of this {what}, since some computers keep it for themselves"
        return _rename(found, why, f"{found.owner}-1")
    return None


def _rename(found: FoundFile, why: str, to: str = "") -> Problem:
    hint = f"rename it to {to}" if to else "rename it"
    return Problem(ODD_FILE_NAME, why, (found.name,), hint, position=Position(1, 1))


def _missing_files(files: list[FoundFile]) -> Iterator[Problem]:
    names = {file.name for file in files}
    if "program.yaml" not in names:
        yield _missing_file("program.yaml", "that names the program and its ensembles")
    for cycle in sorted({file.owner for file in files if file.name.startswith("cycles/")}):
        name = f"cycles/{cycle}/cycle.yaml"
        if name not in names:
            yield _missing_file(name, "that gives this cycle its dates and stages")


def _missing_file(name: str, what: str) -> Problem:
    return Problem(
        MISSING_FILE,
        f"the file {what} is missing",
        (name,),
        f"write {name}; `handbook new` makes a folder with all files to start from",
        position=Position(1, 1),
    )


def _add_missing(problems: dict[str, Problem], missing: Problem) -> None:
    """Tell a missing file, but only once if it is there under a name that is nearly right."""
    folder, _, leaf = missing.file.rpartition("/")
    for name, problem in problems.items():
        here, _, other = name.rpartition("/")
        if here != folder or problem.code not in {WRONG_ENDING, UNKNOWN_FILE}:
            continue
        if problem.code == WRONG_ENDING and other.rpartition(".")[0] == leaf.rpartition(".")[0]:
            return
        if nearest(other, _IN_CYCLE if folder else _TOP, most=1) == (leaf,):
            hint = f"{name} looks like it: rename it to {leaf}"
            problems[name] = replace(missing, hint=hint)
            return
    problems.setdefault(missing.file, missing)
