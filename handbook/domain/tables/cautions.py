"""Plain-language cautions on lifting and on hearing, for crew, equipment and rehearsal pages.

Each says where its fact comes from and for whom the source was made. None gives a weight
or a level that students may take, and none may be shown without its scope.
"""

from __future__ import annotations

from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: `text` for readers, the public `source` of its fact, whom that is for in sentences.

    `cited` is the source in short, for paper in the hand: what its whole name begins with.
    """

    id: str
    text: str
    source: str
    scope_sentences: tuple[str, ...]
    cited: str = ""

    @property
    def scope(self) -> str:
        """The scope of the source."""
        return " ".join(self.scope_sentences)


_LOCAL_RULES = "Follow your district's rules; ask the facilities or safety office."
_LIFTING_SCOPE = ("Made for adults at work, not for students.", _LOCAL_RULES)
_HEARING_SCOPE = (
    "Limits for adults at work, not for students.",
    (
        "Follow your district's rules; ask the facilities or safety office, and a licensed "
        "audiologist about your own ears."
    ),
)
_LISTENING_SCOPE = ("General public guidance, no rule for a classroom.", _LOCAL_RULES)
_CRAFT_SCOPE = (_LOCAL_RULES,)

_LIFTING_GUIDE = "NIOSH Publication No. 94-110"
_OSHA_LETTER = "OSHA interpretation letter of 4 June 2013"
_EQUATION = f"{_LIFTING_GUIDE}, Applications Manual for the Revised NIOSH Lifting Equation (1994, revised 9/2021)"
_HSE_FILTERS = (
    "UK Health and Safety Executive, INDG143 manual-handling guideline figures, as issued before "
    "the 2020 revision"
)
_NIOSH_NOISE = "NIOSH Publication No. 98-126, Occupational Noise Exposure (1998)"
_NIOSH_MUSIC = (
    "NIOSH Publication No. 2015-184, Reducing the Risk of Hearing Disorders among Musicians"
)

LIFTING: tuple[Caution, ...] = (
    Caution(
        "lift-ask-first",
        "Follow your district's rules on who may lift what. No federal work rule gives a weight that "
        "suits everyone, so local rules decide. If you are not sure, leave it and ask an adult in "
        "charge. Staff ask the facilities or safety office.",
        f"{_OSHA_LETTER}: no OSHA standard sets a weight limit for lifting",
        _LIFTING_SCOPE,
        _OSHA_LETTER,
    ),
    Caution(
        "lift-no-number-for-students",
        "The best known rule for lifting was made for healthy adults at work. It has no number for "
        "students, so no weight on this page says what a student may lift.",
        _EQUATION,
        _LIFTING_SCOPE,
        _LIFTING_GUIDE,
    ),
    Caution(
        "lift-not-covered",
        "That rule is for one adult who lifts with two hands and stays in place. It does not cover "
        "carrying, pushing or pulling. It does not cover a lift by two people. Most band gear is moved "
        "in those ways.",
        f"{_EQUATION}, p. 6",
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-wheels-first",
        "Use a cart, a dolly or the case's own wheels before you use your arms. Ask for a second adult "
        "where the crew list says so.",
        "Common practice, no source",
        _CRAFT_SCOPE,
    ),
    Caution(
        "lift-close",
        "Keep the load close to you. The farther out it is, the less an adult can lift.",
        f"{_EQUATION}, p. 8",
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-no-twist",
        "Turn with your feet, not with your back. One guide for adults takes off a tenth for a twist past "
        "45 degrees, and a fifth past 90.",
        f"{_EQUATION}, p. 12; {_HSE_FILTERS}",
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-middle-height",
        "Store heavy cases between the knees and the waist. Lifts from the floor and lifts over the "
        "head are the hard ones.",
        f"{_EQUATION}, p. 10",
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-hardest-point",
        "Plan for the hardest point of the lift, such as the truck bed or the top shelf. The lowest "
        "figure on the way is the one that counts.",
        _HSE_FILTERS,
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-good-grip",
        "Lift by the handles. If a case has none, or has a broken one, tell the crew lead.",
        f"{_EQUATION}, pp. 17-19",
        _LIFTING_SCOPE,
        _LIFTING_GUIDE,
    ),
    Caution(
        "lift-rest",
        "Take turns and rest. One guide for adults is made for up to 30 lifts an hour. It takes off 30 "
        "percent at one or two a minute, 50 percent at five to eight, and 80 percent above twelve.",
        f"{_EQUATION}, pp. 13-16; {_HSE_FILTERS}",
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-short-carry",
        "Plan short carries with a place to set things down. One guide for adults reckons with a load "
        "held to the body, and no more than about 10 meters without a rest.",
        _HSE_FILTERS,
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-dry-floor",
        "Clear the way first: doors held open, floor dry, cords taped, ramps down. The rules for "
        "lifting expect a floor that grips and room to move.",
        f"{_EQUATION}, p. 6",
        _LIFTING_SCOPE,
    ),
    Caution(
        "lift-unknown-weight",
        "“Not weighed” on the list? Treat it as heavy and ask.",
        "Common practice, no source",
        _CRAFT_SCOPE,
    ),
)

HEARING: tuple[Caution, ...] = (
    Caution(
        "hear-no-number-for-students",
        "Noise limits were made for adults who work in steady noise for many years. They may not fit "
        "music, and they are no limits for students or classrooms.",
        f"{_NIOSH_NOISE}; {_NIOSH_MUSIC}",
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-bands-are-loud",
        "School bands are loud. In the studies, most band rehearsals in middle and high schools passed "
        "91 dBA, and at times 100 dBA.",
        _NIOSH_MUSIC,
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-play-softer",
        "Rehearse softer when you can. Save the full sound for the runs that need it.",
        _NIOSH_MUSIC,
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-space",
        "Give players room. More space between chairs, and between ears and bells, means less sound "
        "at each ear.",
        _NIOSH_MUSIC,
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-quiet-breaks",
        "Take breaks in a quiet place. Ears need rest after loud sound, for the rest of that day "
        "and the night.",
        _NIOSH_MUSIC,
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-ear-plugs",
        "You may wear ear plugs. Choose a kind that suits your instrument, and ask how to put them in.",
        _NIOSH_MUSIC,
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-tell-someone",
        "Do your ears ring or buzz? Does sound seem dull, bent or too loud? Tell your family and "
        "the school nurse, and have your hearing checked.",
        _NIOSH_MUSIC,
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-measure-and-teach",
        "For staff: measure the room often. Where levels pass 85 dBA, schools are advised to run a "
        "program with training and a hearing test each year.",
        _NIOSH_MUSIC,
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-small-rooms",
        "For staff: rooms matter. At one high school, the band director's day went past 85 dBA on average, and an "
        "indoor marching rehearsal reached 110 dBA.",
        "NIOSH Health Hazard Evaluation HETA 2011-0129-3160 (2012)",
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-name-the-rule",
        "For staff: say which rule a number comes from. Fifty minutes at 95 dBA is more than a full "
        "day's dose by one rule and about a fifth of it by the other.",
        f"{_NIOSH_NOISE}; 29 CFR 1910.95",
        _HEARING_SCOPE,
    ),
    Caution(
        "hear-headphones",
        "Turn headphones down when you play along with a recording. World guidance for devices "
        "counts by the week: 40 hours at 80 dB for adults, and at 75 dB for children.",
        "WHO-ITU H.870, Guidelines for safe listening devices and systems",
        _LISTENING_SCOPE,
    ),
    Caution(
        "hear-venue",
        "For staff: ask a venue with loudspeakers how it keeps its levels. World guidance for venues "
        "has six parts; one is a limit of 100 dB on average over 15 minutes.",
        "WHO, Global standard for safe listening venues and events (2022)",
        _LISTENING_SCOPE,
    ),
)

_BY_ID = {caution.id: caution for caution in (*LIFTING, *HEARING)}


def _pick(*ids: str) -> tuple[Caution, ...]:
    return tuple(_BY_ID[each] for each in ids)


# What the crew reads before it begins; all others, and the sources, stand at the end of the page.
CREW_FIRST = _pick("lift-wheels-first", "lift-unknown-weight", "lift-good-grip")
# What stands before the list of what a role moves, on the paper that it has in the hand.
CREW_MOVES = _pick("lift-no-number-for-students", "lift-ask-first")
# What each page shows, most useful first.
CREW_PAGE = _pick(
    "lift-ask-first",
    "lift-wheels-first",
    "lift-dry-floor",
    "lift-close",
    "lift-no-twist",
    "lift-middle-height",
    "lift-good-grip",
    "lift-hardest-point",
    "lift-short-carry",
    "lift-rest",
    "lift-unknown-weight",
    "lift-no-number-for-students",
    "lift-not-covered",
    "hear-quiet-breaks",
    "hear-ear-plugs",
    "hear-tell-someone",
    "hear-no-number-for-students",
)
REHEARSAL_PAGE = _pick(
    "hear-play-softer",
    "hear-space",
    "hear-quiet-breaks",
    "hear-ear-plugs",
    "hear-tell-someone",
    "hear-headphones",
    "hear-bands-are-loud",
    "hear-no-number-for-students",
    "lift-ask-first",
    "lift-wheels-first",
    "lift-close",
    "lift-no-number-for-students",
    "lift-not-covered",
)
STAFF_PAGE = _pick("hear-measure-and-teach", "hear-small-rooms", "hear-name-the-rule", "hear-venue")
