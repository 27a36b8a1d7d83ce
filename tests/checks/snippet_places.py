"""Where each snippet of `handbook explain` belongs, for those whose fields do not say it alone."""

from __future__ import annotations

from collections.abc import Mapping

from tests.checks.snippets import (
    CONCERT,
    CYCLE,
    FUNDAMENTALS,
    LOG,
    MUSIC,
    PAGE,
    PIECE,
    PROGRAM,
    YEAR,
    Place,
)
from tests.checks.snippets import STRAND as TONE
from tests.real_media import large_picture, mp3, picture, wav

CLOSURES = (YEAR, "closures")
DAYS = (CYCLE, "days")
MEETINGS = (YEAR, "meetings")
RHYTHMS = (*PIECE, "rhythms")
STAGES = (CYCLE, "stages")
PASSAGES = (*PIECE, "passages")
PERIODS = (YEAR, "bells", "regular", "periods")
TWEED_KITES = (MUSIC, "pieces", "tweed-kites")
NO_PASSAGES = ((*PASSAGES, "opening"), (*PASSAGES, "chase"))
NO_MEETING = ((*MEETINGS, "lantern"),)
TITLE = "# Attendance\n\n"

BOTH = """
  program: [{ensemble: harbor, pieces: [tweed-kites]}, {ensemble: lantern, pieces: [button-comets]}]
"""
STEPS = """
cycles/winter/concert.yaml:
  allowances: {unpack: 5, warm_up: 20, walk: 5, in_place: 5, walk_back: 5, pack: 10}
"""
BUSES = f"""{STEPS}
  travel: {{meet: Bus loop, load: 10, drive: 20, rides: [{{ensembles: [lantern], buses: [{{id: bus-9, seats: 52}}]}}]}}
"""
THREE_STAGES = """
cycles/winter/cycle.yaml:
  stages:
    - {id: decode, name: Decode, purpose: Read it, tempo: 40-50, minutes: {fundamentals: 1, music: 1}, goals: [Read it]}
    - {id: build, name: Build, purpose: Join it, tempo: 50-90, minutes: {fundamentals: 1, music: 2}, goals: [Join it]}
    - {id: polish, name: Polish, purpose: Play it, tempo: 90-100, minutes: {fundamentals: 1, music: 3}, goals: [Play it]}
"""
TWO_STAGES = ((*STAGES, "build"), (*STAGES, "polish"))
JAZZ = """
program.yaml:
  ensembles:
    - {id: jazz, name: Jazz Band, room: choir-room, instruments: {trumpet: 4}, shares_players_with: [harbor]}
years/2026-27.yaml:
  meetings: [{ensemble: jazz, weekdays: [Fri], period: p3}]
cycles/winter/cycle.yaml:
  ensembles: [lantern, harbor, jazz]
cycles/winter/music.yaml:
  pieces:
    - id: night-ferry
      title: Night Ferry
      ensemble: jazz
      form: [{name: Whole, measures: 1-32, meter: 4/4, tempo: quarter = 96}]
      passages: [{id: riff, name: Riff, measures: 1-32, goal: quarter = 96}]
"""
ORDERED = """
cycles/winter/music.yaml:
  pieces:
    - id: button-comets
      form:
        - {id: intro, name: Introduction, measures: 1-8, meter: 4/4, tempo: quarter = 96}
        - {id: verse, name: Verse, measures: 9-16, meter: 4/4, tempo: quarter = 96}
        - {id: trio, name: Trio, measures: 17-24, meter: 6/8, tempo: dotted quarter = 80}
        - {id: coda, name: Coda, measures: 25-32, meter: 6/8, tempo: dotted quarter = 80}
"""
ORDER = Place(homes={"order": PIECE}, given=ORDERED)
ONE_BAND = "cycles/winter/cycle.yaml: {ends: 2026-12-10}"
NO_HARBOR = ((CONCERT,), TWEED_KITES)
OF_LANTERN = """
cycles/winter/cycle.yaml: {ensembles: [lantern]}
cycles/winter/music.yaml: {pieces: [{id: tweed-kites, ensemble: lantern}]}
"""
A_SECTIONAL = (
    "cycles/winter/cycle.yaml: {days: [{date: 2026-11-09, ensemble: lantern, kind: sectional}]}"
)
A_DAY = "cycles/winter/cycle.yaml: {days: [{date: 2026-11-09, ensemble: lantern}]}"
TIMPANI = "cycles/winter/concert.yaml: {equipment: [{id: timpani, name: Timpani, from: band-room, to: dock, weight: 85 lb}]}"
CHOIR = "cycles/winter/concert.yaml: {guests: [{id: choir, name: Concert choir, minutes: 10}]}"
CHOIR_SINGS = "cycles/winter/concert.yaml: {program: [{ensemble: harbor, pieces: [tweed-kites]}, {guest: choir}, {ensemble: lantern, pieces: [button-comets]}]}"
TRUCK = "cycles/winter/concert.yaml: {carriers: [{id: truck, name: Box truck}]}"


