"""What a written value can be refused for; the codes of problems with single values."""

from __future__ import annotations

from handbook.problems import Code

UNREADABLE_ID = Code(
    "unreadable-id",
    "An id is not made of small letters, digits and hyphens, or cannot be a part of an address.",
    "Ids are what files call each other's things by, and become parts of addresses: 60 letters at most, and no name that Windows keeps for a device, such as con or aux.",
    bad="id: Lantern Band",
    good="id: lantern-band",
)
UNREADABLE_NUMBER = Code(
    "unreadable-number",
    "A number cannot be read, or is too small or too large.",
    bad="priority: 5",
    good="priority: 3",
)
TIME_WITHOUT_AM_OR_PM = Code(
    "time-without-am-or-pm",
    "A time may be in the morning or in the evening.",
    "6:30 without am or pm is refused rather than guessed: a wrong guess sends a band twelve hours off.",
    bad="call: 6:30",
    good="call: 6:30 pm",
)
UNREADABLE_TIME = Code(
    "unreadable-time",
    "A clock time cannot be read.",
    "Write 6:30 pm, or 18:30 with two digits of hour.",
    bad="call: half past six",
    good="call: 6:30 pm",
)
TEMPO_WITHOUT_NOTE = Code(
    "tempo-without-note",
    "A tempo does not say which note it counts.",
    "80 may be quarters or dotted quarters, which is half as fast again.",
    bad="goal: 80",
    good="goal: dotted quarter = 80",
)
UNREADABLE_TEMPO = Code(
    "unreadable-tempo",
    "A tempo cannot be read.",
    "A tempo says which note is counted and how many a minute.",
    bad="goal: Allegro",
    good="goal: quarter = 120",
)
RHYTHM_IN_OLD_FORM = Code(
    "rhythm-in-old-form",
    "A rhythm has its rests and ties in the form of earlier versions.",
    "A rest was an r before its value and a tie a tilde. A rest is now a hyphen before its value, a tie an underscore after it. The help gives the rhythm in the new form, to copy.",
    bad="pattern: q rq h~ | w",
    good="pattern: q -q h_ | w",
)
UNREADABLE_RHYTHM = Code(
    "unreadable-rhythm",
    "A written rhythm cannot be read.",
    "Notes go by the initials of their values, w h q e s t, from a whole note to a thirty-second; - before one makes it a rest, and | is a bar line. After a note, in this order: . dots it; * is staccato, = tenuto, > an accent, ^ a strong one; /R or /L is the hand; _ ties it and + slurs it to the next. 3(e e e) is a triplet.",
    bad="pattern: q q x q",
    good="pattern: q q -q q | q. e+ e* e* q",
)
UNKNOWN_WHEN_AWAY = Code(
    "unknown-when-away",
    "An event does not say in a known way when its players are out of class.",
    "They are away from one time to another, all day, or not at all.",
    bad="events:\n  - {id: games, name: Games, date: 2026-12-04, away: afternoon}",
    good="events:\n  - {id: games, name: Games, date: 2026-12-04, away: {from: 1 pm, to: 3:30 pm}}",
)
MISSING_VALUE = Code(
    "missing-value",
    "A field has nothing after its colon.",
    "A field that may be left out may also be left empty; this one may not.",
    bad="name:",
    good="name: Winter cycle",
)
WRONG_WEEKDAY = Code(
    "wrong-weekday",
    "The weekday before a date is not that date's.",
    "One of the two is a slip; better to ask than to send families on the wrong day.",
    bad="date: Fri 2026-12-10",
    good="date: Thu 2026-12-10",
)
UNREADABLE_DATE = Code(
    "unreadable-date",
    "A date is not written as year-month-day, or does not exist.",
    "12/10/2026 is December in some places and October in others. A weekday may stand in front, and is checked.",
    bad="date: 12/10/2026",
    good="date: Thu 2026-12-10",
)
TEXT_WANTED = Code(
    "text-wanted",
    "A list or an entry stands where one text or value is wanted.",
    "A text may be given once for each language: {en: …, es: …}.",
    bad="name: [Winter cycle]",
    good="name: Winter cycle",
)
UNKNOWN_LANGUAGE = Code(
    "unknown-language",
    "A language is not given by its code.",
    "Codes are those of web pages (BCP 47): en, es, vi, so.",
    bad="name: {english: Winter, spanish: Invierno}",
    good="name: {en: Winter, es: Invierno}",
)
UNREADABLE_VALUE = Code(
    "unreadable-value",
    "A value cannot be read, and it is not clear why.",
    bad="(anything)",
    good="(what the field's description asks for)",
)
UNREADABLE_COLOR = Code(
    "unreadable-color",
    "A color cannot be read.",
    "A color is written as web pages write it: a # and six digits 0 to 9 and a to f, two each for red, green and blue. It stands in quotes, since # after a space begins a remark. Your school's office or web site knows the digits.",
    bad="look: {color: navy blue}",
    good='look: {color: "#000080"}',
)
UNREADABLE_WEEKDAY = Code(
    "unreadable-weekday",
    "A weekday's name cannot be read.",
    bad="weekdays: [Wendsday]",
    good="weekdays: [Wed]",
)
UNREADABLE_BAND = Code(
    "unreadable-band",
    "A stage's tempo band cannot be read.",
    "A band runs from a lower to a higher percent of the goal tempo.",
    bad="tempo: slow",
    good="tempo: 50-65",
)
UNREADABLE_ORDER = Code(
    "unreadable-order",
    "An entry of a piece's order is neither a part nor words that lead on.",
    "An order lists parts by their ids, each with how often it is played in a row, and D.C., D.S., al Fine, al Coda, To Coda and Fine.",
    bad="order: [intro, repeat verse, trio, coda]",
    good="order: [intro, verse x2, trio, coda]",
)
UNREADABLE_METER = Code(
    "unreadable-meter", "A meter cannot be read.", bad="meter: 4-4", good="meter: 4/4"
)
UNREADABLE_MEASURES = Code(
    "unreadable-measures",
    "A span of measures cannot be read.",
    "Both ends are included. The first full measure is 1, and a pickup goes with it.",
    bad="measures: 16-1",
    good="measures: 1-16",
)
UNREADABLE_KEY = Code(
    "unreadable-key",
    "A key cannot be read.",
    "Keys are given as they sound, with their mode in words.",
    bad="key: Bb",
    good="key: Bb major",
)
UNREADABLE_MARKS = Code(
    "unreadable-marks",
    "The way tempos are rounded cannot be read.",
    "traditional is the scale of old metronomes, every 4 rounds to multiples of four, exact does not round.",
    bad="marks: metronome",
    good="marks: traditional",
)
UNREADABLE_YES_NO = Code(
    "unreadable-yes-no",
    "A field is answered by neither yes nor no.",
    bad="draft: maybe",
    good="draft: yes",
)
UNREADABLE_NOTE = Code(
    "unreadable-note",
    "A note cannot be read.",
    "Notes are given as they sound, by letter and sign, and with their octave if one is meant: middle C is C4.",
    bad="notes: [H]",
    good="notes: [Bb, F#4]",
)
UNREADABLE_STICKING = Code(
    "unreadable-sticking",
    "The hands of a rhythm cannot be read.",
    "R and L are the hands; small letters are grace notes of the other hand.",
    bad="sticking: right left",
    good="sticking: RLRR LRLL",
)
UNKNOWN_RUDIMENT = Code(
    "unknown-rudiment",
    "No rudiment has this name.",
    bad="rudiment: paradidle",
    good="rudiment: single paradiddle",
)
UNKNOWN_COUNTING = Code(
    "unknown-counting",
    "No way of counting rhythms out loud has this name.",
    bad="counting: one-e-and-a",
    good="counting: numbers",
)
UNREADABLE_WEIGHT = Code(
    "unreadable-weight",
    "A weight cannot be read, or does not say its unit.",
    "45 may be pounds or kilograms, and a load is never guessed.",
    bad="weight: 45",
    good="weight: 45 lb",
)
UNREADABLE_LENGTH = Code(
    "unreadable-length",
    "A length cannot be read, or does not say its unit.",
    bad="reach: 18",
    good="reach: 18 in",
)
UNREADABLE_LEVEL = Code(
    "unreadable-level",
    "A sound level cannot be read, or does not say that it is in dBA.",
    bad="level: 95",
    good="level: 95 dBA",
)
