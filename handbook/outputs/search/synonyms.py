"""Words that readers type for what a page calls otherwise, put in when the index is made.

English and Spanish as families and players speak; common practice, no source.
"""

from __future__ import annotations

import re

# What stands in a title or its keywords, and what may be typed for it. A row is there
# only where the typed word stands nowhere on the page that answers it.
_GROUPS: tuple[tuple[str, str], ...] = (
    ("attire|clothes", "wear outfit dress code shirt ropa vestir vestimenta"),
    ("concert", "performance show recital concierto"),
    (
        "be at the bus|ready in the room|call time",
        "call time arrive arrival what time do we have to be there hora de llegada llegar",
    ),
    ("pick-up", "pickup pick up ride collect recoger"),
    ("ticket|tickets", "tickets ticket admission cost price free entradas boletos"),
    ("restroom|restrooms", "bathroom bathrooms toilet toilets baño baños"),
    ("bus|buses", "autobus autobuses bus school bus"),
    ("no school", "vacaciones vacation holiday break day off closed dia libre sin clases"),
    ("school is out|early release|early dismissal", "early dismissal half day salida temprano"),
    ("parking", "park car lot drive estacionamiento"),
    ("bring", "take pack need traer llevar"),
    ("attendance", "absent absence excused late tardy sick ill conflict"),
    ("miss|missed", "absent absence sick ill"),
    ("asistencia|faltas", "faltar ausente enfermo"),
    ("rehearsal|rehearsals", "class ensayo"),
    ("hearing", "ear ears earplugs loud noise"),
    ("oido|oído", "oidos tapones ruido"),
    ("instrument care", "clean cleaning repair broken stuck maintenance oil reed"),
    ("cuidado del instrumento", "limpiar reparar roto"),
    ("practice at home|practise at home", "practise home homework sore pain minutes"),
    ("privacy", "cookies private names photos"),
    ("manners", "etiquette behaviour behavior photos video clap"),
    ("for families", "parents contact email phone number office padres familias contacto"),
    ("calendar", "dates schedule when calendario fechas"),
    ("fundamentals", "warmup exercises basics fundamentos"),
    ("words", "glossary dictionary palabras"),
    ("breathing", "breath breathe air"),
    ("tone", "sound long note"),
    ("tuning", "tune intonation in tune flat sharp"),
    ("sight-reading", "sightreading sight reading"),
    ("articulation", "tongue tonguing"),
    ("sectional|sectionals", "section"),
    ("dress rehearsal", "run-through ensayo general"),
    ("percussion|snare drum|bass drum|drum set", "drums drum"),
    ("glockenspiel", "bells bell kit orchestra bells"),
    ("click", "metronome beat"),
    ("drone", "tuner tune in tune"),
    ("horn", "french horn"),
    ("saxophone", "sax"),
    ("euphonium", "baritone"),
    ("fermata", "hold pause birdseye"),
    ("crescendo", "louder hairpin"),
    ("decrescendo", "softer diminuendo hairpin"),
    ("accelerando", "faster speed up"),
    ("ritardando", "slower slow down rit"),
)
_PATTERNS = tuple(
    (re.compile(rf"(?<!\w)(?:{trigger})(?!\w)", re.IGNORECASE), added) for trigger, added in _GROUPS
)
_TRIGGERS = tuple(
    (trigger, group)
    for group, (triggers, _) in enumerate(_GROUPS)
    for trigger in triggers.split("|")
)


def synonyms(text: str) -> str:
    """Collect what may be typed for the words of a title and its keywords."""
    small = text.lower()  # most texts hold few of the triggers, which is soon seen
    likely = sorted({group for trigger, group in _TRIGGERS if trigger in small})
    found = (_PATTERNS[group] for group in likely)
    return " ".join(added for pattern, added in found if pattern.search(text))
