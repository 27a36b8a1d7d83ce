"""What a director types, and what the reader makes of it or says about it.

The traps are those of YAML 1.1 and 1.2 (yaml.org/spec/1.2.2: 5.3 indicators, 6.6 comments,
6.9 node properties, 7.3 flow scalars); which of them directors step into is common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
import yaml

from handbook.problems import Position, Problem
from handbook.source.yaml_reader import LOADER, Loader, YamlFile, read_yaml

NBSP = "\u00a0"


@pytest.fixture(params=["fast", "pure"])
def loader(request: pytest.FixtureRequest) -> Loader:
    return LOADER if request.param == "fast" else yaml.BaseLoader


def read(text: str | bytes, loader: Loader = LOADER) -> YamlFile:
    return read_yaml("cycle.yaml", text if isinstance(text, bytes) else text.encode(), loader)


def told(problem: Problem) -> str:
    """A problem in one line: place, length, code, message, fix."""
    at = problem.position
    assert at is not None
    mark = "" if problem.severity.value == "error" else "warning "
    return f"{at.line}:{at.column}+{at.length} {mark}{problem.code}: {problem.message} | {problem.hint}"


@pytest.mark.parametrize(
    ("text", "data"),
    [
        ("call: 6:30", {"call": "6:30"}),  # YAML 1.1 reads 390
        ("call: 18:45", {"call": "18:45"}),
        ("call: 24:00", {"call": "24:00"}),
        ("long: 1:30:00", {"long": "1:30:00"}),
        ("call: 09:30", {"call": "09:30"}),
        ("draft: no\nlate: on\nearly: off", {"draft": "no", "late": "on", "early": "off"}),
        ("date: 2026-12-03", {"date": "2026-12-03"}),
        ("date: 2026-02-30", {"date": "2026-02-30"}),  # refused later, with its place
        ("id: 010\nother: 08", {"id": "010", "other": "08"}),
        ("no: 1.10", {"no": "1.10"}),
        ("room:", {"room": None}),
        ("room: ~\nhall: null", {"room": None, "hall": None}),
        ("room: ''\nhall: 'null'", {"room": "", "hall": "null"}),
        ("days: [Mon, Wed]", {"days": ["Mon", "Wed"]}),
        ("name: {en: Winter, es: Invierno}", {"name": {"en": "Winter", "es": "Invierno"}}),
        ("\ufeffname: Winter\r\nroom: hall\r\n", {"name": "Winter", "room": "hall"}),
        ("name: Winter\rroom: hall\r", {"name": "Winter", "room": "hall"}),
        ("about: >\n  One line\n  and more\n", {"about": "One line and more\n"}),
        ("---\nname: Winter\n", {"name": "Winter"}),
        (f"call: 6:30{NBSP}pm", {"call": f"6:30{NBSP}pm"}),  # a time that a web page spaced
        (f"about: >\n  {NBSP}Indented verse\n", {"about": f"{NBSP}Indented verse\n"}),
        ("about: see https://example.org/a", {"about": "see https://example.org/a"}),
        ("title: Don't peel moss", {"title": "Don't peel moss"}),
        ("title: March & Finale!", {"title": "March & Finale!"}),
        ("title: '“Winter”'", {"title": "“Winter”"}),
        ("title: C# minor", {"title": "C# minor"}),
        ("about: Come early -- doors open\n  at six, and stay\n", {"about": "Come early -- doors open at six, and stay"}),
    ],
)  # fmt: skip
def test_texts_stay_as_they_were_written(
    text: str, data: dict[str, object], loader: Loader
) -> None:
    file = read(text, loader)
    assert file.data == data
    assert file.problems == ()


@pytest.mark.parametrize(
    "text",
    [
        "date: 2026-09-07  # Labor Day",
        "date: 2026-09-07 # Labor Day",
        "date: 2026-09-07 #",
        "date: 2026-09-07 ## moved",
        "date: 2026-09-07 #---",
        "room:  # none yet",
        "# a remark\nroom: hall\n  # another\nname: x",
        "rehearsals: 4  # 3 were too few",
        "room: 'Room #5'  # by the stairs",
        "about: |\n  Room #5\n",
        "private: Room #5",
        "private:\n  room: Room #5",
    ],
)
def test_an_honest_remark_is_left_alone(text: str, loader: Loader) -> None:
    assert read(text, loader).problems == ()


# Each trap with its golden message: place, code, sentence and fix.
TRAPS = [
    (
        "name: Winter\nroom: hall\nname: Spring",
        "3:1+4 duplicate-field: `name` is given twice in this entry, on lines 1 and 3 | keep one of the two",
    ),
    (
        "stages:\n  - id: one\n    share: 2\n    share: 3",
        "4:5+5 duplicate-field: `share` is given twice in this entry, on lines 3 and 4 | keep one of the two",
    ),
    (
        "room: Room #5",
        '1:12+2 warning dropped-text: the text after # was dropped: `#5` | if it belongs to the text, write "Room #5"; if it is a remark, write a space after the #',
    ),
    (
        "date: 2026-09-07 #Labor Day",
        '1:18+10 warning dropped-text: the text after # was dropped: `#Labor Day` | if it belongs to the text, write "2026-09-07 #Labor Day"; if it is a remark, write a space after the #',
    ),
    (
        "title: Suite # 3",
        '1:14+3 warning dropped-text: the text after # was dropped: `# 3` | if it belongs to the text, write "Suite # 3"; if it is a remark, write a space after the #',
    ),
    (
        "rooms:\n  - #5",
        '2:5+2 warning dropped-text: the text after # was dropped: `#5` | if it belongs to the text, write "#5"; if it is a remark, write a space after the #',
    ),
    (
        "name: Concert: Winter",
        '1:14+1 colon-in-text: a colon inside a text looks like the start of another field | put the text in quotes: name: "Concert: Winter"',
    ),
    (
        'days:\n  - why: Bring "it": now',
        "2:20+1 colon-in-text: a colon inside a text looks like the start of another field | put the text in quotes: why: 'Bring \"it\": now'",
    ),
    (
        "bring: [Folder: black: big]",
        "1:22+1 colon-in-text: a colon inside this text looks like the start of another field | put the text in quotes",
    ),
    (
        "call: @noon",
        '1:7+5 special-first-character: a text that starts with `@` needs quotes, since `@` has a meaning of its own there | write "@noon"',
    ),
    (
        "thanks: *bold* work  # well done",
        '1:9+11 special-first-character: a text that starts with `*` needs quotes, since `*` has a meaning of its own there | write "*bold* work"',
    ),
    (
        "thanks: *bold",
        '1:9+5 special-first-character: a text that starts with `*` needs quotes, since `*` has a meaning of its own there | write "*bold"',
    ),
    (
        "thanks: !Bravo to all",
        '1:9+13 special-first-character: a text that starts with `!` needs quotes, since `!` has a meaning of its own there | write "!Bravo to all"',
    ),
    (
        "thanks: &c. and so on",
        '1:9+13 special-first-character: a text that starts with `&` needs quotes, since `&` has a meaning of its own there | write "&c. and so on"',
    ),
    (
        "share: %50",
        '1:8+3 special-first-character: a text that starts with `%` needs quotes, since `%` has a meaning of its own there | write "%50"',
    ),
    (
        "about: > softer",
        '1:8+8 special-first-character: a text that starts with `>` needs quotes, since `>` has a meaning of its own there | write "> softer"',
    ),
    (
        "about: `code`",
        '1:8+6 special-first-character: a text that starts with a backtick needs quotes, since a backtick has a meaning of its own there | write "`code`"',
    ),
    (
        "goals: - Play it",
        '1:8+9 special-first-character: a list cannot begin on the line of its field | move `- Play it` to the next line, or write "- Play it" if it is one text',
    ),
    (
        "usual: &usual\n  start: noon\nlate: *usual",
        "1:8+6 shared-entry: `&usual` marks what follows for copying or for a kind of its own, and neither is read here | remove `&usual`, and write copies out in full",
    ),
    (
        "usual: {start: noon}\n<<: {end: 1 pm}",
        "2:1+2 shared-entry: `<<` would copy another entry into this one, and copies are not read here | write the fields out in full",
    ),
    (
        "slots: !fast\n  close: 3",
        "1:8+5 shared-entry: `!fast` marks what follows for copying or for a kind of its own, and neither is read here | remove `!fast`, and write copies out in full",
    ),
    (
        "[name]: Winter",
        "1:1+6 odd-field-name: what stands before this colon is no plain field name | a field is a plain word; a text with brackets or braces at its start needs quotes",
    ),
    (
        ": Winter",
        "1:1+1 odd-field-name: what stands before this colon is no plain field name | a field is a plain word; a text with brackets or braces at its start needs quotes",
    ),
    (
        "stages:\n\t- id: one\n\t- id: two",
        "2:1+1 tab-indent: a tab stands at the start of this line and of 1 more, where only spaces are read | replace each tab by two spaces",
    ),
    (
        "name: Winter\n\troom: hall",
        "2:1+1 tab-indent: a tab stands at the start of this line, where only spaces are read | replace each tab by two spaces",
    ),
    (
        f"name:{NBSP}Winter\nroom: hall",
        "1:6+1 odd-space: this looks like a space, but is a non-breaking one, probably pasted | delete it and type an ordinary space",
    ),
    (
        f"name:{NBSP}Winter",
        "1:6+1 odd-space: this looks like a space, but is a non-breaking one, probably pasted | delete it and type an ordinary space",
    ),
    (
        f"goals:\n  -{NBSP}Play it\n  - Sing it",
        "2:4+1 odd-space: this looks like a space, but is a non-breaking one, probably pasted | delete it and type an ordinary space",
    ),
    (
        f"stages:\n{NBSP}{NBSP}- id: one",
        "2:1+1 odd-space: this looks like a space, but is a non-breaking one, probably pasted | delete it and type an ordinary space",
    ),
    (
        "date: “2026-12-10”",
        '1:7+12 warning curly-quotes: these curly quotes are read as a part of the text | write straight quotes, "2026-12-10", or leave the quotes out',
    ),
    (
        "name: “Concert: Winter”",
        '1:7+17 curly-quotes: curly quotes do not hold a text together as straight ones do | write name: "Concert: Winter"',
    ),
    (
        'name: "Winter”\nroom: hall',
        '1:7+8 unclosed-quote: this quote is opened, but not closed on its line: the one at the end is curly | close it at the end of the text: "Winter"',
    ),
    (
        'name: "Winter\nroom: hall\n',
        '1:7+7 unclosed-quote: this quote is opened, but not closed on its line | close it at the end of the text: "Winter"',
    ),
    (
        'name: "Winter\nroom: "hall"\n',
        '1:7+7 unclosed-quote: this quote is opened, but not closed on its line | close it at the end of the text: "Winter"',
    ),
    (
        "title: 'Don't peel moss'",
        '1:13+12 text-after-quote: text goes on after the closing quote | put all of it in one pair of quotes: "Don\'t peel moss"',
    ),
    (
        'title: "Winter" march  # by us',
        "1:17+5 text-after-quote: text goes on after the closing quote | put all of it in one pair of quotes: '\"Winter\" march'",
    ),
    (
        "title: [Winter] march",
        '1:17+5 text-after-quote: text goes on after the closing bracket | put all of it in one pair of quotes: "[Winter] march"',
    ),
    (
        'file: "C:\\music\\a"',
        "1:10+2 stray-backslash: a backslash in double quotes has a meaning of its own | use single quotes around the text, or write the backslash twice",
    ),
    (
        "days: [Mon, Wed\nroom: hall",
        "1:7+9 unclosed-bracket: this `[` is opened, but not closed | add `]` after the last item, or put the text in quotes if it is no list",
    ),
    (
        "name: {en: Winter\nroom: hall",
        "1:7+11 unclosed-bracket: this `{` is opened, but not closed | add `}` after the last item, or put the text in quotes if it is no list",
    ),
    (
        "days: [\n",
        "1:7+1 unclosed-bracket: this `[` is opened, but not closed | add `]` after the last item, or put the text in quotes if it is no list",
    ),
    (
        "rooms: [Room #5, hall]\nname: x",
        "1:14+9 unclosed-bracket: the # starts a remark, so the end of this list in brackets is lost | put the item with the # in quotes",
    ),
    (
        'days: ["Mon" "Wed"]',
        "1:14+1 missing-comma: two items of this list in brackets are not parted by a comma | put a comma between them, or quotes around the whole item",
    ),
    (
        "days: [Mon, Wed]]",
        "1:17+1 stray-bracket: this `]` closes nothing | remove it, or put the whole text in quotes",
    ),
    (
        "days: ]",
        "1:7+1 stray-bracket: `]` cannot start a text | remove it, or put the whole text in quotes",
    ),
    (
        "stages:\n  - id: one\n   share: 2",
        "3:4+8 uneven-indent: this line does not line up with the lines above it | start it in column 5 or 3, as line 2 does",
    ),
    (
        "stages:\n  - id: one\n    share: 2\n  id: two",
        "4:3+7 uneven-indent: this line does not line up with the lines above it | put `- ` in front if this begins a new item of the list; add two spaces in front if it goes on with the item above",
    ),
    (
        "name: Winter\n  room: hall",
        "2:3+10 uneven-indent: this line does not line up with the lines above it | start it in column 1, as line 1 does",
    ),
    (
        "slots:\n    close: 3\n  set_up: 4",
        "3:3+9 uneven-indent: this line does not line up with the lines above it | start it in column 5, as line 2 does, or in column 1, as line 1 does",
    ),
    (
        "name: Winter\n- id: one",
        "2:1+9 uneven-indent: this line does not line up with the lines above it | a list belongs below the name of its field, and no field is open here; see line 1",
    ),
    (
        "name: Winter\nroom hall\nyear: 2026-27",
        "2:1+9 missing-colon: this line has no colon, so it is neither a field nor part of one | write `room: …` if it is a field; indent the line if it goes on with the text above",
    ),
    (
        "room hall\nname: Winter",
        "1:1+9 missing-colon: this line has no colon, so it is neither a field nor part of one | write `room: …` if it is a field; indent the line if it goes on with the text above",
    ),
    (
        "name:Winter\nroom: hall",
        "1:5+1 no-space-after-colon: the colon after `name` needs a space behind it | write `name: Winter`",
    ),
    (
        "room: hall\nname:Winter\nyear: 2026-27",
        "2:5+1 no-space-after-colon: the colon after `name` needs a space behind it | write `name: Winter`",
    ),
    (
        "goals:\n  - Play it\n  -Sing it",
        "3:3+8 no-space-after-hyphen: a list item needs a space after its hyphen | write `- Sing it`",
    ),
    (
        "goals:\n- Play it\n -Sing it",
        "3:2+8 warning swallowed-line: this line was read as more of the text that begins on line 2 | a list item needs a space after its hyphen: `- Sing it`",
    ),
    (
        "goals: Both of\n  - Play it",
        "2:3+9 warning swallowed-line: this line was read as more of the text that begins on line 1 | to begin a list, leave nothing after the colon above and line the hyphens up below it",
    ),
    (
        "slots:\n  name: Winter\n    room:hall",
        "3:5+9 warning swallowed-line: this line was read as more of the text that begins on line 2 | a field needs a space after its colon: `room: hall`",
    ),
    (
        "name: Winter\n---\nname: Spring",
        "2:1+3 second-document: a line of three hyphens starts a second document, and a file holds one | remove the line, or move what follows to a file of its own",
    ),
    (
        "",
        "1:1+1 empty-file: this file holds nothing yet | write its fields, or remove the file: a topic without a file is left out",
    ),
    (
        "# name: Winter\n",
        "1:1+1 empty-file: this file holds nothing yet | write its fields, or remove the file: a topic without a file is left out",
    ),
    (
        "name: Win\u200bter",
        "1:10+1 hidden-character: a character that cannot be seen (a zero-width space) stands here | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        "name: Win\u202eter",
        "1:10+1 hidden-character: a character that cannot be seen (a turn of the order of letters) stands here | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        'name: "Win\\x02ter\\x03"',
        "1:7+16 hidden-character: a character that cannot be seen (code 02) stands here; after it, 1 more of the kind | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        '"na\\x1bme": Winter',
        "1:1+10 hidden-character: a character that cannot be seen (code 1B) stands here | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        "name: Win&#x202e;ter &#2;",
        "1:10+8 hidden-character: a character that cannot be seen (a turn of the order of letters, written `&#x202e;`) stands here; after it, 1 more of the kind | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        'name: "Win\\x26#8203;ter"',
        "1:7+18 hidden-character: a character that cannot be seen (a zero-width space, written `&#8203;`) stands here | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        "name: Win&#" + "0" * 5000 + "8238;ter",
        "1:10+5006 hidden-character: a character that cannot be seen (a code that no character has) stands here | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        "name: A\nabout: One\x0bTwo\x0bThree",
        "2:11+1 hidden-character: a character that cannot be seen (a line break from a word processor) stands here; after it, 1 more of the kind | delete it by retyping this place; such characters come along when text is pasted",
    ),
    (
        "[" * 2000,
        "1:31+1 nested-too-deep: lists and entries are nested more than 30 deep here | no content file needs that; look for brackets or indents that were repeated by mistake",
    ),
    (
        "- " * 31 + "x",
        "1:61+1 nested-too-deep: lists and entries are nested more than 30 deep here | no content file needs that; look for brackets or indents that were repeated by mistake",
    ),
    (
        "name: {en: a} {es: b}",
        '1:15+7 text-after-quote: text goes on after the closing bracket | put all of it in one pair of quotes: "{en: a} {es: b}"',
    ),
]


@pytest.mark.parametrize(("text", "message"), TRAPS, ids=[repr(text)[:40] for text, _ in TRAPS])
def test_each_trap_is_named_with_its_place_and_a_fix(
    text: str, message: str, loader: Loader
) -> None:
    assert [told(problem) for problem in read(text, loader).problems] == [message]


@pytest.mark.parametrize(
    ("raw", "message"),
    [
        (
            "name: Café".encode("cp1252"),
            "1:10+1 not-utf-8: this character, probably `é`, is not saved as UTF-8 | choose Save As in the editor, set the encoding to UTF-8, and save again",
        ),
        (
            "name: A\r\nroom: Caf\u00e9".encode("cp1252"),
            "2:10+1 not-utf-8: this character, probably `é`, is not saved as UTF-8 | choose Save As in the editor, set the encoding to UTF-8, and save again",
        ),
        (
            "name: Winter".encode("utf-16"),
            "1:1+1 not-utf-8: this file is saved as UTF-16, but must be UTF-8 | choose Save As in the editor, set the encoding to UTF-8, and save again",
        ),
        (
            b"x" * 1_000_001,
            "1:1+1 file-too-large: this file is 1.0 MB, and more than 1 MB cannot be meant | check that it is the right file; music, for instance, may be split over files in music/",
        ),
    ],
)
def test_bytes_that_are_no_text_are_refused(raw: bytes, message: str, loader: Loader) -> None:
    file = read(raw, loader)
    assert [told(problem) for problem in file.problems] == [message]
    assert file.data is None


def test_a_duplicate_names_both_lines() -> None:
    (problem,) = read("name: Winter\nroom: hall\nname: Spring").problems
    (note,) = problem.notes
    assert (note.message, note.position and note.position.line) == ("it was given here first", 1)


def test_all_slips_of_a_file_are_told_at_once() -> None:
    text = "name: A\nname: B\nroom: Room #5\nabout: “Hi”\nabout: C\n"
    assert sorted(problem.code for problem in read(text).problems) == [
        "curly-quotes",
        "dropped-text",
        "duplicate-field",
        "duplicate-field",
    ]


def test_the_first_of_two_equal_fields_is_kept_so_that_the_rest_is_still_checked() -> None:
    assert read("name: A\nname: B\nroom: hall").data == {"name": "A", "room": "hall"}


@pytest.mark.parametrize(
    ("text", "data"),
    [
        ("name: A\nprivate: ask the office", {"name": "A"}),
        ("stages:\n  - id: one\n    private:\n      x: 1\n      x: 2", {"stages": [{"id": "one"}]}),
        ("name: {en: A, private: B}", {"name": {"en": "A"}}),
        ("private:\n  - 1", {}),
    ],
)
def test_private_notes_are_left_out_with_all_that_is_in_them(
    text: str, data: dict[str, object], loader: Loader
) -> None:
    file = read(text, loader)
    assert file.data == data
    assert file.problems == ()


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("room: #5", "dropped-text"),
        ("date: “2026-12-10”", "curly-quotes"),
        ("contact:\n  role:Office", "no-space-after-colon"),
        ("goals:\n  -Play it", "no-space-after-hyphen"),
        ("goals: Both\n  - Play it", "swallowed-line"),
    ],
)
def test_a_doubt_waits_at_the_place_that_may_be_refused(text: str, code: str) -> None:
    assert [doubt.code for doubt in read(text).doubts] == [code]


@pytest.mark.parametrize("text", ["call: 6:30", "room: Room #5", "about: see https://example.org"])
def test_a_readable_value_raises_no_doubt(text: str) -> None:
    assert read(text).doubts == ()


@pytest.mark.parametrize("copies", [3, 9])
def test_copies_of_copies_are_not_followed(copies: int, loader: Loader) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    for n in range(1, copies):
        row = ", ".join([f"*a{n - 1}"] * 9)
        lines.append(f"a{n}: &a{n} [{row}]")
    file = read("\n".join(lines), loader)
    assert [problem.code for problem in file.problems] == ["shared-entry"] * copies


def test_a_text_that_holds_itself_is_refused_and_not_followed(loader: Loader) -> None:
    assert [p.code for p in read("a: &a [*a]", loader).problems] == ["shared-entry"]


JARGON = ("mapping", "scalar", "sequence", "node", "token", "anchor", "alias", "yaml", "parse")


def messages() -> Iterator[str]:
    for text, _ in TRAPS:
        for problem in (*read(text).problems, *read(text).doubts):
            yield f"{problem.message} {problem.hint}".lower()


def test_no_message_speaks_of_the_notation() -> None:
    assert not [(word, said) for said in messages() for word in JARGON if word in said]


def test_each_message_is_one_lower_case_sentence() -> None:
    for text, _ in TRAPS:
        for problem in read(text).problems:
            assert not problem.message.endswith(".")
            assert not problem.message[0].isupper()
            assert problem.hint


@pytest.mark.parametrize(
    "text",
    ["سلام\u200f!", "\u200eשלום", "می\u200cخواهم", "👩\u200d🎤", "🎷\ufe0f", "naïve", "tab\there"],
)
def test_what_writing_needs_is_left_alone(text: str) -> None:
    assert read_yaml("f.yaml", f"name: '{text}'".encode()).problems == ()


def test_a_line_that_no_file_should_have_is_told() -> None:
    (problem,) = read_yaml("f.yaml", b"name: A\nabout: " + b"x" * 20_000).problems
    assert (problem.code, problem.position) == ("text-too-long", Position(2, 1))
    assert "20,007 letters" in problem.message
    assert read_yaml("f.yaml", b"about: " + b"x" * 19_993).problems == ()


@pytest.mark.parametrize(
    ("text", "place"),
    [("notes:\n" + "  - x\n" * 1001, ("f.yaml", "notes")), ("".join(f"f{n}: x\n" for n in range(1001)), ("f.yaml",))],
    ids=["list", "entry"],
)  # fmt: skip
def test_more_parts_than_can_be_meant_are_told_and_not_read(
    text: str, place: tuple[str, ...]
) -> None:
    file = read_yaml("f.yaml", text.encode())
    assert [(problem.code, problem.address) for problem in file.problems] == [
        ("too-many-entries", place)
    ]
    data: Any = file.data
    assert len(data.get("notes", data)) == 1000


def test_of_many_problems_of_a_kind_the_others_are_counted() -> None:
    text = "notes:\n" + "  - Room #5\n" * 900 + "name: A\n" * 2
    file = read_yaml("f.yaml", text.encode())
    dropped = [problem for problem in file.problems if problem.code == "dropped-text"]
    assert (len(dropped), dropped[-1].more) == (300, 600)
    assert [problem.code for problem in file.problems if problem.code != "dropped-text"] == [
        "duplicate-field"
    ]


@pytest.mark.parametrize(
    "text",
    ["R&D", "&amp;", "&#233;", "&eacute; &#x266D;", "&nothing;", "&#146;", "&lrm; &zwj;", "&#;"],
)
def test_a_code_for_a_character_that_is_seen_is_let_be(text: str) -> None:
    assert read_yaml("a.yaml", f"name: A {text}".encode()).problems == ()
