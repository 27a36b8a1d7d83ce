"""What a language lacks, out as PO and back again.

The PO files are read with polib's rules in mind but by Babel, a library of its own; what the
YAML says afterwards is read by PyYAML alone. GNU gettext's manual, "The Format of PO Files", is
the source of what a PO file is.
"""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import pytest
import yaml
from babel.messages.pofile import read_po, write_po
from hypothesis import example, given
from hypothesis import strategies as st

from handbook.cli import main
from handbook.fixing.writing import NotWrittenError
from handbook.loader import load
from handbook.source.po_files import PO_NOT_READ, PO_UNLIKE, read_given
from handbook.translating import writing
from handbook.translating.lacking import LackingText, lack_of
from handbook.translating.paragraphs import paragraphs
from handbook.translating.po_text import Wanted, po_text
from handbook.translating.taking_back import with_versions
from tests.content_folders import base_files, changed, write_folder

CONTENT = Path(__file__).parents[2] / "content"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A whole content folder that lists Vietnamese and has nothing in it."""
    files = changed(base_files(), "program.yaml", "rooms:", "languages: [en, vi]\nrooms:")
    page = "# Shoes\n\nWear **black** shoes.\n\nAsk [us](mailto:office@quillhaven.example).\n"
    return write_folder(tmp_path / "content", {**files, "pages/shoes.md": page})


def filled(po: Path, words: str = "Ừ ") -> Path:
    """Fill every text of a PO file as a tool of translators would, which writes it anew."""
    catalog = read_po(BytesIO(po.read_bytes()))
    for message in catalog:
        if message.id:
            text = str(message.id)
            message.string = f"{text}{words}" if text.startswith("#") else f"{words}{text}"
    made = BytesIO()
    write_po(made, catalog, width=76)
    po.write_bytes(made.getvalue())
    return po


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main([str(one) for one in arguments])
    return int(str(ended.value.code))


def test_out_filled_and_back_nothing_is_missing(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    po = tmp_path / "vi.po"
    assert run("words", "vi", "--content", folder, "--out", po) == 0
    assert "to be written in Vietnamese" in capsys.readouterr().out
    before = load(folder)
    assert run("words", "vi", filled(po), "--content", folder, "--yes") == 0
    capsys.readouterr()
    after = load(folder)
    assert after.problems == ()
    assert before.handbook
    assert after.handbook
    lack = lack_of(after.handbook, "vi", after.sources.homes)
    assert (lack.lacking, lack.pages) == ((), ())
    assert after.handbook.program.item.contact.role.read("vi").startswith("Ừ ")
    assert after.handbook.program.item.contact.role.read("en") == "the band office"
    assert (folder / "pages/vi/shoes.md").read_text("utf-8").startswith("# ShoesỪ")
    assert run("words", "vi", "--content", folder, "--out", tmp_path / "again.po") == 0
    assert capsys.readouterr().out == "Nothing is missing in Vietnamese.\n"


def test_of_the_demo_only_lines_with_translations_change(tmp_path: Path) -> None:
    loaded = load(CONTENT)
    assert loaded.handbook
    lack = lack_of(loaded.handbook, "ht", loaded.sources.homes)  # which the demo has nothing in
    for name, texts in lack.by_file().items():
        raw = (CONTENT / name).read_bytes()
        words = {text.words: f"Ừ {text.words}" for text in texts}
        made = with_versions(name, raw, texts, words, "ht", "en").decode()
        read, old = yaml.safe_load(made), yaml.safe_load(raw)
        assert without("ht", read) == with_mappings(old, read), name
        kept = [line for line in made.splitlines() if "Ừ" not in line]
        lines = iter(raw.decode().splitlines())
        assert all(any(re.sub(r"^\s*(en: )?", "", line) in old for old in lines) for line in kept)


def without(language: str, data: object) -> object:
    """Leave out what a language has."""
    if isinstance(data, dict):
        return {key: without(language, one) for key, one in data.items() if key != language}
    return [without(language, one) for one in data] if isinstance(data, list) else data


def with_mappings(old: object, new: object) -> object:
    """Write plain texts as mappings where the new data has one."""
    if isinstance(new, dict) and not isinstance(old, dict | list):
        return {"en": old}
    if isinstance(old, dict) and isinstance(new, dict):
        return {key: with_mappings(one, new[key]) for key, one in old.items()}
    if isinstance(old, list) and isinstance(new, list):
        return [with_mappings(*pair) for pair in zip(old, new, strict=True)]
    return old


WRITTEN = [
    "purpose: Black shoes  # and socks",
    'purpose: "Black: shoes"',
    "purpose: it's, {so} called",
    "purpose: >-\n  Black shoes,\n  and socks\n",
    "purpose: |\n  Black shoes\n\n  and socks\n# a remark\nx: 1",
    "purpose: >2\n  Black shoes\n",
    "purpose: Black\n  shoes\nx: 1",
    "a:\n  - >-\n    Black\n    shoes\n  - x",
    "a: [Black shoes, x]",
    "a:\n- Black shoes\n- x",
    "purpose:\n  en: Black shoes  # the usual ones\n  es: Zapatos  # otra\nx: 1",
    "purpose: {en: Black shoes, es: Zapatos}  # remark",
    "purpose: {en: Black shoes, vi: }",
    "purpose:\n  en: >-\n    Black\n    shoes\nx: 1",
    "purpose:\r\n  en: Black shoes\r\nx: 1\r\n",
]


@pytest.mark.parametrize("text", WRITTEN)
def test_a_translation_stands_beside_its_text_however_that_is_written(text: str) -> None:
    old = yaml.safe_load(text)
    field = next(iter(old))
    value = old[field]
    plain = value[0] if isinstance(value, list) else value
    has = tuple(code for code in plain if plain[code]) if isinstance(plain, dict) else ("",)
    words = plain["en"] if isinstance(plain, dict) else plain
    address = ("f.yaml", field, 0) if isinstance(value, list) else ("f.yaml", field)
    raw = b"\xef\xbb\xbf" + text.encode()
    said = "Giày: đen, {và} #tất \"x\" 'y'"
    lacking = [LackingText(address, words, has)]
    made = with_versions("f.yaml", raw, lacking, {words: said}, "vi", "en")
    assert made.startswith(b"\xef\xbb\xbf")
    new = yaml.safe_load(made)
    found = new[field][0] if isinstance(value, list) else new[field]
    assert found.pop("vi") == said
    assert (
        found == {code: one for code, one in plain.items() if one}
        if isinstance(plain, dict)
        else {"en": words}
    )
    new[field] = value
    assert {**new} == old
    assert made.count(b"\r\n") == made.count(b"\n") * (b"\r\n" in raw)
    for remark in re.findall(r"# [a-z ]+", text):
        assert remark in made.decode()


@given(
    st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1)
)
@example('"')
@example("a: b # c")
def test_any_translation_is_read_as_it_was_written(said: str) -> None:
    text = LackingText(("f.yaml", "x"), "Shoes", ("",))
    made = with_versions("f.yaml", b"x: Shoes\n", [text], {"Shoes": said}, "vi", "en")
    assert yaml.safe_load(made) == {"x": {"en": "Shoes", "vi": said}}


def test_what_families_need_first_stands_first(tmp_path: Path) -> None:
    po = tmp_path / "ht.po"
    copy = write_folder(
        tmp_path / "content",
        {
            path.relative_to(CONTENT).as_posix(): path.read_bytes()
            for path in CONTENT.rglob("*")
            if path.suffix in {".yaml", ".md"}
        },
    )
    program = copy / "program.yaml"
    listed = re.sub(r"languages: \[.*\]", "languages: [en, ht]", program.read_text("utf-8"))
    program.write_text(listed, "utf-8")
    run("words", "ht", "--content", copy, "--out", po)
    places = re.findall(r"(?:^#: .*\n)+", po.read_text("utf-8"), re.MULTILINE)
    names = ("concert", "events", "program", "cycle.yaml", "music", "fundamentals", "pages/")
    # A text that stands in several files comes with the one that is needed first.
    kinds = [next((name for name in names if name in place), "") for place in places]
    order = [kinds.index(name) for name in names]
    assert order == sorted(order)


def test_equal_texts_are_translated_once(tmp_path: Path) -> None:
    text = po_text(
        [Wanted("Shoes", (("a.yaml", 3), ("b.yaml", 9)))], "vi", program="X", language="Vietnamese"
    )
    assert text.count(b'msgid "Shoes"') == 1
    assert b"#: a.yaml:3 b.yaml:9" in text
    assert po_text([], "hmn", program="X", language="Hmong")  # of which nobody knows the plurals


def test_a_file_to_be_filled_is_never_written_over_another(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    po = tmp_path / "vi.po"
    po.write_text("a translator's evening")
    assert run("words", "vi", "--content", folder, "--out", po) == 2
    assert po.read_text() == "a translator's evening"
    assert "may hold a translator's work" in capsys.readouterr().err


HEAD = 'msgid ""\nmsgstr ""\n"Language: vi\\n"\n"Content-Type: text/plain; charset=utf-8\\n"\n\n'


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        (HEAD + 'msgid "A\nmsgstr "B"\n', PO_NOT_READ, 6),
        (HEAD.replace("vi", "es") + 'msgid "A"\nmsgstr "B"\n', PO_NOT_READ, 1),
        (HEAD + 'msgid "Tune to {Bb}"\nmsgstr "Lên dây Si"\n', PO_UNLIKE, 6),
        (
            HEAD + 'msgid "[us](mailto:a@b.example)"\nmsgstr "[ta](mailto:x@b.example)"\n',
            PO_UNLIKE,
            6,
        ),
        (HEAD + 'msgid "%(n)s days"\nmsgstr "ngày"\n', PO_UNLIKE, 6),
    ],
)
def test_what_is_wrong_in_it_is_told_with_its_line_and_nothing_is_written(
    text: str,
    code: str,
    line: int,
    folder: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = read_given("vi.po", text.encode(), "vi").problems
    assert [(one.code, one.position.line) for one in found if one.position] == [(code, line)]
    po = tmp_path / "vi.po"
    po.write_text(text, "utf-8")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert run("words", "vi", po, "--content", folder, "--yes") == 1
    assert "Nothing was written." in capsys.readouterr().out
    assert before == {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("raw", [b"\xff\xfe\x00", b"", b"PK\x03\x04", b"msgid", b'"x"'])
def test_any_bytes_are_told_or_hold_nothing(raw: bytes) -> None:
    given = read_given("vi.po", raw, "vi")
    assert not given.words


def test_unsure_and_empty_ones_are_left_out() -> None:
    text = (
        HEAD + '#, fuzzy\nmsgid "A"\nmsgstr "B"\n\nmsgid "C"\nmsgstr ""\n\nmsgid "D"\nmsgstr "E"\n'
    )
    assert read_given("vi.po", text.encode(), "vi").words == {("", "D"): ("E",)}


def test_a_page_waits_until_all_of_it_is_translated(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    po = tmp_path / "vi.po"
    po.write_text(HEAD + 'msgid "# Shoes"\nmsgstr "# Giày"\n', "utf-8")
    assert run("words", "vi", po, "--content", folder, "--yes") == 0
    assert "it waits" in capsys.readouterr().out
    assert not (folder / "pages/vi").exists()


def test_without_an_answer_nothing_is_written(
    folder: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    po = tmp_path / "vi.po"
    run("words", "vi", "--content", folder, "--out", po)
    monkeypatch.setattr("sys.stdin", BytesIO())
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert run("words", "vi", filled(po), "--content", folder) == 1
    assert before == {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert "Nothing was written." in capsys.readouterr().out


def test_what_cannot_be_written_leaves_all_as_it_was(
    folder: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Pages come last, so that the files of the program are put back when one cannot be made."""
    po = tmp_path / "vi.po"
    run("words", "vi", "--content", folder, "--out", po)
    filled(po)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}

    def full(_folder: Path, name: str, *_: object) -> None:
        raise NotWrittenError(f"{name} cannot be written: the disk is full")

    monkeypatch.setattr(writing, "write_own", full)
    assert run("words", "vi", po, "--content", folder, "--yes") == 1
    assert "the disk is full" in capsys.readouterr().err
    assert before == {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert not (folder / "pages/vi").exists()


def test_check_says_in_one_line_what_a_language_lacks(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("check", folder) == 0
    short = capsys.readouterr().out
    assert len([line for line in short.splitlines() if "Vietnamese" in line]) == 1
    assert "missing-translation" not in short
    assert run("check", folder, "--translations") == 0
    assert "missing-translation" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("# A\n\nb\nc\n\n\n- d\n- e\n", [("# A", 1), ("b\nc", 3), ("- d\n- e", 7)]),
        ("\n\n# A\n", [("# A", 3)]),
        ("# A\n  \n b", [("# A", 1), (" b", 3)]),
        ("", []),
    ],
)
def test_pages_part_at_empty_lines(text: str, parts: list[tuple[str, int]]) -> None:
    assert [(one.words, one.line) for one in paragraphs(text)] == parts