A_LOG = f"{LOG}: {{date: 2026-11-02, ensemble: lantern}}"

PLACES: Mapping[str, Place] = {
    "altered-day-without-school": Place(
        given="years/2026-27.yaml: {bells: [{id: short, periods: [{id: p3, start: 09:05, end: 09:35}]}]}"
    ),
    "bus-leaves-too-early": Place(
        given=BUSES + "  downbeat: 1:30 pm\n  during_school: 'yes'\n",
        good="cycles/winter/concert.yaml: {after: [{name: Sight-reading, minutes: 30}]}",
    ),
    "bus-seats-short": Place(
        given=BUSES,
        homes={"instruments": (PROGRAM, "ensembles", "harbor")},
        good="program.yaml: {ensembles: [{id: harbor, instruments: {flute: 20, clarinet: 20, trumpet: 20}}]}",
    ),
    "class-while-away": Place(given="cycles/winter/concert.yaml: {downbeat: 11:00 am}"),
    "closure-dates-mixed": Place(at=CLOSURES),
    "closure-without-dates": Place(at=CLOSURES),
    "concert-room-twice": Place(given=STEPS),
    "cycle-without-end": Place(without=((CONCERT,),)),
    "cycles-overlap": Place(
        homes={"starts": ("cycles/spring/cycle.yaml",)},
        given="""
cycles/spring/cycle.yaml:
  name: Spring cycle
  year: 2026-27
  ends: 2027-03-12
  ensembles: [lantern]
  stages: [{id: build, name: Build, purpose: Join it, tempo: 50-100, minutes: {fundamentals: 1, music: 2}, goals: [Join it]}]
""",
    ),
    "dates-backward": Place(at=CLOSURES),
    "day-without-rehearsal": Place(at=DAYS),
    "log-for-two-rehearsals": Place(
        at=(LOG,),
        given="cycles/winter/cycle.yaml: {extra: [{ensemble: lantern, date: 2026-12-07, start: 3:30 pm, end: 4:30 pm}]}",
    ),
    "log-without-rehearsal": Place(at=(LOG,)),
    "not-done-unplanned": Place(
        given=f"{A_LOG}\ncycles/winter/cycle.yaml: {{days: [{{ensemble: lantern, date: 2026-11-02, sections: {{brass: {{who: [brass], passages: [chase]}}}}}}]}}",
    ),
    "over-longer-than-rehearsal": Place(at=(LOG,), given=A_LOG),
    "reached-counts-other-note": Place(given=A_LOG),
    "reached-far-from-goal": Place(given=A_LOG),
    "reached-said-twice": Place(given=A_LOG),
    "dropped-piece-on-program": Place(given=OF_LANTERN),
    "end-before-start": Place(at=PERIODS),
    "ensemble-in-two-rides": Place(given=BUSES),
    "ensemble-without-meetings": Place(given=ONE_BAND, without=(*NO_HARBOR, (*MEETINGS, "harbor"))),
    "fewer-rehearsals-than-stages": Place(given=THREE_STAGES, without=(*TWO_STAGES, (CONCERT,))),
    "file-names-alike": Place(at=("media/",)),
    "jump-leads-elsewhere": Place(
        homes={"order": PIECE},
        given="cycles/winter/music.yaml: {pieces: [{id: button-comets, order: [intro, finale, D.S., finale]}]}",
    ),
    "goal-by-date-too-late": Place(homes={"goals": (*PASSAGES, "opening")}),
    "goals-not-rising": Place(homes={"goals": (*PASSAGES, "opening")}),
    "climb-in-free-part": Place(without=((*PASSAGES, "opening", "goal"),)),
    "part-never-played": ORDER,
    "times-beside-order": Place(homes={"order": PIECE}),
    "unknown-part": ORDER,
    "unreadable-order": ORDER,
    "ensemble-said-twice": Place(
        homes={"ensemble": PIECE, "ensembles": PIECE}, without=((*PIECE, "ensemble"),)
    ),
    "piece-without-ensemble": Place(at=(MUSIC, "pieces"), without=((*PIECE, "ensemble"),)),
    "form-gap": Place(at=(*PIECE, "form")),
    "form-overlap": Place(at=(*PIECE, "form")),
    "goal-counts-other-note": Place(
        without=NO_PASSAGES,
        good="cycles/winter/music.yaml: {pieces: [{id: button-comets, form: [{name: Jig, measures: 1-32, meter: 6/8, tempo: dotted quarter = 96}]}]}",
    ),
    "goal-out-of-reach": Place(
        without=NO_PASSAGES,
        given="""
cycles/winter/cycle.yaml: {starts: 2026-11-30}
cycles/winter/music.yaml: {pieces: [{id: button-comets, form: [{name: Whole, measures: 1-40, meter: 4/4, tempo: quarter = 144}]}, {id: tweed-kites, passages: [{id: round, start: quarter = 100}]}]}
""",
    ),
    "guest-not-on-program": Place(good=CHOIR),
    "guest-without-minutes": Place(given=CHOIR_SINGS),
    "unknown-guest": Place(good=CHOIR),
    "hand-missing": Place(at=RHYTHMS),
    "hands-said-twice": Place(at=RHYTHMS),
    "heavy-emblem": Place(
        given='program.yaml: {look: {color: "#1f4e8c"}}',
        files={"media/poster.png": large_picture(), "media/emblem.png": picture()},
    ),
    "heavy-media": Place(
        files={"media/long-tones.wav": wav(340), "media/long-tones.mp3": mp3(1400)}
    ),
    "html-in-page": Place(at=(PAGE,), page=TITLE),
    "instrument-in-two-sections": Place(given=A_SECTIONAL),
    "instrument-without-section": Place(given=A_SECTIONAL),
    "labels-without-rotation": Place(without=NO_MEETING),
    "last-stage-below-goal": Place(at=STAGES),
    "link-leads-nowhere": Place(homes={"about": (PROGRAM,)}),
    "later-step-too-early": Place(
        given="""
cycles/winter/concert.yaml:
  during_school: 'yes'
  program:
    - {ensemble: harbor, pieces: [tweed-kites]}
    - {ensemble: lantern, pieces: [button-comets], before: [{what: intermission, minutes: 23}]}
""",
        good="cycles/winter/concert.yaml: {downbeat: 1:00 pm, allowances: {walk_back: 5}}",
    ),
    "lock-before-first-rehearsal": Place(
        given="years/2026-27.yaml: {meetings: [{ensemble: lantern, weekdays: [Tue, Fri]}]}"
    ),
    "measure-not-filled": Place(at=RHYTHMS),
    "measures-unplayed": Place(
        at=STAGES,
        without=TWO_STAGES,
        given=f"{THREE_STAGES}  slots: {{set_up: 8, warm_up: 12, notices: 6, close: 4}}\n",
    ),
    "measures-without-passage": Place(
        without=NO_PASSAGES,
        good="cycles/winter/music.yaml: {pieces: [{id: button-comets, form: [{name: Platform, measures: 1-8, meter: 4/4, tempo: quarter = 88}, {name: Wheel, measures: 9-32, meter: 4/4, tempo: quarter = 132}]}]}",
    ),
    "meeting-said-twice": Place(at=MEETINGS),
    "meeting-without-days": Place(at=MEETINGS, without=NO_MEETING),
    "meeting-without-times": Place(at=MEETINGS, without=NO_MEETING),
    "minutes-over-most": Place(at=(FUNDAMENTALS, "strands", "breathing", "exercises")),
    "minutes-over-rehearsal": Place(at=DAYS),
    "missing-field": Place(without=((PROGRAM, "rooms", "band-room"),)),
    "name-of-the-site": Place(
        homes={"ensembles": (PROGRAM,)},
    ),
    "no-note-in-braces": Place(
        given="cycles/winter/music.yaml: {pieces: [{id: button-comets, watch: [{text: Low}]}]}"
    ),
    "note-without-braces": Place(
        given="cycles/winter/music.yaml: {pieces: [{id: button-comets, watch: [{text: Low}]}]}"
    ),
    "no-rehearsals": Place(
        without=((CONCERT,),),
        given="years/2026-27.yaml: {meetings: [{ensemble: lantern, weekdays: [Mon]}]}",
    ),
    "note-out-of-range": Place(
        given="program.yaml: {ensembles: [{id: lantern, instruments: {tuba: 1}}]}"
    ),
    "nothing-left-to-rehearse": Place(
        without=((FUNDAMENTALS, "strands", "breathing"), (*TONE, "exercises"), *NO_HARBOR),
        given=f"{ONE_BAND}\nfundamentals.yaml: {{order: [tone]}}",
        good="cycles/winter/music.yaml: {pieces: [{id: tide, title: Tide, ensemble: harbor, form: [{name: Whole, measures: 1-8, meter: 4/4, tempo: quarter = 96}], passages: [{id: tide, name: Tide, measures: 1-8, goal: quarter = 96}]}]}",
    ),
    "nothing-to-rehearse": Place(without=(*NO_HARBOR, (FUNDAMENTALS,)), given=ONE_BAND),
    "odd-file-name": Place(named="cycles/winter/"),
    "odd-link": Place(homes={"about": (PROGRAM,)}),
    "outside-venue-hours": Place(
        given="cycles/winter/concert.yaml: {allowances: {walk_back: 7, pack: 70}}"
    ),
    "missing-file": Place(at=("content/",)),
    "page-without-title": Place(at=(PAGE,)),
    "passage-never-rehearsed": Place(
        without=((*STAGES, "polish"),),
        given="years/2026-27.yaml: {meetings: [{ensemble: lantern, weekdays: [Fri]}]}",
    ),
    "run-cut-short": Place(
        given="cycles/winter/music.yaml: {pieces: [{id: button-comets, form: [{name: Whole, measures: 1-40, meter: 4/4, tempo: quarter = 96, times: 12}]}]}"
    ),
    "passage-away-too-long": Place(
        without=NO_PASSAGES,
        given="cycles/winter/cycle.yaml: {stages: [{id: build, shortest_block: 6}, {id: polish, shortest_block: 6}]}\ncycles/winter/music.yaml: {pieces: [{id: button-comets, passages: ["
        + ", ".join(
            f"{{id: p{n}, name: P {n}, measures: {3 * n + 1}-{3 * n + 3}, goal: {'quarter = 96' if n < 5 else 'dotted quarter = 80'}}}"
            for n in range(12)
        )
        + "]}]}",
    ),
    "passage-seldom-at-home": Place(
        at=STAGES,
        without=(*NO_PASSAGES, (*STAGES, "build")),
        given="cycles/winter/music.yaml: {pieces: [{id: button-comets, passages: ["
        + ", ".join(
            f"{{id: p{n}, name: P {n}, measures: {2 * n + 1}-{2 * n + 2}}}" for n in range(20)
        )
        + "]}]}\ncycles/winter/cycle.yaml: {stages: [{id: build, name: Build, purpose: Join it, tempo: 50-90, minutes: {fundamentals: 1, music: 2}, goals: [Join it]}]}",
    ),
    "passage-in-two-pieces": Place(
        homes={"passages": (*DAYS, 0)},
        without=((CONCERT,),),
        given=f"{A_DAY[:-1]}, ends: 2026-12-10}}\ncycles/winter/music.yaml: {{pieces: [{{id: tweed-kites, ensemble: lantern, passages: [{{id: opening, name: Opening, measures: 1-8, goal: quarter = 108}}]}}]}}",
    ),
    **dict.fromkeys(
        (
            "percussion-twice",
            "player-number-too-high",
            "player-without-instrument",
            "unknown-percussion",
        ),
        Place(
            given="program.yaml: {ensembles: [{id: lantern, instruments: {snare-drum: 1, bass-drum: 1}}]}"
        ),
    ),
    "periods-overlap": Place(at=PERIODS),
    "pick-up-too-early": Place(
        given="cycles/winter/concert.yaml: {program: [{ensemble: harbor, pieces: [tweed-kites]}, {ensemble: lantern, pieces: [button-comets], before: [{what: intermission, minutes: 47}]}]}",
        good="cycles/winter/concert.yaml: {allowances: {walk_back: 5, pack: 15, to_door: 5}}",
    ),
    "piece-not-on-program": Place(given=OF_LANTERN),
    "players-in-two-places": Place(
        given=JAZZ
        + STEPS
        + """
  program:
    - {ensemble: harbor, pieces: [tweed-kites]}
    - {ensemble: jazz, pieces: [night-ferry]}
    - {ensemble: lantern, pieces: [button-comets]}
""",
        homes={"ensembles": (PROGRAM,)},
    ),
    "players-wanted-twice": Place(
        at=MEETINGS,
        given="program.yaml: {ensembles: [{id: lantern-brass, name: Lantern Brass, instruments: {trumpet: 3}, shares_players_with: [lantern]}]}\ncycles/winter/cycle.yaml: {ensembles: [lantern, harbor, lantern-brass]}",
    ),
    "private-line": Place(at=(PAGE,), page=TITLE),
    "private-term": Place(homes={"private": (PROGRAM,)}),
    "purpose-without-minutes": Place(at=DAYS),
    "sectional-without-sections": Place(at=DAYS),
    "second-page": Place(at=("pages/",)),
    "ride-misses-rehearsal": Place(at=DAYS),
    "section-room-taken": Place(given=A_SECTIONAL),
    "silent-media": Place(
        files={"media/long-tones.mp3": mp3(40)},
        bad_files={"media/long-tones.mp3": b"\x89PNG\r\n\x1a\n"},
    ),
    "slur-leads-to-no-note": Place(at=RHYTHMS),
    **dict.fromkeys(
        ("stage-starts-out-of-order", "stage-starts-outside-cycle", "stage-without-rehearsals"),
        Place(given=THREE_STAGES, without=TWO_STAGES),
    ),
    "stage-goes-back": Place(at=STAGES, given=THREE_STAGES, without=TWO_STAGES),
    "labels-left-over": Place(homes={"day_labels": (YEAR,)}),
    "meeting-without-cycle": Place(without=((CONCERT,), TWEED_KITES), given=ONE_BAND),
    "leader-in-two-places": Place(homes={"ensembles": (PROGRAM,)}),
    "leader-in-two-warm-ups": Place(homes={"ensembles": (PROGRAM,)}, given=STEPS),
    "unknown-staff": Place(homes={"ensembles": (PROGRAM,)}),
    "shared-players-miscounted": Place(homes={"ensembles": (PROGRAM,)}),
    "starts-past-levels": Place(
        given="fundamentals.yaml: {strands: [{id: tone, exercises: ["
        + ", ".join(f"{{id: e{n}, name: Exercise {n}, level: {n}}}" for n in range(3, 7))
        + "]}]}",
    ),
    "sticking-does-not-fit": Place(at=RHYTHMS),
    "task-outside-crew-time": Place(
        good="cycles/winter/concert.yaml: {crew: [{id: truck-crew, name: Truck crew, tasks: [{what: Load the truck at school, by: 5:00 pm}]}]}"
    ),
    "time-skipped-by-clock-change": Place(
        without=((CONCERT,),), given="cycles/winter/cycle.yaml: {ends: 2027-03-19}"
    ),
    "told-after-day": Place(at=CLOSURES),
    "too-heavy-for-carrier": Place(good=TRUCK),
    "unclean-media": Place(
        files={"media/seating.png": picture()}, bad_files={"media/seating.png": b"Flute 1, flute 2"}
    ),
    "unfit-media": Place(files={"media/long-tones.mp3": mp3(40)}),
    **dict.fromkeys(
        ("trill-not-a-step", "trill-without-upper-note"), Place(homes={"trills": PIECE})
    ),
    "two-concerts-at-once": Place(
        given="cycles/winter/concerts/holiday-show.yaml: {name: Holiday show, date: Thu 2026-12-10, downbeat: 7:00 pm, venue: hall, program: [{ensemble: lantern, pieces: [button-comets]}]}"
    ),
    "unknown-carrier": Place(good=TRUCK),
    "unknown-equipment": Place(given=TIMPANI),
    "unknown-file": Place(named=CONCERT),
    "unknown-instrument": Place(
        given="program.yaml: {ensembles: [{id: lantern, instruments: {trombone: 2, tuba: 1}}]}"
    ),
    "unknown-label": Place(without=NO_MEETING),
    "unknown-media": Place(files={"media/long-tones.mp3": mp3(40)}),
    "unknown-passage": Place(homes={"passages": (*DAYS, 0)}, given=A_DAY),
    "unknown-period": Place(at=MEETINGS),
    "unknown-role": Place(
        good="cycles/winter/concert.yaml: {crew: [{id: stage-crew, name: Stage crew}]}"
    ),
    "unknown-venue": Place(
        given="program.yaml: {venues: [{id: great-hall, name: Great Hall, address: 12 Quill Street}]}"
    ),
    "unreadable-length": Place(
        given=TIMPANI[:-1]
        + ", care: {lifts: [{what: Up, equipment: timpani, start: {height: 20 in}, end: {reach: 15 in, height: 40 in}, per_minute: 0.2}]}}"
    ),
    "unreadable-level": Place(
        given="cycles/winter/concert.yaml: {care: {sound: [{what: The podium, minutes: 45}]}}"
    ),
    "unreadable-rhythm": Place(
        given="cycles/winter/music.yaml: {pieces: [{id: button-comets, rhythms: [{pattern: q q q q}]}]}"
    ),
    "rhythm-in-old-form": Place(
        given="cycles/winter/music.yaml: {pieces: [{id: button-comets, rhythms: [{pattern: q q q q}]}]}"
    ),
    **dict.fromkeys(
        ("time-without-am-or-pm", "unreadable-time"),
        Place(given="cycles/winter/concert.yaml: {calls: [{ensemble: lantern}]}"),
    ),
    "unreadable-weight": Place(given=TIMPANI),
    "unsafe-link": Place(at=(PAGE,), page=TITLE),
    "venue-stock-short": Place(
        given="program.yaml: {ensembles: [{id: harbor, instruments: {flute: 37}}]}"
    ),
    "warm-up-over-performance": Place(given=JAZZ),
    "wish-without-minutes": Place(at=DAYS),
    "wrong-ending": Place(named=MUSIC),
}
