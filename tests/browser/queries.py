"""What musicians and families type into search, and where the answer stands in the demo.

The way each is typed is common practice, no source. An answer is an address below the
site's own; of several, any one answers. Asked on Wednesday, November 25, 2026.
"""

from __future__ import annotations

from dataclasses import dataclass

HARBOR, LANTERN, BEACON = "winter-2026/harbor/", "winter-2026/lantern/", "winter-2026/beacon/"
CONCERT = "winter-2026/concert/"


@dataclass(frozen=True)
class Query:
    """`typed` is to bring one of `answers` among the first three."""

    typed: str
    answers: tuple[str, ...]


def q(typed: str, *answers: str) -> Query:
    return Query(typed, answers)


SNOWPLOW, WALTZ, LAMPS = (
    f"{LANTERN}{piece}/"
    for piece in ("snowplow-parade", "puddle-boat-waltz", "lamps-along-the-quay")
)
TIDES, FERRY, SLEDS = (
    f"{HARBOR}{piece}/" for piece in ("four-tides", "ferry-in-first-snow", "sleds-on-mitten-hill")
)
FIRE, KEPT, TRAIN = (
    f"{BEACON}{piece}/"
    for piece in ("beacon-fire-variations", "what-the-harbor-kept", "night-train-to-marrow-point")
)

B_FLAT = (
    "fundamentals/technique/#b-flat-scale",
    "fundamentals/tone/#one-good-note",
    "fundamentals/tone/#long-tone-steps",
    "words/#concert-pitch",
    SNOWPLOW,
    SLEDS,
)
# Concert E, as those read it who are told of it.
F_SHARP = (
    "winter-2026/lantern/part/clarinet/#puddle-boat-waltz",
    "winter-2026/lantern/part/trumpet/#puddle-boat-waltz",
)
MEASURE_14 = (
    f"{SNOWPLOW}#first-tune",
    f"{WALTZ}#floating",
    f"{LAMPS}#tune",
    f"{TIDES}#tide-one",
    f"{FERRY}#open-water",
    f"{FIRE}#first-hill",
)
MEASURES_9_TO_16 = (
    f"{TRAIN}#pulling-out",
    f"{SNOWPLOW}#first-tune",
    f"{WALTZ}#floating",
    f"{LAMPS}#tune",
    f"{TIDES}#tide-one",
)
SIX_EIGHT = (
    TIDES,
    FIRE,
    HARBOR,
    "words/#compound-meter",
    "fundamentals/rhythm/#six-eight-walk",
)
DRESS_REHEARSALS = (
    f"{LANTERN}#2026-12-16-extra",
    f"{HARBOR}#2026-12-16-extra",
    f"{BEACON}#2026-12-16-extra",
    "words/#dress-rehearsal",
)
ABSENT = ("families/attendance/", "families/missed-a-rehearsal/")

BANDS = (LANTERN, HARBOR, BEACON)
PIECES = (SNOWPLOW, WALTZ, LAMPS, TIDES, FERRY, SLEDS, FIRE, KEPT, TRAIN)
DRUMS = (
    *(f"{band}part/{one}/" for band in BANDS for one in ("percussion", "snare-drum")),
    f"{LANTERN}part/bass-drum/",
    f"{HARBOR}part/bass-drum/",
)
CLICKS = PIECES
DRONES = (
    *(f"{piece}#drone" for piece in PIECES),
    "fundamentals/tuning/",
)
TUNERS = (
    *DRONES,
    *(
        f"{band}part/{one}/#tuning"
        for band in BANDS
        for one in ("flute", "clarinet", "horn", "trumpet", "tuba")
    ),
)
# The day is November 25: Thanksgiving break begins.
CLOSURES = ("calendar/#closed-2026-11-25",)

