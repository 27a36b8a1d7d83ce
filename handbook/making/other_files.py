"""Files of the site that are no pages: the search index, assets, the error page, the sitemap."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial

from handbook.making.content import ReadContent
from handbook.making.cycles import CycleHead
from handbook.making.framing import Framing
from handbook.making.kept import Fresh, KeptBatch, finish
from handbook.outputs.html.school_style import school_style
from handbook.outputs.model import OutputFile
from handbook.outputs.search.index import search_index, search_part
from handbook.publishing.sitemap import sitemap
from handbook.store import key_of


def search_files(
    content: ReadContent,
    groups: Sequence[Sequence[CycleHead]],
    wholes: Sequence[KeptBatch],
    own: Mapping[str, Sequence[KeptBatch]],
    framing: Framing,
) -> list[KeptBatch]:
    """Make the search index of a language: one file of what is of no cycle, and one of each cycle."""
    lasts = [(head.id, head.last) for group in groups for head in group]

    def rows_of(
        what: object, batches: Sequence[KeptBatch], put: Callable[[Iterable[str]], OutputFile]
    ) -> KeptBatch:
        rows = [batch.batch.rows for batch in batches]
        key = key_of("search", content.program, framing.tree, what, rows)
        return kept_files(
            content, key, lambda: framing.files([put(batch.rows() for batch in batches)])
        )

    parts = [rows_of(cycle, batches, partial(search_part, cycle)) for cycle, batches in own.items()]
    return [rows_of(lasts, wholes, partial(search_index, cycles=lasts)), *parts]


def other_files(
    content: ReadContent, pages: Sequence[KeptBatch], framings: Sequence[Framing]
) -> list[KeptBatch]:
    """Make the assets, the page for lost readers and, if the site's address is known, the sitemap."""
    program, address = content.program, content.shared().facts.address
    renderer = framings[0].renderer
    files = [kept_files(content, key_of("assets", program), lambda: renderer.assets)]
    if len(framings) > 1:
        key = key_of("moved", content.shared_key)
        files.append(kept_files(content, key, partial(_moved, framings[0])))
    for framing in framings:
        files += [
            kept_files(
                content,
                key_of("school", content.core_key, framing.language),
                partial(_school_style, framing),
            ),
            kept_files(content, key_of("not found", framing.key), partial(_not_found, framing)),
            kept_files(
                content,
                key_of("scripts", program, framing.language),
                partial(_own_scripts, framing),
            ),
        ]
    if address is not None:
        made = (path for batch in pages for path, _ in batch.batch.files)
        paths = sorted(path.removesuffix("index.html") for path in made)
        trees = {framing.language: framing.tree for framing in framings}
        key = key_of("sitemap", program, paths, address, sorted(trees.items()))
        files.append(kept_files(content, key, lambda: [sitemap(paths, address, trees)]))
    return files


def _school_style(framing: Framing) -> list[OutputFile]:
    with framing.speaking():
        return [school_style(framing.context)]


def _moved(framing: Framing) -> list[OutputFile]:
    return [*framing.renderer.moved(framing.context)]


def _own_scripts(framing: Framing) -> tuple[OutputFile, ...]:
    with framing.speaking():
        return framing.renderer.own_scripts()


def _not_found(framing: Framing) -> list[OutputFile]:
    return [framing.not_found()]


def kept_files(
    content: ReadContent, key: str, make: Callable[[], Iterable[OutputFile]]
) -> KeptBatch:
    """Keep files that are no pages under the key of all that they are made of."""

    def fresh() -> Fresh:
        return Fresh(contents={file.path: file.content for file in make()})

    batch = KeptBatch(content.store, key, fresh)
    finish([batch])
    return batch
