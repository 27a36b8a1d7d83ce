"""A look at a whole site: what it says of each thing, where that stands, and what may stay."""

from __future__ import annotations

import random
import shutil
import time
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from handbook.audit import Origin, finding_lines
from handbook.audit.concerns import CONCERNS
from handbook.cli import main
from handbook.explanations import all_codes
from handbook.pipeline import load_plan, render
from handbook.plan.model import Plan
from handbook.schema.program import Contact, MayBePublic, Program
from tests.audit.looking import CONTENT, looked, page, small_plan
from tests.content_folders import write_folder
from tests.demo import DEMO, demo_plan, once_of_each_kind, whole_demo_site
from tests.published_sites import finished_file
from tests.real_media import mp3, wav


def allowing(*words: str, **program: object) -> Plan:
    may = tuple(MayBePublic(what=what, why="asked in November") for what in words)
    item: Program = small_plan().program.model_copy(update={"may_be_public": may, **program})
    return replace(small_plan(), program=item)


def test_nothing_is_found_on_the_demo() -> None:
    site = whole_demo_site()
    bodies = {page.path: page.body for page in site.pages}
    seen = once_of_each_kind(bodies, *demo_plan().languages[1:])
    files = [finished_file(f"{path}index.html", bodies[path].encode()) for path in seen]
    files += [finished_file(file.path, file.content) for file in site.files]
    assert looked(*files, plan=demo_plan(), content=DEMO) == []


def test_nothing_is_found_on_a_small_site() -> None:
    site = render(small_plan())
    files = [finished_file(f"{page.path}index.html", page.body.encode()) for page in site.pages]
    assert looked(*files) == []


def test_what_the_program_gives_as_its_own_is_not_found() -> None:
    contact = Contact(role="Office", email="band@millrace.example", phone="(555) 555-0100")
    plan = allowing(contact=contact, address="https://band.millrace.example/")
    own = "555-0100, band@millrace.example, hall@millrace.example, it@band.millrace.example, 3 Weir Lane"
    assert looked(page(own), plan=plan) == []
    others = "555-0101, band@elsewhere.example, mia.ames@millrace.example, 5 Weir Lane"
    assert [one.concern.code for one in looked(page(others), plan=plan)] == [
        *("mail-address", "phone-number", "mail-of-a-person", "street-address")
    ]


def test_what_is_allowed_by_name_is_left_out() -> None:
    roster = "<p>Mia Castillo, Jordan Ames, Tova Lindqvist</p><p>Tickets: 555-0142</p>"
    found = [(one.concern.code, one.words) for one in looked(page(roster))]
    assert found == [
        ("phone-number", "555-0142"),
        ("list-of-names", "Mia Castillo, Jordan Ames, Tova Lindqvist"),
    ]
    two_left = looked(page(roster), plan=allowing("555-0142", "mia castillo"))
    assert [(one.words, one.refuses) for one in two_left] == [
        ("Jordan Ames", False),
        ("Tova Lindqvist", False),
    ]
    none_left = allowing("Tickets: 555-0142", "Jordan Ames", "Mia Castillo", "Tova Lindqvist")
    assert looked(page(roster), plan=none_left) == []


def test_a_whole_phone_book_is_told_in_few_lines() -> None:
    book = "<br>".join(f"555-{number:04}" for number in range(1000, 3000))
    found = looked(page(book))
    assert len(found) == 100
    lines = finding_lines(found)
    assert sum("error phone-number" in line for line in lines) == 10
    assert "  and 90 more of phone-number" in lines


def test_long_words_are_allowed_by_their_beginning() -> None:
    said = "Mia Castillo needs her inhaler before each concert, and on the bus, and after playing, and at every rehearsal"
    words = page(f"<p>{said}, as the nurse says.</p>")
    refused = [one for one in looked(words) if one.refuses]
    told = finding_lines(refused)[0].partition("school: ")[2]
    assert told.endswith("…")
    assert not any(one.refuses for one in looked(words, plan=allowing(told)))
    assert any(one.refuses for one in looked(words, plan=allowing(told[:40])))


