"""Publications with numbers: the site, the ledger, and the way back; common practice, no source."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from handbook.ledger import read_ledger
from handbook.ledger.places import LEDGER
from handbook.publishing import NotPublishedError, RefusedTargetError, publish, put_right, workplace
from handbook.publishing.contents import remove_site
from handbook.publishing.hosts import carry
from handbook.publishing.publication import publish_numbered, put_back
from handbook.publishing.standing import standing_site
from tests.published_sites import finished_file, holds, snapshot
from tests.publishing.numbered import names, next_history, publish_version, stands, version


def undo(work: Path, *, anyway: bool = False) -> int:
    return put_back(work / "site", content=work / "content", anyway=anyway).undone.number


@pytest.fixture
def work(tmp_path: Path) -> Path:
    """A folder in which five sites were published, one after the other."""
    for number in range(1, 6):
        publish_version(tmp_path, number)
    return tmp_path


def test_a_publication_leaves_site_and_ledger(work: Path) -> None:
    assert stands(work, 5)
    assert [one.number for one in read_ledger(work / "content").history.publications] == [
        *range(1, 6)
    ]
    assert (work / ".handbook" / "site" / "ledger.json").read_bytes() == (
        work / "content" / ".published" / "ledger.json"
    ).read_bytes().replace(_proof(work), b"")


def _proof(work: Path) -> bytes:
    raw = (work / "content" / LEDGER).read_bytes()
    return next(line for line in raw.splitlines(keepends=True) if line.startswith(b'"proof"'))


def test_the_three_sites_before_are_kept(work: Path) -> None:
    kept = work / ".handbook" / "site" / "kept"
    assert names(kept) == {"3", "4", "5"}
    same = kept / "5" / "site" / "fall" / "index.html"
    assert same.stat().st_mtime_ns == (work / "site" / "fall" / "index.html").stat().st_mtime_ns
    assert stat.S_IMODE(kept.stat().st_mode) & 0o077 == 0 or os.name == "nt"
    before = kept / "5" / "site" / "index.html"
    assert before.read_bytes() == b"<p>Site 4</p>"


def test_undone_twice_it_goes_two_back_byte_for_byte(tmp_path: Path) -> None:
    seen = {}
    for number in range(1, 6):
        publish_version(tmp_path, number)
        seen[number] = snapshot(tmp_path / "site")
        seen[number].pop(".handbook-site")
    assert undo(tmp_path) == 5
    assert stands(tmp_path, 4)
    assert undo(tmp_path) == 4
    assert stands(tmp_path, 3)
    found = snapshot(tmp_path / "site")
    found.pop(".handbook-site")
    assert found == seen[3]
    history = read_ledger(tmp_path / "content").history
    assert [one.number for one in history.publications if one.undone] == [4, 5]
    assert history.next_number == 6


def test_after_an_undo_the_next_publication_goes_on_counting(work: Path) -> None:
    undo(work)
    publish_version(work, 7)
    assert stands(work, 7)
    assert [one.number for one in read_ledger(work / "content").history.standing] == [6, 4, 3, 2, 1]
    assert undo(work) == 6
    assert stands(work, 4)


def test_with_nothing_to_go_back_to_it_says_so_and_leaves_all_as_it_is(tmp_path: Path) -> None:
    with pytest.raises(NotPublishedError, match="nothing is published yet"):
        undo(tmp_path)
    publish_version(tmp_path, 1)
    with pytest.raises(NotPublishedError, match="nothing to go back to"):
        undo(tmp_path)
    assert stands(tmp_path, 1)


def changed_by_hand(work: Path) -> Path:
    page = work / "site" / "index.html"
    page.unlink()
    page.write_bytes(b"<p>Changed by hand</p>")
    return page


def test_three_can_be_undone_and_no_more(work: Path) -> None:
    assert [undo(work) for _ in range(3)] == [5, 4, 3]
    with pytest.raises(NotPublishedError, match="nothing to go back to"):
        undo(work)
    assert stands(work, 2)


def test_a_site_that_was_changed_by_hand_is_not_taken_back_unless_it_is_said_so(work: Path) -> None:
    page = changed_by_hand(work)
    with pytest.raises(NotPublishedError) as refused:
        undo(work)
    assert refused.value.findings == ("index.html",)
    assert page.read_bytes() == b"<p>Changed by hand</p>"
    assert undo(work, anyway=True) == 5
    assert stands(work, 4)


def change_in_place(site: Path) -> None:
    """Add to each page, as a tool of a web host may do; no name of a page elsewhere may show it."""
    for page in site.rglob("index.html"):
        assert page.stat().st_nlink == 1
        with page.open("ab") as opened:
            opened.write(b"<!-- counted -->")


def test_what_is_changed_in_place_leaves_all_that_is_kept_as_it_was(work: Path) -> None:
    kept = work / ".handbook" / "site" / "kept"
    publish(version(9), work / "site", content=work / "content")  # a build links what it can
    publish_version(work, 6)
    before = snapshot(kept)
    change_in_place(work / "site")
    assert snapshot(kept) == before
    assert undo(work, anyway=True) == 6
    assert holds(work / "site", version(9))
    change_in_place(work / "site")
    assert undo(work, anyway=True) == 5
    assert stands(work, 4)


def test_of_the_same_site_published_again_a_copy_is_kept(work: Path) -> None:
    publish_version(work, 5)
    change_in_place(work / "site")
    assert undo(work, anyway=True) == 6
    assert stands(work, 5)


def test_a_site_that_shares_bytes_with_a_kept_one_is_written_anew(work: Path) -> None:
    other = work / "other.html"
    os.link(work / "site" / "fall" / "index.html", other)
    publish_version(work, 6)
    with (work / "site" / "fall" / "index.html").open("ab") as opened:
        opened.write(b"<!-- counted -->")
    assert other.read_bytes() == b"<p>The same</p>"


def test_a_build_over_the_published_site_is_not_taken_back_unless_it_is_said_so(work: Path) -> None:
    publish(version(9), work / "site", content=work / "content")
    with pytest.raises(NotPublishedError, match="publication 5"):
        undo(work)
    assert undo(work, anyway=True) == 5
    assert stands(work, 4)


def test_a_kept_site_that_is_not_whole_is_not_put_back(work: Path) -> None:
    kept = work / ".handbook" / "site" / "kept" / "5" / "site"
    (kept / "page-4" / "index.html").unlink()
    with pytest.raises(NotPublishedError, match=r"not whole.*backup.*publish again") as refused:
        undo(work)
    assert str(kept) in str(refused.value)
    assert refused.value.findings == ("page-4/index.html",)
    assert stands(work, 5)
    (kept / "page-4" / "mine.txt").write_text("mine")
    with pytest.raises(NotPublishedError, match="not whole") as refused:
        undo(work)
    assert refused.value.findings == ("page-4/index.html", "page-4/mine.txt")
    assert stands(work, 5)


def test_what_was_changed_by_hand_is_kept_as_it_was(work: Path) -> None:
    page = changed_by_hand(work)
    publish_version(work, 6)
    assert stands(work, 6)
    undo(work)
    assert page.read_bytes() == b"<p>Changed by hand</p>"


def test_two_publications_at_once_do_not_share_a_number(tmp_path: Path) -> None:
    publish_version(tmp_path, 1)
    content = tmp_path / "content"
    before = read_ledger(content).history
    publish_version(tmp_path, 2)
    with pytest.raises(NotPublishedError, match="meanwhile"):
        publish_numbered(
            version(3),
            tmp_path / "site",
            content=content,
            hosts=frozenset(),
            before=before,
            after=next_history(before, version(3), 3),
        )
    assert stands(tmp_path, 2)


def test_in_two_folders_each_goes_back_by_itself(tmp_path: Path) -> None:
    publish_version(tmp_path, 1)
    publish_version(tmp_path, 2)
    publish_version(tmp_path, 3, target="other")
    assert undo(tmp_path) == 2
    history = read_ledger(tmp_path / "content").history
    assert [one.number for one in history.standing] == [3, 1]
    assert history.facts[0].value == "3:00 pm"  # what the other folder tells is still the last word
    with pytest.raises(NotPublishedError, match="nothing to go back to"):
        put_back(tmp_path / "other", content=tmp_path / "content")


def test_the_same_site_again_is_a_publication_all_the_same(tmp_path: Path) -> None:
    publish_version(tmp_path, 1)
    before = (tmp_path / "site" / "index.html").stat().st_mtime_ns
    publish_version(tmp_path, 1)
    assert (tmp_path / "site" / "index.html").stat().st_mtime_ns == before
    assert [one.number for one in read_ledger(tmp_path / "content").history.publications] == [1, 2]
    assert undo(tmp_path) == 2
    assert stands(tmp_path, 1)


def test_a_marker_that_names_files_elsewhere_is_not_believed(tmp_path: Path) -> None:
    publish_version(tmp_path, 1)
    marker = tmp_path / "site" / ".handbook-site"
    with marker.open("a", encoding="utf-8") as lines:
        lines.write("../content/program.yaml\n")
    assert standing_site(tmp_path / "site") is None


def test_where_the_ledger_cannot_be_written_nothing_is_published(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish_version(tmp_path, 1)
    real = os.open

    def opened(path: str | Path, flags: int, mode: int = 0o777) -> int:
        if Path(path).name == "coming.json.part":
            raise OSError(28, os.strerror(28), str(path))
        return real(path, flags, mode)

    with monkeypatch.context() as patch:
        patch.setattr(os, "open", opened)
        with pytest.raises(NotPublishedError, match="written down"):
            publish_version(tmp_path, 2)
    assert stands(tmp_path, 1)
    assert undo_is_refused(tmp_path)


def undo_is_refused(work: Path) -> bool:
    with pytest.raises(NotPublishedError, match="nothing to go back to"):
        undo(work)
    return True


# --- A host's own files --------------------------------------------------------------------

HOSTS = ("CNAME", ".well-known", ".nojekyll")


@pytest.fixture
def hosted(tmp_path: Path) -> Path:
    """A published site into which a host has put its own files since."""
    publish_version(tmp_path, 1, hosts=HOSTS)
    put_hosts(tmp_path / "site")
    return tmp_path


def put_hosts(site: Path) -> None:
    (site / ".well-known" / "empty").mkdir(parents=True)
    (site / "CNAME").write_text("bands.example.org")
    (site / ".nojekyll").write_bytes(b"")
    (site / ".well-known" / "security.txt").write_text("Contact: mailto:office@example.org")


def hosts_of(site: Path) -> dict[str, bytes]:
    return {
        name: held
        for name, held in snapshot(site).items()
        if name.split("/", maxsplit=1)[0] in HOSTS
    }


def test_a_hosts_files_go_along_with_publications_builds_and_back(hosted: Path) -> None:
    site, content = hosted / "site", hosted / "content"
    put = hosts_of(site)
    assert len(put) == 4
    publish_version(hosted, 2, hosts=HOSTS)
    assert hosts_of(site) == put
    assert (site / "index.html").read_bytes() == b"<p>Site 2</p>"
    publish(version(3), site, content=content, hosts=frozenset(HOSTS))
    assert hosts_of(site) == put
    assert put_back(site, content=content, anyway=True).kept == ()
    assert hosts_of(site) == put
    assert (site / "index.html").read_bytes() == b"<p>Site 1</p>"
    assert [path for path in (hosted / ".handbook").rglob("*") if path.name in HOSTS] == []


def test_what_is_not_named_any_more_is_refused_and_not_deleted(hosted: Path) -> None:
    publish_version(hosted, 2, hosts=HOSTS)
    with pytest.raises(RefusedTargetError, match="host_files"):
        publish_version(hosted, 3, hosts=HOSTS[1:])
    assert (hosted / "site" / "CNAME").read_text() == "bands.example.org"


def test_a_folder_with_a_hosts_files_alone_can_take_the_first_site(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    put_hosts(tmp_path / "site")
    put = hosts_of(tmp_path / "site")
    publish_version(tmp_path, 1, hosts=HOSTS)
    assert hosts_of(tmp_path / "site") == put


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_is_not_carried(hosted: Path) -> None:
    (hosted / "site" / ".well-known" / "link").symlink_to(hosted / "content")
    with pytest.raises(RefusedTargetError, match="link"):
        publish_version(hosted, 2, hosts=HOSTS)
    assert (hosted / "site" / "index.html").read_bytes() == b"<p>Site 1</p>"


def test_of_a_hosts_file_only_what_the_new_site_has_too_is_deleted(tmp_path: Path) -> None:
    for place, domain in (("new", "bands.example.org"), ("old", "old.example.org")):
        publish(version(1), tmp_path / place, content=tmp_path / "content")
        (tmp_path / place / "CNAME").write_text(domain)
        (tmp_path / place / ".nojekyll").write_bytes(b"")
    left = remove_site(tmp_path / "old", frozenset(HOSTS), tmp_path / "new")
    assert left == (str(tmp_path / "old" / "CNAME"),)
    assert snapshot(tmp_path / "old").keys() == {"CNAME", ".handbook-site"}


def test_a_file_of_the_site_has_no_name_of_the_host(hosted: Path) -> None:
    files = [*version(2), finished_file("cname/index.html", b"<p>x</p>")]
    with pytest.raises(NotPublishedError) as refused:
        publish(files, hosted / "site", content=hosted / "content", hosts=frozenset(HOSTS))
    assert "cname/index.html" in refused.value.findings[0]


def test_a_hosts_file_that_changes_while_the_site_is_made_is_not_lost(
    hosted: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, name = carry, hosted / "site" / "CNAME"

    def carry_then_change(*arguments: object) -> None:
        real(*arguments)  # type: ignore[arg-type]
        name.unlink()
        name.write_text("new.example.org")

    monkeypatch.setattr(workplace, "carry", carry_then_change)
    with pytest.raises(RefusedTargetError, match="CNAME was changed"):
        publish_version(hosted, 2, hosts=HOSTS)
    assert name.read_text() == "new.example.org"
    assert (hosted / "site" / "index.html").read_bytes() == b"<p>Site 1</p>"
    put_right(hosted / "site")


def lose_ledger(work: Path, of: Path | None = None) -> None:
    """Lose what the content remembers, or go back to an old copy of it."""
    ledger = work / "content" / LEDGER
    ledger.unlink()
    if of:
        ledger.write_bytes(of.read_bytes())


def test_without_its_ledger_a_content_overwrites_and_deletes_no_copy(work: Path) -> None:
    beside = work / ".handbook" / "site"
    before = {name: snapshot(beside / "kept" / name) for name in ("3", "4", "5")}
    copy = (beside / "ledger.json").read_bytes()
    lose_ledger(work)
    for number in range(6, 11):  # as many as would push out all that was kept
        publish_version(work, number)
    earlier = beside / "earlier" / "1"
    assert {name: snapshot(earlier / "kept" / name) for name in names(earlier / "kept")} == before
    assert (earlier / "ledger.json").read_bytes() == copy
    assert names(beside / "earlier") == {"1"}
    assert stat.S_IMODE(earlier.stat().st_mode) & 0o077 == 0 or os.name == "nt"
    assert undo(work) == 5
    assert stands(work, 9)


@pytest.mark.parametrize("kept", ["ledger.json", "kept/4/ledger.json"])
def test_with_an_old_ledger_nothing_is_taken_back_until_the_copy_is_put_in_its_place(
    work: Path, kept: str
) -> None:
    beside = work / ".handbook" / "site"
    lose_ledger(work, beside / "kept" / "3" / "ledger.json")
    if kept != "ledger.json":
        (beside / "ledger.json").unlink()
        (beside / "kept" / "5" / "ledger.json").write_bytes(b"damaged")
    copy, before = beside / kept, snapshot(work)
    with pytest.raises(NotPublishedError, match="does not remember it") as refused:
        undo(work, anyway=True)
    assert refused.value.findings == (
        f"A copy lies beside the site: put {copy} in the place of {work / 'content' / LEDGER}.",
    )
    assert snapshot(work) == before
    (work / "content" / LEDGER).write_bytes(copy.read_bytes())
    if kept == "ledger.json":
        assert undo(work) == 5
        assert stands(work, 4)
