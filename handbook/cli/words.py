"""`handbook words`: what a language lacks, in one file for who translates it, and back again."""

from __future__ import annotations

import difflib
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import click

from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder
from handbook.cli.lacking_lines import language_name
from handbook.cli.messages import agrees_to_write, tell_problems, wants_colour
from handbook.disk import is_there, write_new
from handbook.fixing.writing import NotWrittenError
from handbook.loader.contents import read_contents
from handbook.loader.loading import LoadResult, load_contents
from handbook.pipeline import Outcome
from handbook.report import in_folder, report_text
from handbook.source.po_files import read_given
from handbook.source.source_map import SourceFile, SourceMap
from handbook.translating.lacking import Lack, lack_of
from handbook.translating.po_text import po_text
from handbook.translating.taking_back import Taken, TakenFile, taken
from handbook.translating.writing import write_taken
from handbook.translating.writing_out import wanted_texts


@click.command("words")
@click.argument("language", metavar="LANGUAGE")
@click.argument("file", metavar="[FILE]", required=False, type=click.Path(path_type=Path))
@click.option(
    "--content",
    "folder",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="The content folder, the nearest one if left out.",
)
@click.option(
    "--out", metavar="FILE", type=click.Path(path_type=Path), help="The file to write to be filled."
)
@click.option("--yes", is_flag=True, help="Write into the content without asking, for scripts.")
def command(
    language: str, file: Path | None, folder: Path | None, out: Path | None, yes: bool
) -> int:
    """Write what LANGUAGE lacks into one file for a translator; with FILE, take it back filled.

    The file is PO, which translation offices and their tools know; what families need first
    stands at the top. Taken back, each translation is put beside its text in the content;
    every change is shown before anything is written. What is left empty stays as it is.
    """
    if file and out:
        raise Misuse("--out is for a file to be filled, FILE for one that is: give one of the two")
    content = content_folder(folder)
    loaded = load_contents(read_contents(content))
    if loaded.handbook is None:
        tell_problems(Outcome(loaded.problems, loaded.sources), content)
        return Exit.PROBLEMS
    languages = loaded.handbook.program.item.languages
    if language not in languages:
        raise Misuse(
            f"`{language}` is not one of the program's languages, {', '.join(languages)}:"
            " add it to languages in program.yaml"
        )
    lack = lack_of(loaded.handbook, language, loaded.sources.homes)
    if file:
        return _take_back(content, loaded, lack, file, yes=yes)
    return _write_out(content, loaded, lack, out or Path(f"words-{language}.po"))


def _write_out(content: Path, loaded: LoadResult, lack: Lack, out: Path) -> int:
    assert loaded.handbook
    pages = {name: _text(raw) for name, raw in _raw(content, lack).items()}
    wanted = wanted_texts(lack, loaded.sources, pages)
    if not wanted:
        click.echo(f"Nothing is missing in {language_name(lack.language)}.")
        return Exit.CLEAN
    if is_there(out):
        raise Misuse(
            f"{out} is there already and may hold a translator's work: give another name with"
            f" --out, or take it back with `handbook words {lack.language} {out}`"
        )
    program = loaded.handbook.program.item.name.read(_first(loaded))
    text = po_text(wanted, lack.language, program=program, language=language_name(lack.language))
    write_new(out, text)
    words = sum(len(one.words.split()) for one in wanted)
    click.echo(
        f"{out}: {len(wanted):,} texts, {words:,} words, to be written in {language_name(lack.language)}."
        f" Filled, it comes back with `handbook words {lack.language} {out}`."
    )
    return Exit.CLEAN


def _first(loaded: LoadResult) -> str:
    assert loaded.handbook
    return loaded.handbook.program.item.languages[0]


def _take_back(content: Path, loaded: LoadResult, lack: Lack, file: Path, *, yes: bool) -> int:
    try:
        raw = file.read_bytes()
    except OSError as error:
        raise Misuse(f"{file} cannot be read: {error.strerror}") from None
    given = read_given(file.name, raw, lack.language)
    if given.problems:
        lines = tuple(raw.decode(errors="replace").splitlines())
        sources = SourceMap({file.name: SourceFile(lines)})
        folder = file.parent.as_posix() if file.parent != Path() else ""
        told = report_text(given.problems, sources, folder=folder, colour=_colour())
        click.echo(told + "Nothing was written.")
        return Exit.PROBLEMS
    words = {text: forms[0] for (context, text), forms in given.words.items() if not context}
    found = taken(lack, words, _raw(content, lack), _first(loaded))
    for line in _shown(found, content.as_posix()):
        click.echo(line)
    _tell_unknown(lack, words, found, content)
    if not found.files:
        click.echo("Nothing of it is missing in the content: nothing was written.")
        return Exit.CLEAN
    if not (yes or agrees_to_write(len(found.files))):
        click.echo("Nothing was written.")
        return Exit.PROBLEMS
    try:
        write_taken(content, found)
    except NotWrittenError as refusal:
        click.echo(f"handbook: {refusal}", err=True)
        return Exit.PROBLEMS
    texts = sum(one.texts for one in found.files)
    click.echo(f"{texts:,} texts written into {len(found.files)} files.")
    return Exit.CLEAN


def _tell_unknown(lack: Lack, words: Mapping[str, str], found: Taken, content: Path) -> None:
    """Say what of the file has no place: changed meanwhile, or translated already."""
    texts = {one.words for one in lack.lacking}
    left = [text for text in words if text not in texts]
    pages = sum(one.texts for one in found.files if one.before is None)
    unused = len(left) - pages
    if unused > 0 and not found.unfinished:
        click.echo(
            f"{unused} of its texts are in the content no more, or have a translation already;"
            " they are left out."
        )
    for page in found.unfinished:
        click.echo(
            f"{in_folder(content.as_posix(), page)} is not translated as a whole yet: it waits."
        )


def _shown(found: Taken, folder: str) -> Iterator[str]:
    for file in found.files:
        name = in_folder(folder, file.name)
        yield click.style(name, bold=True) if _colour() else name
        yield from _difference(file, name)
        yield ""


def _difference(file: TakenFile, name: str) -> Iterator[str]:
    before, after = (_text(one or b"").splitlines() for one in (file.before, file.after))
    for line in difflib.unified_diff(before, after, name, name, n=0, lineterm=""):
        colour = {"+": "green", "-": "red"}.get(line[:1]) if _colour() else None
        yield click.style(line, fg=colour) if colour else line


def _raw(content: Path, lack: Lack) -> dict[str, bytes]:
    names = {*lack.by_file(), *(page.file for page in lack.pages)}
    return {name: (content / name).read_bytes() for name in sorted(names)}


def _text(raw: bytes) -> str:
    return raw.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")


def _colour() -> bool:
    return wants_colour(sys.stdout.isatty())