@pytest.mark.parametrize("words", ["12 Alder Lane ", "TODO ", "Mia C, ", "she hospital. "])
def test_long_pages_are_looked_through_in_the_time_of_their_length(words: str) -> None:
    """A page may have 30,000 letters: ten times as many may take thirty times as long, not a hundred."""

    def seconds(letters: int) -> float:
        long = page(f"<p>{words * (letters // len(words))}</p>")
        begun = time.process_time()
        looked(long)
        return time.process_time() - begun

    assert seconds(30_000) < 30 * max(seconds(3_000), 0.02)


def test_what_is_allowed_for_nothing_is_told() -> None:
    (found,) = looked(page("Bring a lunch."), plan=allowing("555-0142"))
    assert (found.concern.code, found.words, found.refuses) == (
        *("unused-permission", "555-0142"),
        False,
    )
    assert found.origins == (Origin("program.yaml", 0),)


def test_what_another_page_tells_of_it_is_not_told_again(tmp_path: Path) -> None:
    pages = {"pages/trip.md": "# The trip\n\n- Bus 2\n\nMia Castillo needs her inhaler.\n"}
    folder = write_folder(shutil.copytree(CONTENT, tmp_path / "content"), pages)
    files = [
        page("<p>Bus 2 Mia Castillo needs her inhaler. Come.</p>", "families"),
        page("<ul><li>Bus 2</li></ul><p>Mia Castillo needs her inhaler.</p>"),
    ]
    found = [one for one in looked(*files, content=folder) if one.refuses]
    assert [(one.words, one.origins) for one in found] == [
        ("Mia Castillo needs her inhaler.", (Origin("pages/trip.md", 5),))
    ]
    lines = finding_lines(found, "content")
    assert lines[0].startswith("content/pages/trip.md:5: error health-of-a-person: ")
    assert lines[1] == "  on the site in families/trip/index.html"


def test_the_line_of_the_content_is_named(tmp_path: Path) -> None:
    folder = shutil.copytree(CONTENT, tmp_path / "content")
    hidden = "private: |\n  Call 555-0160\n  or 555-0161.\n"
    program = (folder / "program.yaml").read_text("utf-8")
    (folder / "program.yaml").write_text(hidden + program, "utf-8")
    (folder / "pages" / "trip.md").write_text(
        "# The trip\n\nWe meet at six.\nCall 555-0160. Mia\nCastillo has a nut allergy.\n", "utf-8"
    )
    plan = load_plan(folder).plan
    assert plan is not None
    files = [
        finished_file(f"{page.path}index.html", page.body.encode()) for page in render(plan).pages
    ]
    found = looked(*files, plan=plan, content=folder)
    assert [(one.concern.code, one.file, one.origins) for one in found] == [
        ("phone-number", "families/trip/index.html", (Origin("pages/trip.md", 4),)),
        ("health-of-a-person", "families/index.html", (Origin("pages/trip.md", 4),)),
        ("name-of-a-person", "families/index.html", (Origin("pages/trip.md", 4),)),
    ]


def test_what_search_tells_of_a_page_is_not_told_again(tmp_path: Path) -> None:
    trip = "# The trip\n\nC:\\band\\bus list.txt is the list.\n\nWe live at 7 Quarry Road.\n\nCall 555-0170.\n"
    folder = write_folder(shutil.copytree(CONTENT, tmp_path / "content"), {"pages/trip.md": trip})
    body = "<p>C:\\band\\bus list.txt is the list.</p><p>We live at 7 Quarry Road.</p><p>Call 555-0170.</p>"
    row = r'{"x":"C:\\band\\bus list.txt is the list. We live at 7 Quarry Road. Call 555-0170."}'
    files = [finished_file("search/index.js", f"rows=[{row}]".encode()), page(body)]
    found = looked(*files, content=folder)
    assert {one.file for one in found} == {"families/trip/index.html"}
    assert [(one.concern.code, one.words) for one in found] == [
        ("phone-number", "555-0170"),
        ("home-address", "7 Quarry Road"),
        ("path-of-a-computer", "C:\\band\\bus"),
    ]


