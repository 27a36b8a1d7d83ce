"""Reading the ledger of a content folder: nothing but its own file, and whatever is wrong is told."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest

from handbook.domain.history import NO_HISTORY
from handbook.ledger import read_ledger
from handbook.ledger.codec import Proof, encode
from handbook.ledger.places import COMING, LEDGER
from handbook.ledger.reading import MOST_BYTES
from handbook.problems import Severity
from tests.content_folders import write_folder
from tests.ledger.histories import HISTORY, digest


def code(content: Path) -> str:
    read = read_ledger(content)
    assert read.history == NO_HISTORY
    (problem,) = read.problems
    assert problem.severity is Severity.WARNING
    return problem.code


def test_without_a_ledger_there_is_no_history_and_no_problem(tmp_path: Path) -> None:
    assert read_ledger(tmp_path) == read_ledger(tmp_path / "nowhere")
    assert read_ledger(tmp_path).history == NO_HISTORY
    assert read_ledger(tmp_path).problems == ()
    (tmp_path / ".published").mkdir()
    assert read_ledger(tmp_path).problems == ()


def test_a_ledger_is_read(tmp_path: Path) -> None:
    write_folder(tmp_path, {LEDGER: encode(HISTORY)})
    assert read_ledger(tmp_path).history == HISTORY


def test_a_damaged_a_newer_and_a_huge_one_are_told(tmp_path: Path) -> None:
    path = write_folder(tmp_path, {LEDGER: encode(HISTORY)[:100]}) / LEDGER
    assert code(tmp_path) == "damaged-ledger"
    path.write_bytes(encode(HISTORY).replace(b'"format": 2', b'"format": 3'))
    assert code(tmp_path) == "newer-ledger"
    os.truncate(path, MOST_BYTES + 1)
    assert code(tmp_path) == "damaged-ledger"


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_no_link_is_followed_and_no_pipe_waited_for(tmp_path: Path) -> None:
    elsewhere = write_folder(tmp_path / "elsewhere", {LEDGER: encode(HISTORY)})
    content = tmp_path / "content"
    content.mkdir()
    (content / ".published").symlink_to(elsewhere / ".published")
    assert code(content) == "linked-ledger"
    (content / ".published").unlink()
    (content / ".published").mkdir()
    (content / LEDGER).symlink_to(elsewhere / LEDGER)
    assert code(content) == "linked-ledger"
    (content / LEDGER).unlink()
    os.mkfifo(content / LEDGER)
    assert code(content) == "linked-ledger"
    (content / LEDGER).unlink()
    (content / LEDGER).mkdir()
    assert code(content) == "linked-ledger"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="needs permissions")
def test_one_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    path = write_folder(tmp_path, {LEDGER: encode(HISTORY)}) / LEDGER
    path.chmod(0)
    assert code(tmp_path) == "damaged-ledger"


def test_of_a_publication_that_was_cut_off_the_site_decides(tmp_path: Path) -> None:
    before = replace(HISTORY, publications=HISTORY.publications[:1])
    coming = encode(HISTORY, Proof("../site/.handbook-site", digest("the marker")))
    content = write_folder(tmp_path / "content", {LEDGER: encode(before), COMING: coming})
    assert read_ledger(content).history == before
    write_folder(tmp_path, {"site/.handbook-site": "the marker before"})
    assert read_ledger(content).history == before
    write_folder(tmp_path, {"site/.handbook-site": "the marker"})
    assert read_ledger(content).history == HISTORY
    (content / LEDGER).write_bytes(b"half")  # which the mending would put right
    assert read_ledger(content).history == HISTORY


def test_a_publication_cut_off_while_its_ledger_was_written_counts_for_nothing(
    tmp_path: Path,
) -> None:
    whole = encode(HISTORY, Proof("../site/.handbook-site", digest("the marker")))
    write_folder(tmp_path, {"site/.handbook-site": "the marker"})
    content = write_folder(tmp_path / "content", {LEDGER: encode(HISTORY), COMING: whole[:200]})
    assert read_ledger(content).history == HISTORY
    assert read_ledger(content).problems == ()
