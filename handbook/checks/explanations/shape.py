"""What is meant by problems with files, fields and pages, for `handbook explain`."""

from __future__ import annotations

from collections.abc import Mapping

from handbook.checks.explanations.explained import explained

SHAPE_EXPLANATIONS: Mapping[str, str] = {
    "missing-file": explained(
        "A file is missing that the others need.",
        "Every folder needs program.yaml, and every folder in cycles/ its cycle.yaml.",
        bad="content/\n  cycles/winter/music.yaml",
        good="content/\n  program.yaml\n  cycles/winter/cycle.yaml\n  cycles/winter/music.yaml",
    ),
    "wrong-ending": explained(
        "A file's name ends in .yml.",
        "All content files end in .yaml, so that one topic is never in two files of nearly one name.",
        bad="cycles/winter/music.yml",
        good="cycles/winter/music.yaml",
    ),
    "unknown-file": explained(
        "A file is in the folder that nothing reads.",
        "Its name is most often a slip. Files whose names begin with a dot, READMEs and everything in media/ may stay.",
        bad="cycles/winter/concerts.yaml",
        good="cycles/winter/concert.yaml",
    ),
    "odd-file-name": explained(
        "A file or folder has a name that cannot be part of an address.",
        "The names of cycles, years and pages become addresses on the site: small letters, digits and hyphens.",
        bad="cycles/Winter Cycle/cycle.yaml",
        good="cycles/winter-cycle/cycle.yaml",
    ),
    "unreadable-file": explained(
        "The computer does not let a file be opened.",
        "Its permissions forbid it, or another program holds it.",
        bad="(a file only its owner may read)",
        good="(a file that you may read)",
    ),
    "unknown-field": explained(
        "An entry has a field that nobody knows.",
        "It would be passed over without a word. Notes to yourself may stand under `private:` in any entry.",
        bad="passages:\n  - {id: opening, gaol: quarter = 96}",
        good="passages:\n  - {id: opening, goal: quarter = 96}",
    ),
    "missing-field": explained(
        "An entry lacks a field that it needs.",
        bad="rooms:\n  - id: band-room",
        good="rooms:\n  - id: band-room\n    name: Band room",
    ),
    "missing-value": explained(
        "A field has nothing after its colon.",
        "A field that may be left out may also be left empty; this one may not.",
        bad="name:",
        good="name: Winter cycle",
    ),
    "list-wanted": explained(
        "A single thing stands where a list is wanted.",
        "A list may have one item, but it needs its brackets or its hyphen.",
        bad="weekdays: Mon",
        good="weekdays: [Mon]",
    ),
    "entry-wanted": explained(
        "A text or a list stands where an entry with fields of its own is wanted.",
        bad="contact: the band office",
        good="contact:\n  role: the band office",
    ),
    "text-wanted": explained(
        "A list or an entry stands where one text or value is wanted.",
        "A text may be given once for each language: {en: …, es: …}.",
        bad="name: [Winter cycle]",
        good="name: Winter cycle",
    ),
    "empty-list": explained(
        "A list is empty that needs at least one item.",
        bad="stages: []",
        good="stages:\n  - id: build",
    ),
    "unknown-choice": explained(
        "A value is not one of the few that the field knows.",
        bad="resume: later",
        good="resume: next",
    ),
    "unreadable-value": explained(
        "A value cannot be read, and it is not clear why.",
        bad="(anything)",
        good="(what the field's description asks for)",
    ),
    "unreadable-id": explained(
        "An id is not made of small letters, digits and hyphens.",
        "Ids are what files call each other's things by, and become parts of addresses.",
        bad="id: Lantern Band",
        good="id: lantern-band",
    ),
    "unknown-language": explained(
        "A language is not given by its code.",
        "Codes are those of web pages (BCP 47): en, es, vi, so.",
        bad="name: {english: Winter, spanish: Invierno}",
        good="name: {en: Winter, es: Invierno}",
    ),
    "unreadable-date": explained(
        "A date is not written as year-month-day, or does not exist.",
        "12/10/2026 is December in some places and October in others. A weekday may stand in front, and is checked.",
        bad="date: 12/10/2026",
        good="date: Thu 2026-12-10",
    ),
    "wrong-weekday": explained(
        "The weekday before a date is not that date's.",
        "One of the two is a slip; better to ask than to send families on the wrong day.",
        bad="date: Fri 2026-12-10",
        good="date: Thu 2026-12-10",
    ),
    "unreadable-weekday": explained(
        "A weekday's name cannot be read.",
        bad="weekdays: [Wendsday]",
        good="weekdays: [Wed]",
    ),
    "unreadable-time": explained(
        "A clock time cannot be read.",
        "Write 6:30 pm, or 18:30 with two digits of hour.",
        bad="call: half past six",
        good="call: 6:30 pm",
    ),
    "time-without-am-or-pm": explained(
        "A time may be in the morning or in the evening.",
        "6:30 without am or pm is refused rather than guessed: a wrong guess sends a band twelve hours off.",
        bad="call: 6:30",
        good="call: 6:30 pm",
    ),
    "unreadable-tempo": explained(
        "A tempo cannot be read.",
        "A tempo says which note is counted and how many a minute.",
        bad="goal: Allegro",
        good="goal: quarter = 120",
    ),
    "tempo-without-note": explained(
        "A tempo does not say which note it counts.",
        "80 may be quarters or dotted quarters, which is half as fast again.",
        bad="goal: 80",
        good="goal: dotted quarter = 80",
    ),
    "unreadable-band": explained(
        "A stage's tempo band cannot be read.",
        "A band runs from a lower to a higher percent of the goal tempo.",
        bad="tempo: slow",
        good="tempo: 50-65",
    ),
    "unreadable-meter": explained(
        "A meter cannot be read.",
        bad="meter: 4-4",
        good="meter: 4/4",
    ),
    "unreadable-measures": explained(
        "A span of measures cannot be read.",
        "Both ends are included. The first full measure is 1, and a pickup goes with it.",
        bad="measures: 16-1",
        good="measures: 1-16",
    ),
    "unreadable-key": explained(
        "A key cannot be read.",
        "Keys are given as they sound, with their mode in words.",
        bad="key: Bb",
        good="key: Bb major",
    ),
    "unreadable-marks": explained(
        "The way tempos are rounded cannot be read.",
        "traditional is the scale of old metronomes, every 4 rounds to multiples of four, exact does not round.",
        bad="marks: metronome",
        good="marks: traditional",
    ),
    "unreadable-number": explained(
        "A number cannot be read, or is too small or too large.",
        bad="priority: 5",
        good="priority: 3",
    ),
    "unreadable-weight": explained(
        "A weight cannot be read, or does not say its unit.",
        "45 may be pounds or kilograms, and a load is never guessed.",
        bad="weight: 45",
        good="weight: 45 lb",
    ),
    "unreadable-length": explained(
        "A length cannot be read, or does not say its unit.",
        bad="reach: 18",
        good="reach: 18 in",
    ),
    "unreadable-level": explained(
        "A sound level cannot be read, or does not say that it is in dBA.",
        bad="level: 95",
        good="level: 95 dBA",
    ),
    "unreadable-note": explained(
        "A note cannot be read.",
        "Notes are given as they sound, by letter and sign, and with their octave if one is meant: middle C is C4.",
        bad="notes: [H]",
        good="notes: [Bb, F#4]",
    ),
    "unreadable-rhythm": explained(
        "A written rhythm cannot be read.",
        "Notes go by the initials of their values, w h q e s t, from a whole note to a thirty-second; - before one makes it a rest, and | is a bar line. After a note, in this order: . dots it; * is staccato, = tenuto, > an accent, ^ a strong one; /R or /L is the hand; _ ties it and + slurs it to the next. 3(e e e) is a triplet.",
        bad="pattern: q q x q",
        good="pattern: q q -q q | q. e+ e* e* q",
    ),
    "rhythm-in-old-form": explained(
        "A rhythm has its rests and ties in the form of earlier versions.",
        "A rest was an r before its value and a tie a tilde. A rest is now a hyphen before its value, a tie an underscore after it. The help gives the rhythm in the new form, to copy.",
        bad="pattern: q rq h~ | w",
        good="pattern: q -q h_ | w",
    ),
    "unreadable-sticking": explained(
        "The hands of a rhythm cannot be read.",
        "R and L are the hands; small letters are grace notes of the other hand.",
        bad="sticking: right left",
        good="sticking: RLRR LRLL",
    ),
    "unknown-rudiment": explained(
        "No rudiment has this name.",
        bad="rudiment: paradidle",
        good="rudiment: single paradiddle",
    ),
    "unknown-counting": explained(
        "No way of counting rhythms out loud has this name.",
        bad="counting: one-e-and-a",
        good="counting: numbers",
    ),
    "unreadable-yes-no": explained(
        "A field is answered by neither yes nor no.",
        bad="draft: maybe",
        good="draft: yes",
    ),
    "page-without-title": explained(
        "A page does not begin with its title.",
        "The title names the page in lists and in the browser.",
        bad="Come to every rehearsal.",
        good="# Attendance\n\nCome to every rehearsal.",
    ),
    "html-in-page": explained(
        "A page holds HTML.",
        "Pages are Markdown only, so that nothing can break the site, follow families about, or hide in remarks that anyone can read in the page's source.",
        bad="<b>Come</b> to every rehearsal.",
        good="**Come** to every rehearsal.",
    ),
    "unsafe-link": explained(
        "A link on a page could run a script.",
        "Links lead to pages, or begin with https:, http:, mailto: or tel:.",
        bad="[Forms](javascript:open())",
        good="[Forms](https://forms.quillhaven.example/)",
    ),
}
