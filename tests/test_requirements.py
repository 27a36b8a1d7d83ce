"""The pinned versions serve what pyproject.toml asks for, on the oldest Python that it names.

How requirements and versions compare is packaging's, the reference library for PEP 440 and 508.
"""

from __future__ import annotations

import tomllib
from importlib.metadata import distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

CHECKOUT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((CHECKOUT / "pyproject.toml").read_text("utf-8"))
REQUIRED = [
    *PROJECT["build-system"]["requires"],
    *PROJECT["project"]["dependencies"],
    *PROJECT["project"]["optional-dependencies"]["dev"],
]
OLDEST = "3.11.0"


def read_pins() -> dict[str, str]:
    lines = (CHECKOUT / ".ci" / "constraints.txt").read_text("utf-8").splitlines()
    pins: dict[str, str] = {}
    for line in lines:
        if line and not line.startswith("#"):
            requirement = Requirement(line)
            (exact,) = requirement.specifier
            assert exact.operator == "==", line
            pins[canonicalize_name(requirement.name)] = exact.version
    return pins


@pytest.mark.parametrize("text", REQUIRED)
def test_each_requirement_is_pinned_within_its_bounds(text: str) -> None:
    requirement = Requirement(text)
    assert requirement.specifier.contains(read_pins()[canonicalize_name(requirement.name)])


def test_each_pinned_version_is_made_for_the_oldest_python() -> None:
    assert SpecifierSet(PROJECT["project"]["requires-python"]).contains(OLDEST)
    pins = read_pins()
    checked = 0
    for found in distributions():
        if pins.get(canonicalize_name(found.metadata["Name"])) == found.version:
            wanted = SpecifierSet(found.metadata["Requires-Python"] or "")
            assert wanted.contains(OLDEST), f"{found.metadata['Name']} needs Python {wanted}"
            checked += 1
    assert checked > len(pins) / 2, "another environment than the pinned one"


def test_what_is_installed_for_a_requirement_is_pinned_too() -> None:
    """One level down: what the requirements require themselves."""
    pins = read_pins()
    for text in REQUIRED:
        name = Requirement(text).name
        for found in distributions(name=name):
            for line in found.requires or ():
                needed = Requirement(line)
                if needed.marker is None or needed.marker.evaluate({"extra": ""}):
                    assert canonicalize_name(needed.name) in pins, f"{name} needs {needed.name}"
