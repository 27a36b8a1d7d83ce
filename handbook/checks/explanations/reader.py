"""What the reader's problems mean, for `handbook explain`."""

from __future__ import annotations

from collections.abc import Mapping

from handbook.checks.explanations.explained import explained

READER_EXPLANATIONS: Mapping[str, str] = {
    "file-too-large": explained(
        "A file is larger than 1 MB.",
        "No text that a person writes for one topic is that large; most often a picture or an export got the wrong name.",
        bad="(a file of 4 MB)",
        good="(the music in several files under music/)",
    ),
    "not-utf-8": explained(
        "A file is not saved as UTF-8.",
        "Letters with accents and music signs come out wrong in other encodings. Choose Save As in the editor and set the encoding to UTF-8.",
        bad="(saved as Windows-1252 or UTF-16)",
        good="(saved as UTF-8)",
    ),
    "hidden-character": explained(
        "A character stands in a file that cannot be seen.",
        "It came along when text was pasted, and would make two equal names unlike.",
        bad="room: band␣room   # where ␣ is a zero-width space",
        good="room: band-room",
    ),
    "odd-space": explained(
        "A pasted space stands where an ordinary one is wanted.",
        "After a colon or a hyphen, and at the start of a line, only the space of the space bar counts.",
        bad="name:␣Winter   # where ␣ is a non-breaking space",
        good="name: Winter",
    ),
    "tab-indent": explained(
        "A tab stands at the start of a line.",
        "Editors show tabs at different widths, so indents are made of spaces only. Most editors can turn all tabs of a file into spaces.",
        bad="stages:\n→- id: build   # where → is a tab",
        good="stages:\n  - id: build",
    ),
    "curly-quotes": explained(
        "A text is held in curly quotes.",
        "Only straight quotes hold a text together; curly ones are letters like any other and would be shown. Word processors put them in on their own.",
        bad="name: “Concert: Winter”",
        good='name: "Concert: Winter"',
    ),
    "dropped-text": explained(
        "The end of a text was dropped, since it follows a # sign.",
        "A # with a space before it starts a remark for yourself. If a space follows it too, it is taken for an honest remark and not told; a word, a number or a lone number after a space is told.",
        bad="room: Room #5",
        good='room: "Room #5"\ndate: 2026-09-07  # Labor Day',
    ),
    "swallowed-line": explained(
        "A line was read as more of the text above it.",
        "A text may go on over several lines. A hyphen without a space, or a list below a field that has its text already, is taken into it without a word.",
        bad="goals:\n- Play it\n -Sing it",
        good="goals:\n  - Play it\n  - Sing it",
    ),
    "colon-in-text": explained(
        "A text has a colon and a space in it.",
        "A colon and a space end the name of a field. A text that has them needs quotes.",
        bad="name: Concert: Winter",
        good='name: "Concert: Winter"',
    ),
    "special-first-character": explained(
        "A text starts with a sign that means something else there.",
        "These signs need quotes in front of a text: @ ` % & * ! | > [ ] { } , ? - and #. Inside a text they are letters like any other.",
        bad="call: @noon",
        good='call: "@noon"',
    ),
    "shared-entry": explained(
        "An entry is marked for copying, or copied.",
        "Some programs let one part of a file copy another by & * and <<. Here every entry is written out, so that what is read is what stands there.",
        bad="usual: &usual {close: 3}\nslots: *usual",
        good="usual: {close: 3}\nslots: {close: 3}",
    ),
    "odd-field-name": explained(
        "What stands before a colon is not a plain name.",
        "A field's name is a word. A list, an entry or nothing at all cannot be one.",
        bad="{{name}}: Winter",
        good="name: Winter",
    ),
    "duplicate-field": explained(
        "An entry has the same field twice.",
        "Only one of the two could count, and nobody would see which.",
        bad="name: Winter cycle\nyear: 2026-27\nname: Spring cycle",
        good="name: Winter cycle\nyear: 2026-27",
    ),
    "nested-too-deep": explained(
        "Lists and entries are nested more than 30 deep.",
        "No content file goes deeper than ten; brackets or indents were repeated by mistake.",
        bad="x: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
        good="x: [1]",
    ),
    "unclosed-quote": explained(
        "A quote is opened, but not closed.",
        "The text would go on to the next quote, over all lines between.",
        bad='name: "Winter cycle\nyear: 2026-27',
        good='name: "Winter cycle"\nyear: 2026-27',
    ),
    "text-after-quote": explained(
        "Text goes on after a closing quote or bracket.",
        "Quotes hold a whole text or none of it. For an apostrophe inside, use double quotes.",
        bad="title: 'Don't look back'",
        good='title: "Don\'t look back"',
    ),
    "stray-backslash": explained(
        "A backslash stands in double quotes.",
        "In double quotes a backslash begins a code for another character. In single quotes, or without quotes, it is a letter like any other.",
        bad='file: "C:\\music"',
        good="file: 'C:\\music'",
    ),
    "unclosed-bracket": explained(
        "A bracket is opened, but not closed.",
        "A list in brackets ends with its bracket; a # inside it starts a remark, and hides the rest.",
        bad="weekdays: [Mon, Wed\nperiod: p3",
        good="weekdays: [Mon, Wed]\nperiod: p3",
    ),
    "stray-bracket": explained(
        "A bracket closes nothing.",
        bad="weekdays: [Mon, Wed]]",
        good="weekdays: [Mon, Wed]",
    ),
    "missing-comma": explained(
        "Two items of a list in brackets are not parted by a comma.",
        bad='notes: ["Breathe" "Play"]',
        good='notes: ["Breathe", "Play"]',
    ),
    "uneven-indent": explained(
        "A line does not line up with those above it.",
        "Fields of one entry begin in the same column; what belongs to a field is further right. An item of a list begins with a hyphen, and its other fields line up with the first.",
        bad="stages:\n  - id: build\n   share: 2",
        good="stages:\n  - id: build\n    share: 2",
    ),
    "missing-colon": explained(
        "A line is neither a field nor part of one.",
        "A field is its name, a colon, a space, and then its text.",
        bad="name Winter cycle\nyear: 2026-27",
        good="name: Winter cycle\nyear: 2026-27",
    ),
    "no-space-after-colon": explained(
        "A field's colon has no space behind it.",
        "Only a colon and a space end the name of a field, so that times such as 6:30 can be texts.",
        bad="name:Winter\nyear: 2026-27",
        good="name: Winter\nyear: 2026-27",
    ),
    "no-space-after-hyphen": explained(
        "A list item's hyphen has no space behind it.",
        "Only a hyphen and a space begin an item, so that a text may begin with a hyphen.",
        bad="goals:\n  - Play it\n  -Sing it",
        good="goals:\n  - Play it\n  - Sing it",
    ),
    "second-document": explained(
        "A line of three hyphens stands inside a file.",
        "It would begin a second document; each file is one.",
        bad="name: Winter cycle\n---\nyear: 2026-27",
        good="name: Winter cycle\nyear: 2026-27",
    ),
    "empty-file": explained(
        "A file holds nothing, or only remarks.",
        "A topic whose file is absent is left out of the site; an empty file is more likely unfinished.",
        bad="# music to come",
        good="pieces:\n  - id: harbor-lights",
    ),
    "unreadable-line": explained(
        "A line cannot be read, and it is not clear why.",
        "Look at its indent, its quotes, brackets and colons, and at the line above. Text with signs in it is safest in quotes.",
        bad=":",
        good="name: Winter cycle",
    ),
}
