"""What is under `private` is told in the terminal alone, however broken the file is there."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.pipeline import load_plan
from handbook.report import report_github, report_json, report_text
from handbook.serving.problem_page import problem_page

SECRET = "zqxsecret"
BROKEN = (
    'private: "has zqxsecret',
    "private: 'has zqxsecret\nand so: on",
    "private: has zqxsecret: a lot",
    "private: first\n  zqxsecret: yes: no",
    "private: @zqxsecret",
    "private: `zqxsecret`",
    "private: %zqxsecret",
    "private: [one, zqxsecret",
    "private: {a: zqxsecret",
    "private: zqxsecret]: }",
    "private: &mark zqxsecret",
    "private: !kind zqxsecret",
    "private: *zqxsecret",
    "private: 'one' zqxsecret",
    'private: "a \\zqxsecret"',
    "private:\n\tzqxsecret",
    "private:\n\tone: zqxsecret",
    "private: |\n   first\n  zqxsecret",
    "private: >\n  zqxsecret\n next zqxsecret",
    "private: one\nzqxsecret and more",
    "private: one,\nzqxsecret, and: more",
    "private: \x07zqxsecret",
    "private: zqx\u200bzqxsecret",
    "private:\u00a0zqxsecret",
    "private: “zqxsecret”",
    "private: a #zqxsecret",
    "private:zqxsecret",
    "private zqxsecret",
    "Private: zqxsecret",
    "privat: zqxsecret",
    "privat: 'zqxsecret' and",
    "private notes: zqxsecret",
    "privat:\n  name: zqxsecret\n  - x",
    "private: {one: zqxsecret, two: [}",
    "private: - zqxsecret",
    "private:\n- one\n- zqxsecret: two: three",
    "private:\n  - one\n - zqxsecret",
    "private: ? zqxsecret",
    "private: | zqxsecret",
    "private: zqxsecret\nprivate: zqxsecret",
    "private: zqxsecret\n  private: [zqxsecret",
    "---\nprivate: zqxsecret: x",
    "!!str private: zqxsecret: x",
    "!!str private: zqxsecret",
    "!own private:\n  - zqxsecret: [",
    "&mark private: zqxsecret: x",
    "? private\n: zqxsecret: [",
    "? private\n:\n  zqxsecret: [",
    "? private\n: zqxsecret",
    '"pri\\u0076ate": zqxsecret: x',
    '"\\x70rivate": zqxsecret: x',
    '"pri\\u0076ate":\n  - zqxsecret: [',
    "? |-\n  private\n: zqxsecret\u00a0 and",
    "? |-\n  private\n: 'zqxsecret'  #x",
    "private:\nzqxsecret drives: ask her",
    "private:\nzqxsecret: ask her",
    "private: |\nzqxsecret: ask her",
    "private: x\nAsk zqxsecret: who drives",
    "private: x\nAsk her\nAnd zqxsecret: who drives",
    "name: x private: zqxsecret",
    "name: x, private notes: zqxsecret",
)


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("band") / "content"
    write_starter(folder, *starter_dates(date(2026, 11, 25)))
    return folder


def told(content: Path, name: str, broken: bytes) -> tuple[str, ...]:
    """Break a file, and give what the browser, programs and the terminal are told."""
    file = content / name
    whole = file.read_bytes()
    file.write_bytes(broken)
    try:
        outcome = load_plan(content)
    finally:
        file.write_bytes(whole)
    problems, sources = outcome.problems, outcome.sources
    return (
        problem_page("content", problems, sources).decode(),
        report_json(problems, sources),
        report_github(problems, sources),
        report_text(problems, sources),
    )


@pytest.mark.parametrize("entry", BROKEN)
@pytest.mark.parametrize("where", ["end", "front", "inside"])
def test_no_form_of_a_private_line_is_shown(content: Path, entry: str, where: str) -> None:
    text = (content / "program.yaml").read_text(encoding="utf-8")
    if where == "front":
        text = f"{entry}\n{text}"
    elif where == "end":
        text = f"{text}{entry}\n"
    else:
        inside = entry.replace("\n", "\n    ")
        text = text.replace("ensembles:\n", f"ensembles:\n  - id: odd\n    {inside}\n", 1)
    page, *programs, _ = told(content, "program.yaml", text.encode())
    assert SECRET not in page
    assert not any(SECRET in one for one in programs)


def test_a_line_that_a_private_field_shares_is_not_shown(content: Path) -> None:
    text = (content / "program.yaml").read_text(encoding="utf-8")
    entry = '  - {? "pri\\\n    vate" : zqxsecret, id: odd, odd: x}\n'
    page, *_ = told(
        content, "program.yaml", text.replace("ensembles:\n", f"ensembles:\n{entry}").encode()
    )
    assert "program.yaml" in page
    assert SECRET not in page


def test_the_place_is_told_and_the_terminal_tells_all(content: Path) -> None:
    text = (content / "program.yaml").read_text(encoding="utf-8")
    line = len(text.splitlines()) + 1
    page, json, github, terminal = told(
        content, "program.yaml", f"{text}private: has zqxsecret: a lot\n".encode()
    )
    assert SECRET in terminal
    assert f"program.yaml</span>, line {line}" in page
    assert "something is to be mended under <code>private</code>" in page
    assert f'"line": {line}' in json
    assert f"line={line}," in github


def test_a_misspelt_name_is_told_without_what_follows_it(content: Path) -> None:
    text = (content / "program.yaml").read_text(encoding="utf-8")
    page, *_ = told(content, "program.yaml", f"{text}privat: zqxsecret\n".encode())
    assert "<code>privat</code>" in page
    assert SECRET not in page


def test_lines_that_are_not_private_are_shown(content: Path) -> None:
    text = (content / "program.yaml").read_text(encoding="utf-8")
    page, *_ = told(content, "program.yaml", f"private: one\n{text}gaol: zqxpublic\n".encode())
    assert "<mark>gaol</mark>: zqxpublic" in page


@pytest.mark.parametrize(
    "log",
    [
        "date: 2026-10-01\nensemble: zqxsecret\n",
        "date: zqxsecret\nensemble: band\n",
        "date: 2026-10-01\nensemble: band\nnote: [zqxsecret\n",
        "date: 2026-10-01\nensemble: band\nnote: zqxsecret\nzqxsecret: 3\n",
    ],
)
def test_nothing_of_a_log_is_shown_but_in_the_terminal(content: Path, log: str) -> None:
    (cycle,) = (content / "cycles").iterdir()
    file = cycle / "log" / "first.yaml"
    file.parent.mkdir(exist_ok=True)
    file.write_text("", encoding="utf-8")
    name = file.relative_to(content).as_posix()
    page, *programs, terminal = told(content, name, log.encode())
    file.unlink()
    assert SECRET in terminal
    assert SECRET not in page
    assert not any(SECRET in one for one in programs)


def test_what_follows_from_a_log_is_told_without_it(content: Path) -> None:
    plan = load_plan(content).plan
    assert plan is not None
    band = plan.cycles[0].ensembles[0]
    day, passage = band.rehearsals[-3].rehearsal.day, band.pieces[0].passages[0].item
    file = f"cycles/{plan.cycles[0].id}/log/first.yaml"
    (content / file).parent.mkdir(exist_ok=True)
    (content / file).write_text("", encoding="utf-8")
    slow = passage.goal.at(23)
    log = (
        f"date: {day}\nensemble: {band.band}\nreached: [{{passage: {passage.id}, tempo: {slow}}}]\n"
    )
    page, *programs, terminal = told(content, file, log.encode())
    (content / file).unlink()
    assert f"`{passage.id}` was at {slow} on" in terminal
    assert str(slow) not in page
    assert not any(str(slow) in one for one in programs)


@pytest.mark.parametrize(
    "line",
    [
        "odd: x # zqxsecret",
        "odd: x\t# zqxsecret",
        "odd: it's x # it's zqxsecret",
        "odd: [x # zqxsecret",
        "# zqxsecret: [\x07",
    ],
)
def test_a_remark_is_not_on_the_page(content: Path, line: str) -> None:
    text = (content / "program.yaml").read_text(encoding="utf-8")
    page, *programs, _ = told(content, "program.yaml", f"{text}{line}\n".encode())
    assert "program.yaml" in page
    assert not any(SECRET in one for one in (page, *programs))


def test_on_a_free_page_that_sign_begins_no_remark(content: Path) -> None:
    place = next((content / "pages").glob("*.md"))
    text = "# Title\n\nRoom # 3 is ours. Private: one\n"
    page, *_ = told(content, place.relative_to(content).as_posix(), text.encode())
    assert "Room # 3 is ours. " in page
