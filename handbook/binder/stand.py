"""The stand view: one file a cycle for the tablet on the podium, which needs nothing but itself."""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from jinja2.utils import htmlsafe_json_dumps
from markupsafe import Markup

from handbook.binder.looks import joined_parts
from handbook.binder.model import Binder, BinderFile
from handbook.binder.stand_data import stand_data
from handbook.outputs.faces import faces_for, letters_of
from handbook.outputs.html.school_style import school_style
from handbook.outputs.i18n import gettext, speech
from handbook.outputs.i18n.languages import direction
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.i18n.scripts import script_words
from handbook.plan.model import CyclePlan
from handbook.records import dataclass
from handbook.resources import templates_folder

_WORDS = ("joined/first.js/05-words.js", "joined/first.js/20-clock.js")
_SOUND = ("assets/sound.js", "assets/click.js", "assets/drone.js", "assets/warm_up.js")
_FOLDERS = ("assets", "joined", "binder")
_FONT = re.compile(r"url\((fonts/[a-z0-9.-]+\.woff2)\)")
# Of the site's styles, what the notes on the stand and the frame need.
_STYLES = ("10-base.css", "55-engraved.css")


@dataclass(frozen=True, slots=True)
class StandView:
    """The file of a cycle; scripts and styles stand in it as they are."""

    title: str
    language: str
    turned: bool
    zone: str
    styles: tuple[Markup, ...]
    scripts: tuple[Markup, ...]
    data: Markup


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make the stand view of each cycle."""
    for cycle in binder.cycles:
        yield BinderFile(
            f"{cycle.id}/stand.html",
            stand_page(binder, cycle),
            title=gettext("Stand view"),
            about=gettext("For the tablet on the podium: the rehearsal that is on or comes next."),
            cycle=cycle.id,
        )


def stand_page(binder: Binder, cycle: CyclePlan, day: date | None = None) -> bytes:
    """Make the file, of a whole cycle or of one day of it."""
    language = binder.context.language
    name = bare(binder.context.say(cycle.item.name))
    data = htmlsafe_json_dumps(
        stand_data(binder, cycle, day), dumps=json.dumps, ensure_ascii=False, separators=(",", ":")
    )
    view = StandView(
        title=gettext("Stand view: %(cycle)s", cycle=name),
        language=language,
        turned=direction(language) == "rtl",
        zone=binder.plan.program.time_zone,
        styles=tuple(_styles(binder, data)),
        scripts=tuple(_scripts()),
        data=data,
    )
    html = binder.environment.get_template("binder/stand.html.j2").render(view=view)
    return html.encode()


def _styles(binder: Binder, text: str) -> Iterator[Markup]:
    """Give the site's own ground, its typefaces within, then the styles of the stand.

    A language whose letters those lack has more, for the letters of a `text` too.
    """
    templates = templates_folder()
    for name in _STYLES:
        style = (templates / "joined" / "handbook.css" / name).read_text(encoding="utf-8")
        # What stands in the file itself is there at once, and nothing need wait for it.
        yield _within(style.replace("font-display:optional", "font-display:block"), _own_font)
    more = {
        file.path: file.content for file in faces_for(binder.context.language, letters_of(text), "")
    }
    for path, content in more.items():
        if path.endswith(".css"):
            yield _within(content.decode(), more.__getitem__)
    yield _as_it_is(joined_parts(templates / "binder" / "stand.css", ".css"))
    yield _as_it_is(school_style(binder.context).content)


def _own_font(path: str) -> bytes:
    return (templates_folder() / "assets" / path).read_bytes()


def _within(style: str, font: Callable[[str], bytes]) -> Markup:
    """Put typefaces into the style itself, so that no file beside it is needed."""

    def inlined(found: re.Match[str]) -> str:
        return f"url(data:font/woff2;base64,{base64.b64encode(font(found[1])).decode()})"

    return _as_it_is(_FONT.sub(inlined, style).encode())


def _scripts() -> Iterator[Markup]:
    """Give the words and the clock of pages, what sounds, and the scripts of the stand."""
    templates: Path = templates_folder()
    words = script_words(speech().code, speech().messages, _FOLDERS).encode()
    yield _as_it_is(words + b"".join((templates / name).read_bytes() for name in _WORDS))
    for name in _SOUND:
        yield _as_it_is((templates / name).read_bytes())
    yield _as_it_is(joined_parts(templates / "binder" / "stand.js", ".js"))


def _as_it_is(content: bytes) -> Markup:
    """Take our own script or style into a page; none of them says where its element ends."""
    text = content.decode()
    assert "</script" not in text.lower()
    assert "</style" not in text.lower()
    return Markup(text)  # noqa: S704
