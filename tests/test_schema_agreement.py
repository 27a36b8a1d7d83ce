"""An editor and `check` must say the same of one file: good, or not.

The editor's side reads YAML 1.2 (core schema, 10.3.2) by ruamel.yaml and validates by
jsonschema against draft-07; ours reads by the reader and validates by the models. The
corpus holds no case that needs reckoning (a weekday that is not the date's, a span that
runs backward), since a schema cannot reckon.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import ruamel.yaml
import yaml
from pydantic import ValidationError
from ruamel.yaml.constructor import SafeConstructor
from ruamel.yaml.error import YAMLError

from handbook.problems import Severity
from handbook.schema.handbook import MODELS
from handbook.schema.json_schema import schema_texts, schemas
from handbook.source.yaml_reader import read_yaml

CORPUS = Path(__file__).parent / "schema" / "corpus"


@dataclass(frozen=True, slots=True)
class Case:
    topic: str
    name: str
    text: str
    good: bool


def corpus() -> tuple[Case, ...]:
    cases: list[Case] = []
    for path in sorted(CORPUS.glob("*.yaml")):
        content = yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader)
        for row in content["cases"]:
            text = _changed(content["base"], row.get("from", ""), row.get("to", ""))
            cases.append(Case(path.stem, row["it"], text, row["good"] == "yes"))
    return tuple(cases)


def _changed(base: str, old: str, new: str) -> str:
    if old == "*":
        return new
    assert base.count(old) == 1 or not old, f"{old!r} must stand once in the base"
    return base.replace(old, new) if old else base


CASES = corpus()


class Core(SafeConstructor):
    """YAML 1.2 core has no dates; ruamel.yaml keeps those of 1.1, so they stay text here."""


Core.add_constructor("tag:yaml.org,2002:timestamp", SafeConstructor.construct_yaml_str)


def read_as_editor(text: str) -> Any:
    reader = ruamel.yaml.YAML(typ="safe", pure=True)
    reader.Constructor = Core
    return json.loads(json.dumps(reader.load(text)))  # field names become texts, as in an editor


def editor_says_good(case: Case) -> bool:
    try:
        data = read_as_editor(case.text)
    except YAMLError:
        return False
    return editor(case.topic).is_valid(data)


@cache
def editor(topic: str) -> jsonschema.Draft7Validator:
    return jsonschema.Draft7Validator(schemas()[topic])


def check_says_good(case: Case) -> bool:
    file = read_yaml(f"{case.topic}.yaml", case.text.encode())
    if any(problem.severity is Severity.ERROR for problem in file.problems):
        return False
    try:
        MODELS[case.topic].model_validate(file.data)
    except ValidationError:
        return False
    return True


def test_the_corpus_is_broad() -> None:
    assert len(CASES) >= 60
    assert {case.topic for case in CASES} == set(MODELS)
    assert len({(case.topic, case.name) for case in CASES}) == len(CASES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.topic}: {case.name}")
def test_editor_and_check_agree(case: Case) -> None:
    assert (check_says_good(case), editor_says_good(case)) == (case.good, case.good)


@pytest.mark.parametrize("topic", MODELS)
def test_each_schema_is_valid_draft_07(topic: str) -> None:
    schema = schemas()[topic]
    assert schema["$schema"] == "http://json-schema.org/draft-07/schema#"
    jsonschema.Draft7Validator.check_schema(schema)
    assert "$defs" not in json.dumps(schema)


@pytest.mark.parametrize("topic", MODELS)
def test_every_field_has_hover_help_and_private_is_allowed_in_every_entry(topic: str) -> None:
    schema = schemas()[topic]
    entries = [part for part in (schema, *schema["definitions"].values()) if part.get("properties")]
    assert entries
    for entry in entries:
        assert "private" in entry["properties"]
        for name, field in entry["properties"].items():
            assert field["description"].strip(), name


def test_texts_are_the_same_on_every_run() -> None:
    assert schema_texts() == schema_texts()
    assert all(text.endswith("}\n") for text in schema_texts().values())
    assert {topic: json.loads(text) for topic, text in schema_texts().items()} == schemas()
