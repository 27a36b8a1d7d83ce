"""Values that people type, or paste, where another was meant."""

from __future__ import annotations

VALUES: tuple[str, ...] = (
    *("0", "1", "-1", "7", "1000000000000", "1e9", "0x10", "010", ".5", "1.10", "NaN", ".inf"),
    *("true", "no", "~", "null", '""', "''", "[]", "{}", "[[]]", "{a: b}", "yes", "draft", "next"),
    *("2026-12-10", "2026-02-30", "1900-01-01", "9999-12-31", "0001-01-01", "Mon 2026-12-10"),
    *("12/10/2026", "2026-12", "2026", "6:30", "6:30 pm", "24:00", "0:00", "12:00 am", "noon"),
    *("25:99", "6 pm", "06:30", "quarter = 96", "quarter = 10", "quarter = 400", "whole = 400"),
    *("dotted whole = 10", "quarter = 0", "= 96", "96", "1-9999", "9999", "1-0", "9-1", "m. 4"),
    *("4/4", "64/16", "1/1", "7/8 (2+2+3)", "0/4", "4/3", "C", "cut", "50-65", "1-1", "100-100"),
    *("Bb major", "C# major", "Cb minor", "x lydian", "Bb4", "B9", "C0", "exact", "every 20"),
    *("flute", "trumpet", "low-brass", "percussion", "winds", "lantern", "harbor", "con", "index"),
    *("RLRL", "q q q q", "w w", "3(e e e) q", "q_ q+", "-q", "pickup q | q q q", "en", "es", "ar"),
    *("{en: a, ar: b}", "{en: a}", "{zz: b}", "&x a", "*x", "!x y", "<<", "? a", ": b", "- a"),
    *("# x", "a: b: c", '"\\x07"', '"\\u202e"', "'", '"', "`", "|", ">", "@a", "%a", "45 lb"),
    *("999999 lb", "0 lb", "1 kg", "95 dBA", "200 dBA", "18 in", "[/b]", "{Bb}", "{", "}", "{X}"),
    *("\u202e", "\u2028", "\u00a0", "\ufeff", "\U0001f3b7", "é", "America/Chicago", "../etc"),
    *("UTC", "Pacific/Kiritimati", "/etc/passwd", "Factory", "https://x.example/", "http://["),
    *(
        "javascript:x",
        "x.mp3",
        "../x.mp3",
        "media/x.mp3",
        "a b.wav",
        "a%20b.wav",
        "Exercise #2.wav",
    ),
    *("none", "240", "60", "skip", "dress", "sectional", "event", "a-b-c", "a" * 300, " " * 2500),
    *(
        "[x](pages/attendance.md)",
        "[x](pages/x.md#y)",
        "[x](calendar/)",
        "&#x202e;",
        "&shy;",
        "&#1;",
    ),
    *("<b>x</b>", "[x](y)", "![x](media/x.png)", "*a*", "a\\", "\\", "☃" * 40, "line\nline"),
)

SIGNS = "\x00\t\n\r :-[]{}#&*!|>'\"%@`,?\\~0aé\u202e\u00a0\ufeff\x02\x03"
