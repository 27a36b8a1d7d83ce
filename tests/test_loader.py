"""A content folder is read whole, or told about whole.

Each row changes one place of the shared small folder. Sentences are checked as a director
would see them; where they come from is common practice, no source.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from handbook.loader import LoadResult, load
from handbook.loader.validation_errors import _TELL
from handbook.problems import Problem, Severity
from handbook.schema.base import Item
from handbook.schema.entries import ENTRY_NAMES, field_descriptions
from handbook.schema.handbook import MODELS
from tests.content_folders import base_files, changed, write_folder

PROGRAM, YEAR = "program.yaml", "years/2026-27.yaml"
CYCLE, MUSIC = "cycles/winter/cycle.yaml", "cycles/winter/music.yaml"
CONCERT, PAGE = "cycles/winter/concert.yaml", "pages/attendance.md"


def told(problem: Problem, result: LoadResult) -> str:
    at = problem.position or result.sources.position(problem.address, on_key=problem.on_key)
    assert at is not None
    place = f"{problem.file}:{at.line}:{at.column}+{at.length}"
    mark = "" if problem.severity is Severity.ERROR else "warning "
    return f"{place} {mark}{problem.code}: {problem.message} | {problem.hint}"


def loaded_with(folder: Path, name: str, old: str, new: str) -> LoadResult:
    return load(write_folder(folder, changed(base_files(), name, old, new)))


def test_a_whole_folder_gives_a_handbook(tmp_path: Path) -> None:
    files = base_files()
    media = {"media/long-tones.mp3": "x", "media/pictures/hall.jpg": "x"}
    result = load(write_folder(tmp_path, {**files, **media}))
    book = result.handbook
    assert result.problems == ()
    assert book is not None
    assert str(book.program.item.name) == "Quillhaven Bands"
    assert book.years["2026-27"].item.first_day == dt.date(2026, 8, 24)
    (cycle,) = book.cycles
    assert (cycle.id, cycle.cycle.file) == ("winter", CYCLE)
    assert [str(piece.title) for piece in cycle.music[0].item.pieces] == [
        "Button Comets",
        "Tweed Kites",
    ]
    assert cycle.concert is not None
    assert cycle.concert.item.downbeat == dt.time(19)
    assert book.media == {"long-tones.mp3", "pictures/hall.jpg"}
    (page,) = book.pages
    assert (page.slug, page.title) == ("attendance", "Attendance")
    assert page.body == "Tell the band office before a rehearsal is missed.\n"


def test_files_may_be_split_or_absent(tmp_path: Path) -> None:
    files = base_files()
    first, second = files.pop(MUSIC).split("  - id: tweed-kites")
    del files[CONCERT], files[PAGE]
    files["cycles/winter/music/lantern.yaml"] = first
    files["cycles/winter/music/harbor.yaml"] = f"pieces:\n  - id: tweed-kites{second}"
    files["fundamentals.yaml"] = "order: []"
    files["fundamentals/habits.yaml"] = "habits: [{id: care, name: Care, text: Wipe it dry}]"
    book = load(write_folder(tmp_path, files)).handbook
    assert book is not None
    assert [part.file for part in book.cycles[0].music] == [
        "cycles/winter/music/harbor.yaml",
        "cycles/winter/music/lantern.yaml",
    ]
    assert [part.file for part in book.fundamentals] == [
        "fundamentals.yaml",
        "fundamentals/habits.yaml",
    ]
    assert book.cycles[0].concert is None


REFUSED = [
    (
        (MUSIC, "    passages:\n      - id: round\n        name: The round\n        measures: 9-16\n        goal:", "    passages:\n      - id: round\n        name: The round\n        measures: 9-16\n        gaol:"),
        f"{MUSIC}:35:9+4 unknown-field: a passage has no field `gaol` | did you mean `goal`? the fields here are `id`, `name`, `measures`, `goal`, `start`, `lock_by`, `goals`, `priority`, `who`, `home`, `watch` and `trills`",
    ),
    (
        (PROGRAM, "id: harbor\n", f"id: {'a' * 61}\n"),
        f"{PROGRAM}:11:9+61 unreadable-id: this id has 61 letters, and 60 are the most that fit an address | what belongs here: short name that other files use",
    ),
    (
        (PROGRAM, "id: harbor\n", "id: lpt1\n"),
        f"{PROGRAM}:11:9+4 unreadable-id: `lpt1` cannot be an id, since some computers keep it for themselves | write `lpt1-1`",
    ),
    (
        (CONCERT, "venue: hall", f"venue: hall\nbookings: [{', '.join(['{room: hall, start: 5 pm, end: 6 pm, what: x}'] * 101)}]"),
        f"{CONCERT}:5:1+8 too-many-entries: this list has 101 parts, and 100 are the most | what belongs here: rooms in use for something else",
    ),
    (
        (MUSIC, "title: Tweed Kites", f"title: {'a' * 201}"),
        f"{MUSIC}:24:12+201 text-too-long: this text has 201 letters, and 200 are the most that fit here | what belongs here: title",
    ),
    (
        (MUSIC, "title: Tweed Kites", f"title: {{en: Boats, es: {'a' * 201}}}"),
        f"{MUSIC}:24:24+2 text-too-long: this text has 201 letters, and 200 are the most that fit here | what belongs here: title",
    ),
    (
        (MUSIC, "title: Tweed Kites", f"title: Boats\n    about: {'a' * 5001}"),
        f"{MUSIC}:25:12+5001 text-too-long: this text has 5,001 letters, and 5,000 are the most that fit here | what belongs here: a sentence or two for the audience",
    ),
    (
        (MUSIC, "title: Tweed Kites", f"title: Boats\n    about: {'a*' * 401}"),
        f"{MUSIC}:25:12+802 text-too-long: this text has 401 signs such as `*` and `[`, and 400 are the most that are read | what belongs here: a sentence or two for the audience",
    ),
    (
        (MUSIC, "meter: 3/4", f"meter: {'3' * 101}"),
        f"{MUSIC}:29:16+101 text-too-long: this text has 101 letters, and 100 are the most that fit here | what belongs here: meter, such as 6/8",
    ),
    (
        (MUSIC, "meter: 3/4", "meter: 3/4\n        fermata_seconds: 601"),
        f"{MUSIC}:30:26+3 unreadable-number: `601` is no number from 0 to 600 | what belongs here: seconds that held notes add each time",
    ),
    (
        (PROGRAM, "school: Quillhaven Middle School\n", ""),
        f"{PROGRAM}:1:1+4 missing-field: the program needs `school`, and here it is missing | add `school:` (name of the school)",
    ),
    (
        (PROGRAM, "    address: 12 Quill Street\n", ""),
        f"{PROGRAM}:19:5+2 missing-field: a venue needs `address`, and here it is missing | add `address:` (street address, as a map would find it)",
    ),
    (
        (CYCLE, "    purpose: Join the passages\n    tempo: 50-90\n", ""),
        f"{CYCLE}:6:5+2 missing-field: a stage needs `purpose` and `tempo`, and here they are missing | add `purpose:` (what the stage is for, in a sentence) and `tempo:` (from and to what percent of the goal tempo)",
    ),
    (
        (PROGRAM, "school: Quillhaven Middle School", "school:"),
        f"{PROGRAM}:2:1+6 missing-value: a text is missing here | what belongs here: name of the school",
    ),
    (
        (PROGRAM, "    name: Band room", "    name: Band room\n    shoe_size: 12"),
        f"{PROGRAM}:18:5+9 unknown-field: a room has no field `shoe_size` | its fields are `id`, `name` and `directions`",
    ),
    (
        (YEAR, "weekdays: [Mon, Wed]", "weekdays: Mon"),
        f"{YEAR}:17:15+3 list-wanted: a list is wanted here, not a single text | write `weekdays: [Mon]`, or put it on a line of its own after `- `",
    ),
    (
        (PROGRAM, "rooms:\n  - id: band-room\n    name: Band room", "rooms:\n  id: band-room\n  name: Band room"),
        f"{PROGRAM}:15:1+5 list-wanted: a list is wanted here, not a single entry | put `- ` in front of its first field and two spaces in front of the others",
    ),
    (
        (PROGRAM, "contact:\n  role: the band office", "contact: the band office"),
        f"{PROGRAM}:4:10+15 entry-wanted: the contact has fields of its own, but a single text stands here | write them below, one a line and indented by two spaces, such as `role: …`",
    ),
    (
        (PROGRAM, "contact:\n  role: the band office", "contact: [the band office]"),
        f"{PROGRAM}:4:1+7 entry-wanted: the contact has fields of its own, but a list stands here | write them without hyphens, such as `role: …`",
    ),
    (
        (PROGRAM, "    instruments: {flute: 4, trumpet: 5}", "    instruments: [flute]"),
        f"{PROGRAM}:14:5+11 entry-wanted: names with their values are wanted, but a list stands here | what belongs here: instrument to number of players",
    ),
    (
        (PROGRAM, "contact:\n  role: the band office", "contact:"),
        f"{PROGRAM}:4:1+7 missing-value: the contact is missing here | what belongs here: who answers questions",
    ),
    (
        (CYCLE, "ensembles: [lantern, harbor]", "ensembles: []"),
        f"{CYCLE}:4:1+9 empty-list: this list is empty, and at least one item is wanted | what belongs here: ensembles that take part",
    ),
    (
        (CYCLE, "ensembles: [lantern, harbor]", "ensembles:"),
        f"{CYCLE}:4:1+9 missing-value: a list is missing here | what belongs here: ensembles that take part",
    ),
    (
        (YEAR, "    from: Mon 2026-11-23", "    from: Mon 2026-11-23\n    resume: nxt"),
        f"{YEAR}:14:13+3 unknown-choice: `nxt` is not one of the choices `next` and `skip` | write `next`",
    ),
    (
        (CONCERT, "downbeat: 7:00 pm", "downbeat: 7:00"),
        f"{CONCERT}:3:11+4 time-without-am-or-pm: `7:00` may be morning or evening | write `7:00 pm` or `07:00`",
    ),
    (
        (CONCERT, "downbeat: 7:00 pm", "downbeat: evening"),
        f"{CONCERT}:3:11+7 unreadable-time: `evening` is no clock time | write `6:30 pm` or `18:30`",
    ),
    (
        (CONCERT, "date: Thu 2026-12-10", "date: Fri 2026-12-10"),
        f"{CONCERT}:2:7+14 wrong-weekday: 2026-12-10 is a Thursday, not a Friday; the nearest Friday is 2026-12-11 | write `Thu 2026-12-10` or `Fri 2026-12-11`",
    ),
    (
        (CONCERT, "date: Thu 2026-12-10", "date: 2026-02-30"),
        f"{CONCERT}:2:7+10 unreadable-date: February 2026 has 28 days | write `2026-02-28`",
    ),
    (
        (YEAR, "weekdays: [Tue, Thu]", "weekdays: [Tue, Thuesday]"),
        f"{YEAR}:20:21+8 unreadable-weekday: `Thuesday` is no weekday | write `Tuesday` or `Thursday`",
    ),
    (
        (MUSIC, "goal: quarter = 108", "goal: 108"),
        f"{MUSIC}:35:15+3 tempo-without-note: `108` does not say which note it counts | write `quarter = 108` or `dotted quarter = 108`",
    ),
    (
        (PROGRAM, "  - id: harbor", "  - id: Harbor Band"),
        f"{PROGRAM}:11:9+11 unreadable-id: `Harbor Band` is no id: ids are small letters, digits and single hyphens | write `harbor-band`",
    ),
    (
        (PROGRAM, "{flute: 4, trumpet: 5}", "{Flute: 4, trumpet: 5}"),
        f"{PROGRAM}:14:19+5 unreadable-id: `Flute` is no id: ids are small letters, digits and single hyphens | write `flute`",
    ),
    (
        (PROGRAM, "{flute: 4, trumpet: 5}", "{flute: few, trumpet: 5}"),
        f"{PROGRAM}:14:26+3 unreadable-number: `few` is no whole number from 1 to 200 | what belongs here: instrument to number of players",
    ),
    (
        (CYCLE, "      - Play each piece to its end", "      - Goal: play to the end"),
        f'{CYCLE}:19:9+4 colon-in-text: a colon inside a text looks like the start of another field | write `"Goal: play to the end"`',
    ),
    (
        (CYCLE, "name: Winter cycle", "name: {english: Winter, spanish: Invierno}"),
        f"{CYCLE}:1:8+7 unknown-language: `english` is no language code | write `en`",
    ),
    (
        (CYCLE, "name: Winter cycle", "name: {en: Winter, es: }"),
        f"{CYCLE}:1:20+2 missing-value: the text for `es` is missing | what belongs here: name, such as Winter cycle",
    ),
    (
        (CYCLE, "name: Winter cycle", "name: [Winter cycle]"),
        f"{CYCLE}:1:1+4 text-wanted: one text is wanted here, not a list | write one text after the colon, without brackets and hyphens",
    ),
    (
        (CYCLE, "starts: Mon 2026-10-19", "starts: {on: 2026-10-19}"),
        f"{CYCLE}:3:1+6 text-wanted: a date is wanted here, not an entry with fields of its own | write it after the colon, on the same line",
    ),
    # What the reader saw is told in its words, once.
    (
        (PROGRAM, "contact:\n  role: the band office", "contact:\n  role:the band office"),
        f"{PROGRAM}:5:3+20 no-space-after-colon: the colon after `role` needs a space behind it | write `role: the band office`",
    ),
    (
        (CONCERT, "date: Thu 2026-12-10", "date: “2026-12-10”"),
        f'{CONCERT}:2:7+12 curly-quotes: these curly quotes are read as a part of the text | write straight quotes, "2026-12-10", or leave the quotes out',
    ),
    (
        (CONCERT, "venue: hall", "venue: #hall"),
        f'{CONCERT}:4:8+5 dropped-text: the text after # was dropped: `#hall` | if it belongs to the text, write "#hall"; if it is a remark, write a space after the #',
    ),
    (
        (CYCLE, "ensembles: [lantern, harbor]", "ensembles: lantern\n  - harbor"),
        f"{CYCLE}:5:3+8 swallowed-line: this line was read as more of the text that begins on line 4 | to begin a list, leave nothing after the colon above and line the hyphens up below it",
    ),
    (
        (PROGRAM, "name: Quillhaven Bands", "name: Quillhaven Bands\nname: Again"),
        f"{PROGRAM}:2:1+4 duplicate-field: `name` is given twice in this entry, on lines 1 and 2 | keep one of the two",
    ),
    # Pages.
    (
        (PAGE, "# Attendance", "Attendance"),
        f"{PAGE}:1:1+10 page-without-title: a page begins with its title | write `# ` and the title as the first line",
    ),
    (
        (PAGE, "the band office", "<b>the band office</b>"),
        f"{PAGE}:3:6+3 html-in-page: a page holds Markdown only, and this is HTML | say it in Markdown, or remove it; a remark to yourself does not belong on a page",
    ),
    (
        (PAGE, "Tell", "<!-- ask about this -->\n\nTell"),
        f"{PAGE}:3:1+23 html-in-page: a page holds Markdown only, and this is HTML | say it in Markdown, or remove it; a remark to yourself does not belong on a page",
    ),
    (
        (PAGE, "the band office", "`<b>` and `<b>` <b>the band office</b>"),
        f"{PAGE}:3:22+3 html-in-page: a page holds Markdown only, and this is HTML | say it in Markdown, or remove it; a remark to yourself does not belong on a page",
    ),
    (
        (PAGE, "Tell", "!!! note\n    <i>Tell</i>\n\nTell"),
        f"{PAGE}:4:5+3 html-in-page: a page holds Markdown only, and this is HTML | say it in Markdown, or remove it; a remark to yourself does not belong on a page",
    ),
    (
        (PAGE, "the band office", "[the band office](JavaScript:alert(1))"),
        f"{PAGE}:3:24+11 unsafe-link: a link to `JavaScript:` is not safe to publish | link to a page, or to an address that begins with https:, mailto: or tel:",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("change", "message"), REFUSED, ids=[m.split(": ")[0] for _, m in REFUSED])
def test_a_slip_is_told_once_with_its_place_and_a_way_out(
    change: tuple[str, str, str], message: str, tmp_path: Path
) -> None:
    result = loaded_with(tmp_path, *change)
    assert [told(problem, result) for problem in result.problems] == [message]
    assert result.handbook is None


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ((PROGRAM, "name: Band room", "name: Room #5"), "dropped-text"),
        ((PROGRAM, "name: Band room", "name: “Band room”"), "curly-quotes"),
    ],
)
def test_a_warning_does_not_keep_the_handbook_back(
    change: tuple[str, str, str], code: str, tmp_path: Path
) -> None:
    result = loaded_with(tmp_path, *change)
    assert [problem.code for problem in result.problems] == [code]
    assert result.handbook is not None


def test_an_optional_field_left_empty_counts_as_left_out(tmp_path: Path) -> None:
    result = loaded_with(tmp_path, YEAR, "closures:\n", "day_labels:\nclosures:\n")
    assert result.problems == ()


def test_what_is_private_is_never_looked_at(tmp_path: Path) -> None:
    result = loaded_with(
        tmp_path, PROGRAM, "    address: 12", "    private: {keys: [ask, 5]}\n    address: 12"
    )
    assert result.problems == ()
    assert "ask" not in repr(result.handbook)


def test_the_problems_of_all_files_are_told_in_one_run(tmp_path: Path) -> None:
    files = changed(base_files(), PROGRAM, "school:", "schol:")
    files = changed(files, CYCLE, "name: Winter cycle", "name: Winter: cycle")
    files = changed(files, CONCERT, "7:00 pm", "7:00")
    files = changed(files, PAGE, "# Attendance", "Attendance")
    result = load(write_folder(tmp_path, files))
    assert sorted((problem.file, problem.code) for problem in result.problems) == [
        (CONCERT, "time-without-am-or-pm"),
        (CYCLE, "colon-in-text"),
        (PAGE, "page-without-title"),
        (PROGRAM, "unknown-field"),
    ]


FILES = [
    (["!program.yaml"], ["program.yaml missing-file write program.yaml;"]),
    (
        ["!program.yaml", "prgram.yaml"],
        ["program.yaml missing-file prgram.yaml looks like it: rename it to program.yaml"],
    ),
    (["!program.yaml", "program.yml"], ["program.yml wrong-ending rename it to program.yaml"]),
    ([f"!{CYCLE}"], [f"{CYCLE} missing-file write {CYCLE};"]),
    (
        [f"!{CYCLE}", "cycles/winter/Cycle.YAML"],
        [f"{CYCLE} missing-file cycles/winter/Cycle.YAML looks like it: rename it to cycle.yaml"],
    ),
    (["years/2027-28.yml"], ["years/2027-28.yml wrong-ending rename it to 2027-28.yaml"]),
    (["fundamental.yaml"], ["fundamental.yaml unknown-file did you mean fundamentals.yaml?"]),
    (["notes.txt"], ["notes.txt unknown-file in the content folder belong `program.yaml`,"]),
    (
        ["cycles/winter/concerts.yaml"],
        ["cycles/winter/concerts.yaml unknown-file did you mean concert.yaml?"],
    ),
    (
        ["pages/map.pdf"],
        ["pages/map.pdf unknown-file in pages/ belong `.md files`;"],
    ),
    (["README.md", ".gitignore", ".schema/cycle.json", "pages/draft.md~", "media/.DS_Store"], []),
]  # fmt: skip


@pytest.mark.parametrize(("names", "expected"), FILES, ids=[str(names) for names, _ in FILES])
def test_files_nobody_reads_are_told(names: list[str], expected: list[str], tmp_path: Path) -> None:
    files = base_files()
    for name in names:
        if name.startswith("!"):
            del files[name[1:]]
        else:
            files[name] = "text: x"
    problems = load(write_folder(tmp_path, files)).problems
    assert [
        f"{problem.file} {problem.code} {problem.hint}"[: len(line)]
        for problem, line in zip(problems, expected, strict=True)
    ] == expected


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("years/2026_27.yaml", "rename it to 2026-27"),
        ("cycles/Winter Cycle/cycle.yaml", "rename it to winter-cycle"),
        ("pages/Bus Rules.md", "rename it to bus-rules"),
    ],
)
def test_a_name_that_cannot_be_an_address_is_refused(name: str, hint: str, tmp_path: Path) -> None:
    files = base_files()
    files[name] = {"years": files[YEAR], "cycles": files[CYCLE], "pages": files[PAGE]}[
        name.split("/", maxsplit=1)[0]
    ]
    (problem,) = load(write_folder(tmp_path, files)).problems
    assert (problem.code, problem.file, problem.hint) == ("odd-file-name", name, hint)


def test_an_empty_folder_lacks_its_program(tmp_path: Path) -> None:
    assert [problem.code for problem in load(tmp_path).problems] == ["missing-file"]


def test_a_huge_file_is_refused_without_reading_it_all(tmp_path: Path) -> None:
    files = {**base_files(), "fundamentals.yaml": "# " + "x" * 1_000_000}
    result = load(write_folder(tmp_path, files))
    assert [problem.code for problem in result.problems] == ["file-too-large"]


def entries(model: type[Item]) -> list[type[Item]]:
    """Give the models that stand in files: those that no other model is built on."""
    return [one for sub in model.__subclasses__() for one in entries(sub)] or [model]


def test_every_entry_has_a_name_that_fits_a_sentence() -> None:
    assert set(ENTRY_NAMES) == set(entries(Item))
    assert all(name.startswith(("a ", "an ", "the ")) for name in ENTRY_NAMES.values())
    assert all(all(field_descriptions(model).values()) for model in ENTRY_NAMES)


_NAMES = sorted({name for model in ENTRY_NAMES for name in field_descriptions(model)})
_SCALARS = st.sampled_from(["", "x", "2026-12-10", "6:30 pm", "4", "quarter = 96", "next"])
_DATA = st.recursive(
    st.none() | _SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(_NAMES), inner, max_size=5)
    ),
    max_leaves=25,
)


@given(st.sampled_from(sorted(MODELS)), _DATA)
def test_whatever_the_models_refuse_there_is_a_sentence_for_it(topic: str, data: object) -> None:
    try:
        MODELS[topic].model_validate(data)
    except ValidationError as error:
        kinds = {row["type"] for row in error.errors(include_url=False)}
        assert kinds <= {*_TELL, "missing"}


def test_a_file_that_may_not_be_opened_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = write_folder(tmp_path, base_files())
    monkeypatch.setattr(
        "handbook.loader.contents.read_bytes",
        lambda path: None if path.name in {"concert.yaml", "attendance.md"} else path.read_bytes(),
    )
    result = load(folder)
    assert [(problem.file, problem.code) for problem in result.problems] == [
        (CONCERT, "unreadable-file"),
        (PAGE, "unreadable-file"),
    ]


def test_of_a_broken_file_the_refused_entries_alone_are_left_out(tmp_path: Path) -> None:
    files = base_files()
    other = {
        name.replace("cycles/winter/", "cycles/spring/"): text
        for name, text in files.items()
        if name.startswith("cycles/winter/")
    }
    broken = changed(files, "cycles/winter/music.yaml", "meter: 3/4", "meter: three four")
    loaded = load(write_folder(tmp_path, {**broken, **other}))
    assert loaded.handbook is None
    assert loaded.readable is not None
    spring, winter = loaded.readable.cycles
    assert (spring.id, winter.id) == ("spring", "winter")
    assert [piece.id for piece in winter.music[0].item.pieces] == [
        piece.id for piece in spring.music[0].item.pieces
    ]
    [lost] = loaded.salvaged["cycles/winter/music.yaml"].lost
    assert lost.place == ("cycles/winter/music.yaml", "pieces", 1)
    assert list(loaded.readable.years) == ["2026-27"]


def test_of_many_refusals_of_a_kind_the_others_are_counted(tmp_path: Path) -> None:
    fields = "".join(f"    f{n}: x\n" for n in range(900))
    result = load(write_folder(tmp_path, {**base_files(), MUSIC: base_files()[MUSIC] + fields}))
    assert len(result.problems) == 300
    assert sum(1 + problem.more for problem in result.problems) == 900


def test_what_an_entry_under_a_name_of_the_authors_own_lacks_is_told(tmp_path: Path) -> None:
    days = """
days:
  - date: Mon 2026-11-09
    kind: sectional
    sections:
      brass: {who: [brass], passages: [{minutes: 5}]}
"""
    files = base_files()
    cycle = "cycles/winter/cycle.yaml"
    result = load(write_folder(tmp_path, {**files, cycle: files[cycle] + days}))
    assert [(one.code, one.message) for one in result.problems] == [
        ("missing-field", "a passage of the day needs `passage`, and here it is missing")
    ]
