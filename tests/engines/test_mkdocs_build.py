"""`mkdocs build` makes the handbook: the whole site, or a folder of a site of its own."""

from __future__ import annotations

import json
import logging
import os
import re
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from textwrap import dedent

import pytest
import yaml
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from handbook.pipeline import load_plan
from handbook.publishing.manifest import MARKER
from handbook.publishing.verify_links import link_facts, link_findings
from tests.content_folders import base_files, changed, write_folder
from tests.demo import demo_in
from tests.whole_sites import make_site

CHECKOUT = Path(__file__).resolve().parents[2]
WHOLE = {"site_name": "Bands", "docs_dir": "content", "plugins": ["cycle-handbook"]}
OWN_PAGES = {
    "docs/index.md": "# Our school\n\nSee [the band](band/index.md) and [the staff](staff.md).\n",
    "docs/staff.md": "# Staff\n\nAsk the office.\n",
    "docs/rules.txt": "No running.\n",
}
LINKING_HOOK = """
def on_post_page(output, page, config):
    return output.replace('"https://b.example"', '"../../families/nowhere/"')
"""
HOST = {
    "site_name": "Our school",
    "site_url": "https://school.example/",
    "theme": {"name": "material"},
    "strict": True,
    "plugins": ["search", {"cycle-handbook": {"folder": "band"}}],
}


def project(
    folder: Path, config: Mapping[str, object], files: Mapping[str, str] | None = None
) -> Path:
    """Write a mkdocs.yml beside a small content folder, or beside the files given."""
    content = {f"content/{name}": text for name, text in base_files().items()}
    write_folder(folder, {**content, **(files or {}), "mkdocs.yml": yaml.safe_dump(dict(config))})
    return folder


def build_here(folder: Path) -> dict[str, bytes]:
    build(load_config(str(folder / "mkdocs.yml")))
    return tree(folder / "site")


def tree(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file() and path.name != MARKER)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def handbook(content: Path, target: Path) -> dict[str, bytes]:
    plan = load_plan(content).plan
    assert plan is not None
    return tree(make_site(plan, content, target).target)


def run(module: str, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT)}
    environment.pop("NO_MKDOCS_2_WARNING", None)
    return subprocess.run(
        [sys.executable, "-m", module, *words],
        cwd=folder, env=environment, check=False, capture_output=True, text=True,
    )  # fmt: skip


def test_mkdocs_build_gives_the_files_of_handbook_build_and_no_notice_of_its_own(
    tmp_path: Path,
) -> None:
    content = demo_in(tmp_path / "content", "en", "ar")
    config = f"site_name: Bands\ndocs_dir: {content}\nplugins:\n  - cycle-handbook:\n      content: {content}\n"
    write_folder(tmp_path, {"mkdocs.yml": config})
    done = run("mkdocs", tmp_path, "build")
    assert done.returncode == 0, done.stderr
    notices = re.findall(r"(?m)^(?!INFO )\S.*", done.stderr)
    # The demo is not written in all of its languages, and nothing else is to be told of it but
    # what is written in those that are left out here.
    of_languages = re.compile(r" warning missing-translation: |\bunlisted-language: ")
    assert [one for one in notices if not of_languages.search(one)] == []
    other = tmp_path / "other"
    assert run("handbook", tmp_path, "build", str(content), "--site", str(other)).returncode == 0
    assert tree(tmp_path / "site") == tree(other)
    assert (other / MARKER).is_file()


@pytest.mark.parametrize(
    "config",
    [
        WHOLE,
        {**WHOLE, "theme": "material"},
        {**WHOLE, "theme": "readthedocs", "use_directory_urls": False},
    ],
)
def test_neither_theme_nor_addresses_change_a_byte(
    tmp_path: Path, config: Mapping[str, object]
) -> None:
    made = build_here(project(tmp_path, config))
    assert made == handbook(tmp_path / "content", tmp_path / "other")


def test_the_configuration_may_lie_in_the_content_folder(tmp_path: Path) -> None:
    files = {**base_files(), "pages/help.md": "# Help\n\nAsk.\n"}
    config = {**WHOLE, "docs_dir": "pages", "site_dir": "../site", "strict": True}
    content = write_folder(tmp_path / "content", {**files, "mkdocs.yml": yaml.safe_dump(config)})
    build(load_config(str(content / "mkdocs.yml")))
    assert (tmp_path / "site/families/help/index.html").is_file()
    assert not (tmp_path / "site/help").exists()