@pytest.mark.parametrize("code", CONCERNS)
def test_every_kind_is_explained(code: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert code not in all_codes()
    with pytest.raises(SystemExit) as ended:
        main(["explain", code])
    assert ended.value.code == 0
    told = capsys.readouterr().out
    assert told.startswith(f"{code}\n\nFound by `handbook publish`")
    does = "It stops a publication." if CONCERNS[code].refuses else "stops nothing."
    assert does in told


def test_it_is_told_in_lines() -> None:
    found = looked(page("Call 555-0142."), page("Call 555-0142.", "past"))
    assert finding_lines(found) == (
        "families/trip/index.html: error phone-number: this phone number is not the program's own: 555-0142",
        "  help: take it out, or give the number of an office",
        "  (handbook explain phone-number)",
        "",
        "If it is meant to be public, say so in program.yaml, with its reason:",
        "  may_be_public:",
        '    - {what: "555-0142", why: "..."}',
    )


def test_all_that_may_be_allowed_is_written_ready_to_be_pasted() -> None:
    body = "Call 555-0142, 555-0143 or 555-0142.<br>The list is C:\\band\\bus list.txt."
    found = looked(page(body), page("Mail to desk@fernbrook.example. Call 555-0143.", "past"))
    lines = finding_lines(found)
    pasted = "\n".join(lines[lines.index("  may_be_public:") :])
    entries = yaml.safe_load(pasted)["may_be_public"]
    allowed = [one["what"] for one in entries]
    assert allowed == ["555-0142", "555-0143", "desk@fernbrook.example", "C:\\band\\bus"]
    assert looked(page(body), plan=allowing(*allowed[:2], allowed[3])) == []


def test_of_what_may_be_allowed_ten_are_written() -> None:
    found = looked(page("<br>".join(f"555-{number:04}" for number in range(100, 115))))
    lines = finding_lines(found)
    assert sum("{what: " in line for line in lines) == 10
    assert lines[-1] == "    # and 5 more"


def test_media_that_were_not_cleaned_are_refused() -> None:
    noted = mp3(4) + b"TAG" + b"Mia Castillo".ljust(125, b"\0")
    files = [
        finished_file("media/solo.mp3", noted),
        finished_file("media/map.png", b"Flute 1, flute 2"),
        finished_file("media/march.mp3", mp3(4)),
    ]
    assert [(one.concern.code, one.words, one.refuses) for one in looked(*files)] == [
        ("said-beside-media", "solo.mp3", True),
        ("said-beside-media", "map.png", True),
    ]


def test_what_is_heavy_is_told_and_summed_up() -> None:
    chance = random.Random(3)
    long = "".join(chance.choice("aeiou bcdfg hklmn") for _ in range(400_000))
    files = [
        finished_file("a/index.html", b"a" * 400_000),  # packs into next to nothing
        finished_file("b/index.html", long.encode()),
        finished_file("media/one.wav", wav(100)),
        finished_file("media/two.wav", wav(120)),
        finished_file("media/three.wav", wav(90)),
    ]
    home = b'<link href="./assets/page.css?v=1"><link href="assets/type.woff2"><script src="no.js">'
    files += [
        finished_file("index.html", home),
        finished_file("assets/page.css", b"p" * 400_000),  # packs into next to nothing
        finished_file("assets/type.woff2", bytes(310_000)),  # is packed already
        finished_file("assets/other.woff2", bytes(900_000)),
    ]
    found = looked(*files)
    assert {one.refuses for one in found} == {False}
    view = found.pop(0)
    assert view.concern.code == "heavy-first-view"
    assert view.words in {
        f"index.html and what it loads, {kilobytes} kB" for kilobytes in range(310, 314)
    }
    told = [(one.concern.code, one.words) for one in found]
    assert told[0][0] == "heavy-page"
    assert told[0][1].startswith("b/index.html, ")
    assert told[1:] == [
        ("heavy-media-file", "media/one.wav, 1.6 MB"),
        ("heavy-media-file", "media/two.wav, 1.9 MB"),
        ("heavy-media-file", "2 such files, 3.5 MB together"),
    ]
