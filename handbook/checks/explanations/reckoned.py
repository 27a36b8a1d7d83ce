"""What is meant by problems that only show when the plan is reckoned, for `handbook explain`."""

from __future__ import annotations

from collections.abc import Mapping

from handbook.checks.explanations.explained import explained

PLAN_EXPLANATIONS: Mapping[str, str] = {
    "extra-on-closure": explained(
        "An extra rehearsal is on a day when school is closed.",
        bad="closures:\n  - {name: Fall break, from: 2026-11-23, to: 2026-11-27}\nextra:\n  - {ensemble: lantern, date: 2026-11-24, start: 3:30 pm, end: 5 pm}",
        good="extra:\n  - {ensemble: lantern, date: 2026-12-01, start: 3:30 pm, end: 5 pm}",
    ),
    "rehearsals-overlap": explained(
        "Two rehearsals of one ensemble overlap.",
        bad="extra:\n  - {ensemble: lantern, date: 2026-11-04, start: 10:30, end: 11:30}   # it meets 10:05 to 10:50",
        good="extra:\n  - {ensemble: lantern, date: 2026-11-04, start: 3:30 pm, end: 5 pm}",
    ),
    "cancelled-nothing": explained(
        "A rehearsal is cancelled that there is not.",
        bad="cancelled:\n  - {ensemble: lantern, date: 2026-11-05, why: Field trip}   # it meets on Wednesdays",
        good="cancelled:\n  - {ensemble: lantern, date: 2026-11-04, why: Field trip}",
    ),
    "time-skipped-by-clock-change": explained(
        "A rehearsal is at a time that the clock skips.",
        "When daylight saving time begins, clocks are set forward in the night, and an hour does not exist.",
        bad="extra:\n  - {ensemble: lantern, date: 2027-03-14, start: 2:30 am, end: 4 am}",
        good="extra:\n  - {ensemble: lantern, date: 2027-03-14, start: 4 am, end: 5:30 am}",
    ),
    "no-rehearsals": explained(
        "An ensemble has no rehearsal in its cycle.",
        "Its meetings fall on no day of the cycle, or all of them on closures.",
        bad="starts: 2026-12-09\nends: 2026-12-10   # the ensemble meets on Mondays",
        good="starts: 2026-10-19\nends: 2026-12-10",
    ),
    "fewer-rehearsals-than-stages": explained(
        "A cycle has more stages than an ensemble has rehearsals.",
        "Every stage needs at least one rehearsal.",
        bad="starts: 2026-12-07\nends: 2026-12-10   # two rehearsals, three stages",
        good="starts: 2026-10-19\nends: 2026-12-10",
    ),
    "stage-starts-out-of-order": explained(
        "A stage starts on a date no later than the stage before it.",
        bad="stages:\n  - {id: decode, starts: 2026-11-09}\n  - {id: build, starts: 2026-11-02}",
        good="stages:\n  - {id: decode, starts: 2026-11-02}\n  - {id: build, starts: 2026-11-09}",
    ),
    "stage-without-rehearsals": explained(
        "A stage has no rehearsal between the dates around it.",
        bad="stages:\n  - {id: decode, starts: 2026-11-02}\n  - {id: build, starts: 2026-11-03}",
        good="stages:\n  - {id: decode, starts: 2026-11-02}\n  - {id: build, starts: 2026-11-16}",
    ),
    "lock-before-first-rehearsal": explained(
        "A passage is to reach its goal before the first rehearsal.",
        bad="starts: 2026-10-19\npassages:\n  - {id: opening, lock_by: 2026-10-19}   # the first rehearsal is on 2026-10-20",
        good="passages:\n  - {id: opening, lock_by: 2026-11-20}",
    ),
    "rehearsal-too-short": explained(
        "A rehearsal is too short for what every rehearsal has.",
        "Set-up and close keep their minutes even on a short day.",
        bad="slots: {set_up: 30, close: 30}   # a period lasts 45 minutes",
        good="slots: {set_up: 4, close: 3}",
    ),
    "nothing-to-rehearse": explained(
        "An ensemble has rehearsals, but neither a piece nor fundamentals.",
        bad="ensembles: [lantern, harbor]   # no piece is for harbor, and there is no fundamentals.yaml",
        good="ensembles: [lantern]",
    ),
    "nothing-left-to-rehearse": explained(
        "A rehearsal without a piece has minutes that no exercise may fill.",
        "An exercise with `most_minutes` never has more of them in one rehearsal.",
        bad="exercises:\n  - {id: slow-air, name: Slow air, level: 1, most_minutes: 3}   # the only strand, and no piece",
        good="exercises:\n  - {id: slow-air, name: Slow air, level: 1, most_minutes: 3}\n# and a piece in this cycle's music.yaml",
    ),
}