def test_problems_are_told_in_full_and_end_the_build_without_a_traceback(tmp_path: Path) -> None:
    files = changed(base_files(), "program.yaml", "school:", "shcool:")
    folder = project(tmp_path, WHOLE, {f"content/{name}": text for name, text in files.items()})
    done = run("mkdocs", folder, "build")
    assert done.returncode == 1
    assert "content/program.yaml:" in done.stderr
    assert "ERROR   -  the content has problems, told above" in done.stderr
    assert "Traceback" not in done.stderr + done.stdout
    assert not (folder / "site").exists()


def test_a_warning_is_told_once_and_stops_only_a_strict_build(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    folder = project(tmp_path, WHOLE, {"content/notes.txt": "mine"})
    made = build_here(folder)
    told = [record for record in caplog.records if record.levelno >= logging.WARNING]
    assert [record.getMessage().split("\n")[0].partition("notes.txt")[2] for record in told] == [
        ": warning unknown-file: this file is not read, since no topic has its name"
    ]
    assert not [name for name in made if "notes" in name]
    project(tmp_path, {**WHOLE, "strict": True})
    with pytest.raises(Abort, match="1 warning"):
        build_here(folder)


@pytest.mark.parametrize(("config", "at"), [(WHOLE, ""), ({**HOST, "strict": False}, "band/")])
def test_a_link_that_leads_nowhere_is_a_warning(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, config: Mapping[str, object], at: str
) -> None:
    """Of the content they are problems, but another plugin may put one on a page."""
    pages = {"content/pages/help.md": "# Help\n\n[b](https://b.example)\n", "hook.py": LINKING_HOOK}
    config = {**config, "hooks": ["hook.py"]}
    build_here(project(tmp_path, config, {**OWN_PAGES, **pages} if at else pages))
    told = [record.getMessage() for record in caplog.records if record.levelname == "WARNING"]
    assert told == [
        f"cycle-handbook: {at}families/help/index.html: ../../families/nowhere/: leads to no page"
    ]


@pytest.mark.parametrize(
    ("config", "files", "sentence"),
    [
        ({**WHOLE, "plugins": [{"cycle-handbook": {"content": "plans"}}]}, {}, "no folder .*plans"),
        ({**WHOLE, "docs_dir": "docs"}, OWN_PAGES, r"index\.md is a page of your own"),
        ({**HOST, "plugins": [{"cycle-handbook": {"folder": "../x"}}]}, OWN_PAGES, "no address"),
        (HOST, {**OWN_PAGES, "docs/band/index.md": "# x\n"}, r"band/index\.md stands where"),
        ({**WHOLE, "site_dir": "content/site", "docs_dir": "docs"}, {"docs/a.txt": "x"}, "site_dir"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_a_sentence(
    tmp_path: Path,
    caplog: pytest.LogCaptureFixture,
    config: Mapping[str, object],
    files: Mapping[str, str],
    sentence: str,
) -> None:
    folder = project(tmp_path, config, files)
    with pytest.raises(Abort):
        build_here(folder)
    assert caplog.records
    assert re.search(sentence, caplog.text)


def test_a_site_holds_the_handbook_in_a_folder_and_keeps_its_own_pages(tmp_path: Path) -> None:
    made = build_here(project(tmp_path, HOST, OWN_PAGES))
    alone = {**HOST, "plugins": ["search"], "not_in_nav": "band/"}
    own = build_here(
        project(tmp_path / "alone", alone, {**OWN_PAGES, "docs/band/index.md": "# Band\n\nx\n"})
    )
    assert b'<h1 id="staff">Staff' in made["staff/index.html"]
    for name in ("index.html", "staff/index.html", "404.html", "rules.txt"):
        assert made[name] == own[name], name
    assert b'href="band/"' in made["index.html"]


def test_the_handbook_in_a_folder_is_the_handbook(tmp_path: Path) -> None:
    folder = project(tmp_path, HOST, OWN_PAGES)
    made = build_here(folder)
    inside = {
        name.removeprefix("band/"): content
        for name, content in made.items()
        if name.startswith("band/")
    }
    program = folder / "content" / "program.yaml"
    program.write_text(f"{program.read_text()}\naddress: https://school.example/band/\n")
    other = handbook(folder / "content", tmp_path / "other")
    assert {name: other[name] for name in other.keys() - inside.keys()}.keys() == {
        "404.html",
        "sitemap.xml",
    }
    assert inside == {name: content for name, content in other.items() if name in inside}
    assert (
        link_findings({name: link_facts(name, content) for name, content in inside.items()}) == ()
    )


def test_the_sites_own_search_and_sitemap_stay_sound(tmp_path: Path) -> None:
    made = build_here(project(tmp_path, HOST, OWN_PAGES))
    found = {row["location"] for row in json.loads(made["search/search_index.json"])["docs"]}
    assert found == {"", "staff/"}
    assert b"<loc>https://school.example/band/words/</loc>" in made["sitemap.xml"]


def test_the_sites_own_menu_may_name_the_handbook(tmp_path: Path) -> None:
    nav = [{"Home": "index.md"}, {"Band": "band/index.md"}, {"Staff": "staff.md"}]
    made = build_here(project(tmp_path, {**HOST, "nav": nav}, OWN_PAGES))
    assert b'<a href="../band/"' in made["staff/index.html"]


def test_another_plugin_sees_our_pages(tmp_path: Path) -> None:
    """mkdocs-redirects warns of a way to a page that MkDocs does not know, and strict fails."""
    ways = {"old.md": "words/index.md", "older.md": "calendar/index.md"}
    plugins = ["cycle-handbook", {"redirects": {"redirect_maps": ways}}]
    made = build_here(project(tmp_path, {**WHOLE, "strict": True, "plugins": plugins}))
    assert b'url=../words/"' in made["old/index.html"]
    assert b'url=../calendar/"' in made["older/index.html"]


def test_another_plugin_changes_our_pages_and_files(tmp_path: Path) -> None:
    hook = """
        def on_files(files, config):
            files.remove(files.get_file_from_path("404.html"))
            return files

        def on_page_markdown(markdown, page, config, files):
            seen.append(page.file.src_uri)

        def on_page_content(html, page, config, files):
            return html.replace("</footer>", "<p>By hook</p></footer>")

        def on_post_page(output, page, config):
            return output + f"<!-- {len(seen)} {page.title} -->"

        seen = []
    """
    config = {**WHOLE, "hooks": ["hook.py"]}
    made = build_here(project(tmp_path, config, {"hook.py": dedent(hook)}))
    pages = [name for name in made if name.endswith("index.html")]
    assert made["words/index.html"].endswith(
        f"<!-- {len(pages)} Words · Quillhaven Bands -->".encode()
    )
    assert all(b"<p>By hook</p></footer>" in made[name] for name in pages)
    assert "404.html" not in made


def test_serve_builds_anew_when_the_content_changes(tmp_path: Path) -> None:
    folder = project(tmp_path, {**WHOLE, "docs_dir": "docs"}, {"docs/keep.txt": "x"})
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT), "PYTHONUNBUFFERED": "1"}
    with (tmp_path / "log").open("w+") as log, subprocess.Popen(
        [sys.executable, "-m", "mkdocs", "serve", "--livereload", "-a", f"127.0.0.1:{port}"],
        cwd=folder, env=environment, stdout=log, stderr=log,
    ) as server:  # fmt: skip
        try:
            assert shown(f"{port}/words/", "Words"), (tmp_path / "log").read_text()
            write_folder(folder, {"content/pages/help.md": "# Whom to ask\n\nAsk.\n"})
            assert shown(f"{port}/families/help/", "Whom to ask"), (tmp_path / "log").read_text()
        finally:
            server.terminate()


def shown(path: str, words: str, *, seconds: float = 90) -> bool:
    """Whether a page at a port of this computer comes to show some words before the time is up."""
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        with suppress(OSError), urllib.request.urlopen(f"http://127.0.0.1:{path}") as answer:
            if words in answer.read().decode():
                return True
        time.sleep(0.2)
    return False
