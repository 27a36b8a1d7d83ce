"""Whatever is shipped or required at run time is named with its license."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import metadata
from pathlib import Path

import pytest
from packaging.licenses import canonicalize_license_expression
from packaging.requirements import Requirement

CHECKOUT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((CHECKOUT / "pyproject.toml").read_text("utf-8"))["project"]
ASSETS = CHECKOUT / "site_templates" / "assets"
FACES = CHECKOUT / "site_templates" / "faces"
LISTED = {path for pattern in PROJECT["license-files"] for path in CHECKOUT.glob(pattern)}
# The license a text is under, told by words that only that text has.
TELLING = {"OFL-1.1": "SIL Open Font License, Version 1.1", "MIT": "Permission is hereby granted"}
OWN_WORDS = ("LICENSE", "LICENCE", "COPYING", "OFL", "NOTICE")


def test_each_license_file_goes_into_the_wheel() -> None:
    shipped = ("handbook", "site_templates")
    files = {
        path
        for folder in shipped
        for path in (CHECKOUT / folder).rglob("*")
        if path.is_file()
        and path.suffix != ".j2"
        and any(word in path.stem.upper() for word in OWN_WORDS)
    }
    assert len(files) > 4
    assert files | {CHECKOUT / "LICENSE"} == LISTED


@pytest.mark.parametrize(
    "asset", [*ASSETS.rglob("*.woff2"), *ASSETS.rglob("vendor/*.js")], ids=lambda path: path.name
)
def test_each_asset_of_others_has_its_license_beside_it(asset: Path) -> None:
    # One text serves the signs and the accidentals' weights: it is named after the font family.
    family = {"music-signs": "noto-music"}.get(asset.stem, re.sub(r"-\d+$", "", asset.stem))
    assert {f"{family}-OFL.txt", f"{family}-LICENSE.txt"} & {path.name for path in LISTED}


@pytest.mark.parametrize("face", [*FACES.rglob("*.woff2")], ids=lambda path: path.name)
def test_each_face_has_its_license_in_the_wheel(face: Path) -> None:
    assert f"{face.name.partition('.')[0]}-OFL.txt" in {path.name for path in LISTED}


def test_the_expression_names_what_the_files_say() -> None:
    expression = canonicalize_license_expression(PROJECT["license"])
    said = set()
    for path in LISTED:
        text = path.read_text("utf-8")
        (license_name,) = [name for name, words in TELLING.items() if words in text][:1]
        said.add(license_name)
    assert set(expression.split(" AND ")) == said


@pytest.mark.parametrize("name", [Requirement(text).name for text in PROJECT["dependencies"]])
def test_each_run_time_requirement_is_in_the_readme_with_its_license(name: str) -> None:
    rows = (CHECKOUT / "README.md").read_text("utf-8").splitlines()
    (row,) = [row for row in rows if row.startswith("|") and f"`{name}`" in row.split("|")[1]]
    about = metadata(name)
    said = about["License-Expression"] or about["License"] or ""
    said += "".join(about.get_all("Classifier") or [])
    families = {word for word in ("BSD", "MIT", "Apache", "LGPL") if word in said}
    assert families
    assert [one for one in families if one not in row.split("|")[3]] == []


def test_the_index_shows_no_picture_or_page_that_it_does_not_have() -> None:
    assert "](" not in PROJECT["readme"]["text"]


def test_each_file_that_the_readme_points_to_is_there() -> None:
    links = re.findall(r"\]\(([^)]+)\)", (CHECKOUT / "README.md").read_text("utf-8"))
    own = [link for link in links if not link.startswith("https:")]
    assert own
    for link in own:
        assert (CHECKOUT / link).is_file(), link
        assert not link.startswith("."), f"{link} lies in a hidden folder"