QUERIES: tuple[Query, ...] = (
    # Notes and keys, as typed on a phone, a laptop, or copied from a part.
    q("B flat", *B_FLAT),
    q("Bb", *B_FLAT),
    q("B♭", *B_FLAT),
    q("b-flat", *B_FLAT),
    q("bflat scale", "fundamentals/technique/#b-flat-scale"),
    q("F#", *F_SHARP),
    q("F sharp", *F_SHARP),
    q("F♯", *F_SHARP),
    q("e flat major", LAMPS, FERRY, "fundamentals/technique/#e-flat-scale"),
    # Measures: any measure of a passage leads to the passage.
    q("m. 14", *MEASURE_14),
    q("m.14", *MEASURE_14),
    q("m14", *MEASURE_14),
    q("measure 14", *MEASURE_14),
    q("bar 14", *MEASURE_14),
    q("mm. 9-16", *MEASURES_9_TO_16),
    q("measures 9 to 16", *MEASURES_9_TO_16),
    q("sleds m. 43", f"{SLEDS}#hot-chocolate"),
    q("ferry measure 30", f"{FERRY}#snow"),
    # Meters, tempos, dynamics.
    q("6/8", *SIX_EIGHT),
    q("7/8", TRAIN, f"{TRAIN}#uneven-wheel", "words/#irregular-meter"),
    q("cut time", "words/#cut-time"),
    q("120", f"{FIRE}#first-hill", FIRE),
    q("120 bpm", f"{FIRE}#first-hill", FIRE),
    q("quarter = 96", f"{WALTZ}#floating", f"{WALTZ}#to-the-river", WALTZ),
    q("♩ = 96", f"{WALTZ}#floating", f"{WALTZ}#to-the-river", WALTZ),
    q("dotted quarter", "fundamentals/rhythm/#dotted-quarters", TIDES, f"{TIDES}#tide-one"),
    q("ff", "words/#fortissimo"),
    q("mf", "words/#mezzo-forte"),
    q("pp", "words/#pianissimo"),
    q("mf/ff", "words/#fortissimo", "words/#mezzo-forte"),
    # Words, with slips of the finger and without accents.
    q("crescendo", "words/#crescendo"),
    q("cresendo", "words/#crescendo"),
    q("decresendo", "words/#decrescendo"),
    q("stacato", "words/#staccato"),
    q("accents", "words/#accent"),
    q("ritard", "words/#ritardando"),
    q("syncopation", "words/#syncopation"),
    q("fermata", "words/#fermata"),
    # Titles, in lower case, in part, and misspelled.
    q("sleds on mitten hill", SLEDS),
    q("ferry in first snow", FERRY),
    q("nite train", TRAIN),
    q("puddle boat walz", WALTZ),
    q("four tides", TIDES),
    q("beacon fire variatons", FIRE),
    q("snowplow", SNOWPLOW),
    q("lamps quay", LAMPS),
    # Concert day, as a family asks.
    q("concert", CONCERT),
    q("call time", f"{CONCERT}#call", "words/#ready-in-the-room", "words/#be-at-the-bus"),
    q("what time do we have to be there", f"{CONCERT}#call", CONCERT, "words/#be-at-the-bus"),
    q("what to wear", f"{CONCERT}#attire"),
    q("attire", f"{CONCERT}#attire", "words/#attire"),
    q("black shoes", f"{CONCERT}#attire"),
    q("what to bring", f"{CONCERT}#bring"),
    q("pick up", f"{CONCERT}#pick-up"),
    q("pickup time", f"{CONCERT}#pick-up"),
    q("parking", f"{CONCERT}#parking"),
    q("civic hall", CONCERT),
    q("7:00", CONCERT),
    q("7 pm", CONCERT),
    q("5:20", f"{CONCERT}#call"),
    q("5:20pm", f"{CONCERT}#call"),
    q("Dec 17", CONCERT),
    q("12/17", CONCERT),
    q("december 17", CONCERT),
    q("thursday", CONCERT, f"{HARBOR}#2026-12-03"),
    q(
        "next rehearsal harbor",
        f"{HARBOR}#2026-11-30",
        f"{HARBOR}#2026-12-01",
        f"{HARBOR}#2026-12-03",
    ),
    q("dress rehearsal", *DRESS_REHEARSALS),
    # How the program works.
    q("sick", *ABSENT),
    q("absent", *ABSENT),
    q("missed rehearsal", "families/missed-a-rehearsal/"),
    q("instrument care", "families/instrument-care/", "fundamentals/#habit-instrument-care"),
    q(
        "valve oil",
        "families/instrument-care/",
        f"{CONCERT}#bring",
        "fundamentals/#habit-instrument-care",
    ),
    q("stuck mouthpiece", "families/instrument-care/"),
    q("earplugs", "families/hearing-care/", "fundamentals/#habit-ears"),
    q("practice at home", "families/practice-at-home/"),
    q("phone number", "families/"),
    q("email", "families/"),
    q("photos", "families/concert-manners/", "families/about-and-privacy/"),
    q("wheelchair", f"{CONCERT}#access", "families/concert-manners/", "families/accessibility/"),
    # Fundamentals.
    q("breathing", "fundamentals/breathing/"),
    q("long tones", "fundamentals/tone/#long-tone-steps"),
    q("sight reading", "fundamentals/sight-reading/"),
    q("tuning", "fundamentals/tuning/"),
    q("warm up", "fundamentals/#warm-up-1", "fundamentals/#warm-up-2", "fundamentals/#warm-up-3"),
    q(
        "percussion",
        f"{LANTERN}part/percussion/",
        f"{HARBOR}part/percussion/",
        f"{BEACON}part/percussion/",
        "fundamentals/#habit-percussion-set-up",
        f"{SLEDS}#one-more-time",
        f"{SNOWPLOW}#engine-start",
    ),
    q("low brass", f"{SNOWPLOW}#low-brass-tune"),
    # Spanish.
    q("ropa", f"{CONCERT}#attire"),
    q("estacionamiento", f"{CONCERT}#parking"),
    q("concierto", CONCERT),
    q("basketball", "events/home-games/", "events/home-games/#2026-12-08"),
    q("games", "events/home-games/", "events/home-games/#2026-12-08"),
    q("town square lights", "events/town-lights/"),
    q("rain plan", "events/town-lights/"),
    q("what to bring to the basketball games", "events/home-games/"),
    q("coats", "events/coat-drive/"),
    q("deadline", "events/coat-drive/", "events/"),
    q("events", "events/"),
    q(
        "who plays timpani",
        f"{FIRE}#percussion-players",
        f"{KEPT}#percussion-players",
        f"{TRAIN}#percussion-players",
    ),
    # Tools, instruments by their everyday names, days without school.
    q("metronome", *CLICKS),
    q("click", *CLICKS),
    q("drone", *DRONES),
    q("tuner", *TUNERS),
    q("tuning note", *TUNERS),
    q("bells", *(f"{band}part/glockenspiel/" for band in BANDS)),
    q("drums", *DRUMS),
    q("drum part", *DRUMS),
    q("french horn", *(f"{band}part/horn/" for band in BANDS)),
    q("no school", *CLOSURES),
    q("when is there no school", *CLOSURES),
    q("vacaciones", *CLOSURES),
    q("thanksgiving break", "calendar/#closed-2026-11-25", *CLOSURES),
    q("early dismissal", "calendar/#altered-2026-12-18"),
    q("tickets", CONCERT),
    q("how much are tickets", CONCERT),
    q("autobus", CONCERT, f"{CONCERT}#call"),
    q("bathroom", f"{CONCERT}#access"),
    q("pick-up", CONCERT, f"{CONCERT}#pick-up"),
    q("how long is the concert", CONCERT, f"{CONCERT}#program"),
    q("where do I park", f"{CONCERT}#parking"),
    q("dress code", f"{CONCERT}#attire"),
    q("glossary", "words/"),
    q("subscribe", "calendar/subscribe/"),
    q("snow day", "", "calendar/subscribe/"),
    q("when is it over", f"{CONCERT}#program", f"{CONCERT}#pick-up"),
    q("test yourself trumpet", *(f"{band}part/trumpet/#know-first" for band in BANDS)),
)
