"""Words in the titles of school calendars, in English, as regular expressions in small letters.

Common practice, no source: read off what such titles are usually made of.
"""

from __future__ import annotations

NO_SCHOOL = (
    r"no schools?\b(?! (?:board|bus|buses|lunch|lunches|breakfast|meals?|supply|supplies|uniforms?|nurse|zone|pictures?|photos?|store|fees?))(?: for (?:all )?students\b)?(?:\s*[/,&-]\s*offices? closed\b)?"
    r"|no (?:classes|class)\b"
    r"|no (?:school for )?students\b"
    r"|(?:(?:district )?offices?\s*(?:/|,|&|and)\s*)?(?:all )?(?:schools?|district|campus(?:es)?)(?:\s*(?:/|,|&|and)\s*(?:district )?offices?)?(?: is| are| will be)? closed\b"
    r"|(?:closed|off|holiday) for (?:all )?students\b"
    r"|student holidays?\b|student day off\b|students (?:are )?off\b|students do not attend\b"
    r"|non[- ]?(?:student|school|attendance|instructional) days?\b"
    r"|school holidays?\b"
)
"""Say by themselves that there is no school."""

BREAKS = r"(?:thanksgiving|winter|mid-?winter|february|spring|fall|autumn|christmas|holiday|easter)\s+(?:break|recess|vacation)\b"
"""Stretches that are without school where the title says nothing else."""

HOLIDAYS = (
    r"labor day|columbus day|indigenous peoples?'?s? day|veterans'? day|election day"
    r"|thanksgiving(?: day)?|day after thanksgiving|christmas(?: eve| day)?|new year'?s?(?: eve| day)?"
    r"|(?:dr\.? )?martin luther king,?(?: jr\.?)?(?:'s)?(?: birthday| day)?|mlk(?: jr\.?)?(?: day)?"
    r"|presidents?'?s?'? day|washington'?s birthday|lincoln'?s birthday|good friday|easter monday"
    r"|memorial day|juneteenth|independence day|rosh hashanah|yom kippur|diwali|lunar new year|eid(?: al-(?:fitr|adha))?"
)
"""Holidays: a school may hold school on any of them, so their names alone settle nothing."""

STAFF_DAYS = (
    r"(?:teachers?|staff|faculty|professional|parent[- /]teachers?|family|families)['s]*"
    r" (?:in-?service|work ?days?|work days?|planning|development|learning|training|institute|conferences?|preparation|records?)(?: days?)?\b"
    r"|in-?service(?: days?)?\b|professional days?\b|pd days?\b|institute days?\b|conference days?\b"
    r"|teacher days?\b|records? days?\b|work ?days?\b"
)
"""Days of staff: with students or without, all day or after school."""

EARLY = (
    r"early[- ]?(?:release|dismissal|dismiss|out|closing|closure)(?: days?)?\b"
    r"|(?:half|1/2|½)[- ]?days?\b|minimum days?\b|shortened days?\b|abbreviated days?\b"
    r"|(?:noon|\d{1,2}(?::\d{2})? ?[ap]\.?m\.?) (?:release|dismissal)\b"
    r"|(?:release|dismissal|dismiss(?:ed)?|out) at (?:noon|\d{1,2}(?::\d{2})?(?: ?[ap]\.?m\.?)?)"
)
LATE = (
    r"late[- ]?(?:start|arrival|opening)(?: days?)?\b|delayed[- ]?(?:start|opening)\b"
    r"|(?:\d|one|two|three)[- ]?(?:hours?|hrs?\.?)[- ]delay\b"
)
FIRST = (
    r"first (?:student )?day (?:of|for) (?:the )?(?:\d{4}[-/]\d{2,4} )?(?:school|classes|students?|instruction)(?: year)?\b"
    r"|first student day\b|(?:school|classes|school year) (?:begins?|starts?)\b|(?:start|beginning) of (?:the )?school(?: year)?\b"
)
LAST = (
    r"last (?:student )?day (?:of|for) (?:the )?(?:\d{4}[-/]\d{2,4} )?(?:school|classes|students?|instruction)(?: year)?\b"
    r"|last student day\b|(?:school|classes|school year) ends?\b|end of (?:the )?school(?: year)?\b"
)
MAKE_UP = r"(?:(?:snow|weather|inclement weather|bad weather|emergency|storm)(?: day)? )?make[- ]?up(?: days?)?\b"

SOME_ONLY = (
    r"pre-?k\w*|pre-?school\w*|kindergarten\w*|\bkinder\b|elementary|primary|intermediate|middle school\w*|junior high|high school\w*"
    r"|\bgrades? (?:k|\d)|\b\d+(?:st|nd|rd|th) grade|freshm[ae]n|sophomores?|juniors?\b|seniors?\b|\bk-(?:[2-9]|10|11)\b|\b\d{1,2}-\d{1,2}(?:th)? grade|\b(?:ms|hs|es)\b(?! in session)"
)
"""Name some grades or schools. What names all of them is taken away before."""
EVERYONE = r"k ?- ?12|pk ?- ?12|pre-?k ?- ?12|all (?:grades|schools|students|levels|campuses)"

HEDGES = r"\bif (?:needed|necessary|required|used)\b|possible|potential|tentative|pending|proposed|\bmay be\b|\bmight\b|\btbd\b|\bt\.b\.d\.|\?|optional|reserved|built-in"
NEGATED = r"\bno (?:early|late|half|delayed|minimum|make)|\b(?:not|cancell?ed|cancels|instead of)\b|school (?:is )?in session|regular (?:school )?day|schools? (?:is |are )?open"
EDGES = r"\b(?:begins?|starts?|starting|ends?|ending|resumes?|returns?|before|after|until|eve|through)\b"
OTHER_MATTERS = (
    r"\b(?:board|committee|council|meetings?|workshop|camps?|registration|enrollment|sign-?ups?|deadline|due|forms?|survey|bus|buses|lunch|menu"
    r"|clubs?|practice|rehearsals?|concerts?|recital|dance|games?|tournament|fair|sale|fundraiser|night|party|pictures?|photos?|parade|assembly|"
    r"summer school|open house|orientation|sports?|athletics?|tryouts?|pto|pta|reading|coupons?|program|project|preview|tour|tickets?)\b"
)
"""Matters that only have a school day's words in their names."""

FILLERS = (
    r"\b(?:the|a|an|for|of|in|on|at|and|or|day|days|all|student|students|staff|school|schools|district|district-?wide|wide|observed|observance|"
    r"holiday|holidays|federal|state|legal|only|schedule|today|usd|isd|public|year|\d{4}(?:[-/]\d{2,4})?)\b"
)
"""Say nothing of their own beside a word that does."""

SAME = (
    (
        "mlk day",
        r"(?:dr\.? )?martin luther king,?(?: jr\.?)?(?: birthday)?(?: day)?|mlk(?: jr\.?)?(?: birthday)?(?: day)?",
    ),
    ("presidents day", r"presidents?(?: day)?|washingtons? birthday"),
    ("columbus day", r"indigenous peoples? day"),
    ("winter", r"christmas(?= (?:break|recess|vacation|holidays?))"),
    ("break", r"recess|vacation|holidays?"),
)
"""Names of one and the same, without apostrophes, each with what it is also called."""
