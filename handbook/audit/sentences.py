"""What is said of a single person: their health, birth date, home, numbers and keys."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from handbook.audit.model import Concern, Seen, Words
from handbook.audit.own import OwnWords, folded
from handbook.audit.people import named_people
from handbook.audit.tables.given_names import GIVEN_NAMES
from handbook.audit.tables.health_words import HEALTH_WORDS

HEALTH_OF_PERSON = Concern(
    "health-of-a-person",
    "this says something of one person's health or standing at school",
    "take it out: it is nobody else's business, whoever is meant",
    refuses=True,
)
HEALTH_OF_SOME = Concern(
    "health-of-some",
    "this may say something of a few people's health or standing at school",
    "if anybody can tell who is meant, take it out",
    refuses=False,
)
BIRTH_DATE = Concern(
    "birth-date",
    "this looks like somebody's date of birth",
    "take it out",
    refuses=True,
)
HOME_ADDRESS = Concern(
    "home-address",
    "this looks like where somebody lives",
    "take it out, and name a public place to meet",
    refuses=True,
)
STREET_ADDRESS = Concern(
    "street-address",
    "this street address is not that of one of the program's venues",
    "see that it is a public place, and nobody's home",
    refuses=False,
)
PERSONAL_NUMBER = Concern(
    "personal-number",
    "this looks like a number that belongs to one person, or to their locker",
    "take it out; give such numbers on paper, to the one person",
    refuses=True,
)
DOOR_CODE = Concern(
    "door-code",
    "this looks like the code of a door, a lock or an alarm",
    "take it out, and change the code if it was ever published",
    refuses=True,
)
PASSWORD = Concern(
    "password",
    "this looks like a password, or the key of a call",
    "take it out, and change it if it was ever published",
    refuses=True,
)

# Neither after a title such as Ms. nor after an initial.
_SENTENCE_ENDS = re.compile(
    r"(?<=[.!?])(?<!\b[A-Z]\.)(?<!\b[DMS][rsx]\.)(?<!\b(?:Mrs|Sra)\.)\s+(?=[A-ZÀ-Þ¡¿])|\n"
)
_HEALTH = re.compile(r"(?i)(?<![\w-])(?:" + "|".join(map(re.escape, HEALTH_WORDS)) + r")(?![\w-])")
_GIVEN_ALONE = re.compile(r"(?<![\w'’-])([A-ZÀ-Þ][a-zß-ÿ]+)(?:['’]s)?(?![\w-])")
_ROLE_HAS = re.compile(
    r"(?i)\b(?:our|the|one|a|an) (?:\w+ ){0,2}(?:"
    r"(?:director|teacher|student|player|leader|principal|captain)(?:['’]s| (?:has|had|is having|is in|was in|had to|will have|broke))"
    r"|(?:flute|clarinet|oboe|bassoon|trumpet|horn|trombone|tuba|percussionist) (?:has|had|is in|was in|had to|will have|broke)"
    r")\b"
)
# Of whom something is said: a few of a section, whom all readers know.
_SOME = re.compile(
    r"(?i)\b(?:one|two|three|some|a few|both|either) of (?:the|our|my|this year['’]s) |\bun[oa] de l[oa]s "
)
# What is said of nobody in general on a band's site (20 U.S.C. 1400 and 29 U.S.C. 794 have the plans).
_ALWAYS_SOMEBODY = re.compile(
    r"\b(?:IEPs?|504 plans?)\b|(?i:\b(?:custody|foster care|insulin|(?:bad|failing|low|poor) grades?"
    r"|grades? (?:are|is) (?:bad|failing|low|poor))\b)"
)
_GRADES = re.compile(r"(?i)\b(?:grades?|gpa|report cards?)\b(?! \d)")
_PRONOUN = re.compile(r"\b(?:[Hh]e|[Ss]he|[Hh]is|[Hh]ers?)\b")
_GENERAL = re.compile(
    r"(?i)\b(?:if|any|anyone|anybody|every|each|your|you|whoever|students who|a student|a player|players who|whether)\b"
)

_MONTHS = r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?"
_DATE = rf"(?:{_MONTHS} \d{{1,2}}(?:st|nd|rd|th)?(?:,? \d{{4}})?|\d{{1,2}} (?:de )?[a-z]+ (?:de )?\d{{4}}|\d{{1,2}}[/.-]\d{{1,2}}[/.-](?:\d{{4}}|\d{{2}})|\d{{4}}-\d{{2}}-\d{{2}})"
# The days off of 5 U.S.C. 6103 and of some states that bear the word.
_HOLIDAY = r"(?<!washington['’]s )(?<!lincoln['’]s )(?<!king['’]s )(?<!jr\.['’]s )"
_HOLIDAY_OF = r"(?! of (?:martin|dr\.|george|abraham))"
_BIRTH = re.compile(
    rf"(?i)\b(?:born(?: on)?|{_HOLIDAY}birth ?da(?:y|te)s?{_HOLIDAY_OF}|date of birth|d\.?o\.?b\.?|b-day|turns \d{{1,2}}|nacid[oa]|naci[oó]|fecha de nacimiento|cumplea[ñn]os)\b.{{0,30}}?({_DATE})"
)
_BIRTH_AFTER = re.compile(
    rf"(?i)({_DATE}).{{0,30}}\b(?:{_HOLIDAY}birthday{_HOLIDAY_OF}|date of birth|dob|cumplea[ñn]os)\b|\((?:b\.|\*|born) ?({_DATE})\)"
)

_LONG_AGO = re.compile(r"(?<!\d)1[0-8]\d\d\b|(?<!\d)19[0-4]\d\b")  # of composers, in program notes

_STREET = re.compile(
    r"(?<![\w-])\d{1,5}[A-Z]? (?:[NSEW]\.? |North |South |East |West )?(?:[A-Z][\w'’]+ ){1,3}"
    r"(?:Street|St|Road|Rd|Avenue|Ave|Lane|Ln|Drive|Dr|Court|Ct|Way|Boulevard|Blvd|Circle|Cir|Terrace|Trail|Parkway|Pkwy|Highway|Hwy)\b\.?(?:,? (?:Apt|Unit|#)\.? ?\w+)?"
    r"|\b(?:P\.? ?O\.? Box) \d+"
    r"|\b(?:[Cc]alle|[Aa]venida|[Aa]v\.) [A-ZÁÉÍÓÚÑ][\wáéíóúñ]+(?: [A-ZÁÉÍÓÚÑ][\wáéíóúñ]+)?,? (?:n\.º |#)?\d{1,5}\b"
)
_HOME = re.compile(
    r"(?i)\b(?:home(?! (?:games?|side|stands?|team|shows?|concerts?|page|field|opener|meets?|crowd|invitational|bleachers|stadium|room))"
    r"|(?:his|her|their|our|my) house|['’]s (?:house|place)|house of|lives?|living|residence|resides|family of|apartment|apt|casa|vive|domicilio|address(?:es)? of)\b"
)

_PERSONAL = re.compile(
    r"(?i)\b(?:student|lunch|badge|medicaid|insurance|pupil)[ -](?:id|i\.d\.|no\.?|number|#|pin)s?\b\W{0,3}(?:(?:is|of|for)\W{1,2})?(?:\w+ ){0,2}?#?[A-Z]{0,2}-?\d{3,12}\b"
    r"|(?<![\w-])(?-i:ID)(?: no\.?| number| #)?s?[:# ]{1,3}#?(?!20\d\d\b)\d{4,12}\b"
    r"|\b(?:ssn|social security)\b\D{0,20}\d{3}-?\d{2}-?\d{4}|(?<![\w-])\d{3}-\d{2}-\d{4}(?![\w-])"
    r"|\b(?:número|núm\.?|matrícula) (?:de|del) (?:estudiante|alumn[oa])\W{0,3}\d{3,12}"
    r"|\b(?:locker|casillero|cubby)(?: (?:no\.?|number|núm\.?|número))? ?[:#]? ?[A-Z]?-?\d{1,4}\b(?! ?[-–]\d)"
)
_SECURITY_NUMBER = re.compile(r"(?<![\w-])\d{3}-\d{2}-\d{4}(?![\w-])")
_CODE = re.compile(
    r"(?i)\b(?:door|gate|alarm|entry|entrance|keypad|access|locker|lock|padlock|garage|key ?box|lockbox|storage|closet|shed|trailer|room|copier|building|puerta|alarma|candado)(?:['’]s)? ?(?:code|combo|combination|pin|c[oó]digo)\b\W{0,3}(?:is |es |= ?)?(?=[\w*#-]*\d)[\w*#-]{2,}"
    r"|\b(?:code|combo|combination|pin|c[oó]digo) (?:for|to|of|de|del|on) (?:the |la |el )?(?:\w+ ){0,2}?(?:door|gate|alarm|keypad|lock|locker|closet|storage|shed|room|copier|building|puerta|alarma|candado)\b\W{0,3}(?:is |es |= ?)?(?=[\w*#-]*\d)[\w*#-]{2,}"
    r"|\b(?:combo|combination|combinaci[oó]n)\b\W{0,3}(?:is |es )?\d{1,2}[- ]\d{1,2}[- ]\d{1,2}\b"
    r"|\bc[oó]digo de la (?:puerta|alarma)\W{0,3}\d[\w*#-]+"
)
_SECRET = re.compile(
    r"(?i)\b(?:pass ?words?|passcodes?|pass ?phrase|pwd|contraseñas?|claves? (?=de acceso|del? wi)|wi-?fi (?:key|code))\b(?: (?:for|of|to|de|del|para) (?:the |la |el )?(?:\w+ ){0,3}?)?(?:\W{0,2}:|\W{0,3}\b(?:is|es)\b:?|\W{0,2}=)\W{0,3}(?!(?:on|in|at|not|never|with|the|given|from|kept|your|sent|posted|wanted|needed|different|en|la|el|ask|see|get|call|contact|request|find|pick|none|no|available|e-?mail|write|pregunten?|pidan?)\b)[^\s.,;]{3,}"
    r"|\b(?:pass ?word|passcode|contraseña)\b \W{0,2}(?=[^\s]*\d)[^\s.,;]{3,}"
    r"|\bmeeting (?:id|code|number)\b\W{0,3}(?:is )?\d[\d -]{6,}\d"
    r"|\b(?:user ?name|login|usuario)\b\W{0,2}[:=]\W{0,2}[^\s.,;]{3,}"
)

# Without one of these words a sentence holds nothing that is looked for here.
_TELLING = frozenset(
    {
        *(re.split(r"[\W\d_]+", word.removeprefix("504 "))[0] for word in HEALTH_WORDS),
        *("grade", "grades", "gpa", "card", "cards", "ieps", "plans"),
        *("born", "birthday", "birthdate", "birthdays", "birth", "dob", "d", "b", "turns"),
        *("nacido", "nacida", "nació", "nacio", "nacimiento", "cumpleaños", "cumpleanos"),
        *("street", "st", "road", "rd", "avenue", "ave", "lane", "ln", "drive", "dr", "court"),
        *("ct", "way", "boulevard", "blvd", "circle", "cir", "terrace", "trail", "parkway"),
        *("pkwy", "highway", "hwy", "box", "calle", "avenida", "av", "id", "i", "ids", "number"),
        *("no", "pin", "pins", "ssn", "security", "número", "núm", "matrícula", "locker"),
        *("lockers", "casillero", "casilleros", "cubby", "code", "combo", "combination", "código"),
        *("codigo", "combinación", "combinacion", "password", "passwords", "pass", "passcode"),
        *("passcodes", "passphrase", "pwd", "contraseña", "contraseñas", "clave", "wifi", "wi"),
        *("meeting", "username", "user", "login", "usuario"),
    }
)


def about_people(words: Sequence[Words], own: OwnWords) -> Iterator[Seen]:
    """Find what is said of a single person, and codes that only some should know."""
    for run in words:
        if not run.single.isdisjoint(_TELLING) or _SECURITY_NUMBER.search(run.text):
            for sentence in _SENTENCE_ENDS.split(run.text):
                yield from _in_sentence(sentence, run.file, own)


def _in_sentence(sentence: str, file: str, own: OwnWords) -> Iterator[Seen]:
    if _HEALTH.search(sentence) and _is_about_one(sentence, own):
        yield Seen(HEALTH_OF_PERSON, sentence.strip(), file)
    elif _is_about_some(sentence):
        yield Seen(HEALTH_OF_SOME, sentence.strip(), file)
    for pattern, concern in _PLAIN:
        for match in pattern.finditer(sentence):
            if concern is not BIRTH_DATE or not _LONG_AGO.search(match[0]):
                yield Seen(concern, match[0].strip(), file)
    streets = [one for one in _STREET.finditer(sentence) if not _is_own_place(one[0], own)]
    if streets:
        at_home = _HOME.search(sentence) or any(named_people(sentence, own))
        for match in streets:
            yield Seen(HOME_ADDRESS if at_home else STREET_ADDRESS, match[0].rstrip("."), file)


_PLAIN: Sequence[tuple[re.Pattern[str], Concern]] = (
    (_BIRTH, BIRTH_DATE),
    (_BIRTH_AFTER, BIRTH_DATE),
    (_PERSONAL, PERSONAL_NUMBER),
    (_CODE, DOOR_CODE),
    (_SECRET, PASSWORD),
)


def _is_about_some(sentence: str) -> bool:
    if _GENERAL.search(sentence):
        return False
    told = _HEALTH.search(sentence) or _GRADES.search(sentence)
    return bool(_ALWAYS_SOMEBODY.search(sentence) or (told and _SOME.search(sentence)))


def _is_about_one(sentence: str, own: OwnWords) -> bool:
    """Whether a sentence names a person, or speaks of one that some readers know."""
    if any(named_people(sentence, own)) or _ROLE_HAS.search(sentence):
        return True
    given: Callable[[re.Match[str]], bool] = lambda one: (  # noqa: E731
        one[1] in GIVEN_NAMES and not own.is_plain(one[1])
    )
    if any(map(given, _GIVEN_ALONE.finditer(sentence))):
        return True
    return bool(_PRONOUN.search(sentence)) and not _GENERAL.search(sentence)


def _is_own_place(address: str, own: OwnWords) -> bool:
    plain = folded(address).rstrip(".")
    return any(plain in place or place.partition(",")[0] in plain for place in own.places)
