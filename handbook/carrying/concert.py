"""The skeleton of the next concert: the hours, places and lists of the last one, and no pieces."""

from __future__ import annotations

from datetime import date

import yaml

from handbook.carrying.model import TO_DO, CannotCarryError
from handbook.carrying.texts import cutting, modeline, remarked, says_a_day
from handbook.domain.school_year import part_of_year
from handbook.domain.values.dates import dated
from handbook.loader.contents import Contents
from handbook.source.cutting import Cutting
from handbook.source.yaml_reader import read_yaml

CARRIED = frozenset(
    [
        "downbeat",
        "venue",
        "program",
        "gap_seconds",
        "changeover",
        "attire",
        "attire_note",
        "attire_for",
        "bring",
        "bring_for",
        "pick_up",
        "pick_up_place",
        "pick_up_rules",
        "doors",
        "opens",
        "closes",
        "evening_ends",
        "during_school",
        "allowances",
        "seating",
        "lifting",
        "calls",
        "before",
        "after",
        "rain",
        "travel",
        "equipment",
        "goes_back",
        "carriers",
        "crew",
        "care",
    ]
)
"""The fields of a concert's file that are the same in most concerts of a program."""
LEFT_OUT = {
    "about": "the sentence for families about the concert",
    "thanks": "whom the program thanks",
    "guests": "the guests",
    "closing": "what comes after the last piece",
    "bookings": "the bookings of rooms",
    "on_the_day": "whom to call on the day, with the number",
    "not_playing": "who does not play",
    "private": "the private note on the concert",
}
"""Those of one concert alone, as they are called."""
_OF_A_TURN = frozenset({"joined_by", "first_note"})


def concert_skeleton(contents: Contents, file: str, day: date, left_out: list[str]) -> str:
    """Write the next concert's file from the last one's; adds to what was left out. Raises CannotCarryError."""
    read = read_yaml(file, contents.raw[file] or b"")
    text = cutting(read)
    fields = {key.value: value for key, value in text.root.value}
    gone = fields.keys() - CARRIED
    left_out += [said for name, said in LEFT_OUT.items() if name in fields]
    for name in CARRIED - {"program"}:
        if name in fields and says_a_day(fields[name]):
            gone |= {name}
            left_out.append(f"`{name}` of the concert, since it names a day")
    text.take_out(text.root, gone)
    remarked(text, fields["program"], f"{TO_DO}: this text names a day of the last cycle")
    _empty_turns(text, fields["program"], file)
    head = (
        f"# The next concert, made of {file} by `handbook next cycle`.\n"
        f"# {TO_DO}: read every line, since hours, places and lists are those of last time.\n\n"
        f"# {TO_DO}: what it is called\n"
        f'name: "{part_of_year(day).capitalize()} concert"\n'
        f"# {TO_DO}: the day, of which this is only a guess\n"
        f"date: {dated(day)}\n"
    )
    return modeline(read) + head + text.without_head()


def _empty_turns(text: Cutting, program: yaml.Node, file: str) -> None:
    """Take the pieces out of each turn, and the turns of guests out of the program."""
    assert isinstance(program, yaml.SequenceNode)
    turns = [{key.value: value for key, value in turn.value} for turn in program.value]
    guests = [place for place, turn in enumerate(turns) if "ensemble" not in turn]
    if len(guests) == len(turns):
        raise CannotCarryError(f"no ensemble of yours plays at the concert in {file}")
    for place, (turn, node) in enumerate(zip(turns, program.value, strict=True)):
        if place in guests:
            continue
        if "pieces" in turn:
            text.put_in(node, "pieces", "[]")
            key = next(key for key, _ in node.value if key.value == "pieces")
            text.remark(key, f"{TO_DO}: the ids of its pieces, in the order they are played")
        text.take_out(node, _OF_A_TURN)
    if guests:
        text.take_out_items(program, guests)
