"""What a program says once for all of its cycles and concerts, put into each as if it stood there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from handbook.loader.contents import Contents
from handbook.loader.validation_errors import ENTRY_WANTED, MISSING_FIELD
from handbook.problems import Address, Problem
from handbook.records import dataclass
from handbook.schema.concert import UsualConcert
from handbook.schema.cycle import Cycle, Usual
from handbook.source.names import listed
from handbook.source.nodes import Data
from handbook.source.source_map import Homes, home_of
from handbook.source.yaml_reader import YamlFile, read_yaml

USUAL, _STAGES, _CONCERT = "usual", "stages", "concert"
_MARK = USUAL.encode()
_OF_CYCLES = tuple(name for name in Usual.model_fields if name in Cycle.model_fields)
_OF_CONCERTS = tuple(UsualConcert.model_fields)
_DOWNBEAT, _WITH_DOWNBEAT = "downbeat", frozenset({"doors"})
"""Hours that hold only with the usual hour of the music."""
_ONE_BY_ONE = frozenset({"slots", "allowances"})  # filled up field by field
_UNSURE = frozenset({MISSING_FIELD, ENTRY_WANTED})
_A_STAGE = 3  # steps of the address of an entry


@dataclass(frozen=True, slots=True)
class UsualData:
    """The plain data of what is usual, with its file; `known` is False if that cannot be read."""

    file: str
    data: Mapping[str, Data]
    known: bool = True

    @property
    def stages(self) -> Mapping[str, tuple[int, Mapping[str, Data]]]:
        """The usual stages with their places, by id."""
        entries = self.data.get(_STAGES)
        return {
            name: (place, entry)
            for place, entry in enumerate(entries if isinstance(entries, list) else ())
            if isinstance(entry, dict) and isinstance(name := entry.get("id"), str)
        }


def usual_of(contents: Contents) -> UsualData | None:
    """Read what is usual in a program, if its file says it."""
    for file in contents.found.of("program"):
        raw = contents.raw[file.name]
        if raw is not None and _MARK in raw:
            return usual_in(read_yaml(file.name, raw))
    return None


def usual_in(program: YamlFile) -> UsualData | None:
    """Find what is usual in a program that was read."""
    if not isinstance(program.data, dict):
        told = any(USUAL in line for line in program.lines)
        return UsualData(program.file, {}, known=False) if told else None
    found = program.data.get(USUAL)
    return UsualData(program.file, found) if isinstance(found, dict) else None


def with_usual(file: YamlFile, topic: str, usual: UsualData | None) -> tuple[YamlFile, Homes]:
    """Fill a cycle or a concert (its `topic`) up with what is usual and what it does not say itself."""
    if usual is None or not isinstance(file.data, dict):
        return file, {}
    data, homes = dict(file.data), dict[Address, Address]()
    fields, said, where = _of_topic(topic, usual)
    for name in fields:
        if name in _WITH_DOWNBEAT and file.data.get(_DOWNBEAT) is not None:
            continue
        here, there = (file.file, name), (*where, name)
        own, common = data.get(name), said.get(name)
        if name == _STAGES and isinstance(own, list):
            data[name] = [
                _stage(one, usual, (*here, place), homes) for place, one in enumerate(own)
            ]
        elif own is None and common is not None:
            data[name] = common
            homes[here] = there
        elif name in _ONE_BY_ONE and isinstance(own, dict) and isinstance(common, dict):
            data[name] = _filled(own, common, here, there, homes)
    return replace(file, data=data), homes


def _of_topic(topic: str, usual: UsualData) -> tuple[Sequence[str], Mapping[str, Data], Address]:
    """Give the fields that may be usual in a file, what the program says of them, and where."""
    if topic != _CONCERT:
        return _OF_CYCLES, usual.data, (usual.file, USUAL)
    said = usual.data.get(_CONCERT)
    return _OF_CONCERTS, said if isinstance(said, dict) else {}, (usual.file, USUAL, _CONCERT)


def _stage(own: Data, usual: UsualData, here: Address, homes: dict[Address, Address]) -> Data:
    """Take from the usual stage of the same id what an entry does not say; an id alone says nothing."""
    entry: Data = {"id": own} if isinstance(own, str) else own
    name = entry.get("id") if isinstance(entry, dict) else None
    if not isinstance(entry, dict) or not isinstance(name, str) or name not in usual.stages:
        return own
    place, common = usual.stages[name]
    return _filled(entry, common, here, (usual.file, USUAL, _STAGES, place), homes)


def _filled(
    own: Mapping[str, Data],
    common: Mapping[str, Data],
    here: Address,
    there: Address,
    homes: dict[Address, Address],
) -> Data:
    taken = {name: value for name, value in common.items() if own.get(name) is None}
    homes.update({(*here, name): (*there, name) for name in taken})
    return {**own, **taken}


def of_cycle_alone(
    refused: Iterable[Problem], usual: UsualData | None, homes: Homes
) -> tuple[Problem, ...]:
    """Leave out what is refused of the program's own lines, and say which stages are usual.

    The program's lines are refused where they stand.
    """
    if usual is None:
        return tuple(refused)
    return tuple(_alone(refused, usual, homes))


def _alone(refused: Iterable[Problem], usual: UsualData, homes: Homes) -> Iterator[Problem]:
    for problem in refused:
        if not usual.known and problem.code in _UNSURE:
            continue  # what is missing may stand where nothing could be read
        if home_of(problem.address, homes) != problem.address and problem.code != MISSING_FIELD:
            continue
        of_stage = problem.address[1:2] == (_STAGES,) and len(problem.address) == _A_STAGE
        if of_stage and problem.code in _UNSURE and usual.stages:
            yield replace(problem, hint=f"{problem.hint}; or {_which(list(usual.stages))}")
        else:
            yield problem


def _which(names: Sequence[str]) -> str:
    return f"write the id of a stage that program.yaml has under usual: {listed(names, 'or')}"
