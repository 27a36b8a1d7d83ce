"""What every room of the binder is given, and what it gives."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from jinja2 import Environment
from markupsafe import Markup

from handbook.domain.values.text import Text
from handbook.loader.media_files import published_bytes
from handbook.outputs import addresses
from handbook.outputs.html.prose import led, line
from handbook.outputs.i18n.languages import direction
from handbook.outputs.i18n.other_language import bare, told
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, Plan
from handbook.records import dataclass
from handbook.schema.handbook import Handbook
from handbook.source.links import MEDIA
from handbook.source.private_notes import PrivateNotes

_OF_SITE = "of-the-site:"
_TO_SITE = re.compile(rf'<a [^>]*href="{_OF_SITE}[^>]*>(.*?)</a>', re.DOTALL)


@dataclass(frozen=True, slots=True)
class BinderFile:
    """A file of the binder; `path` counts from its top, with forward slashes.

    What takes long to make may be given as what makes it, which is asked when it is written.

    One with a `title` is listed on the first page, with what it is `about` in one sentence: below
    the cycle of that id, or with what is of no cycle. A sheet has its `versions`: what each page of
    it is called, empty where it is one, with the mark that stands at its foot.
    """

    path: str
    made: bytes | Callable[[], bytes]
    title: str = ""
    about: str = ""
    cycle: str = ""
    versions: tuple[tuple[str, str], ...] = ()

    @property
    def content(self) -> bytes:
        """Its bytes."""
        return self.made if isinstance(self.made, bytes) else self.made()

    @property
    def is_stand(self) -> bool:
        """Whether it is a stand view, which has the class screen as its second view."""
        name = self.path.rpartition("/")[2]
        return name.startswith("stand") and name.endswith(".html")


@dataclass(frozen=True, slots=True)
class PageFrame:
    """What goes around a page of the binder.

    `home` leads to its first page, empty on that itself; `notice` is empty where the page bears
    that of all.
    """

    title: str
    language: str
    turned: bool
    program: str
    root: str
    home: str
    notice: str
    middle: Markup


@dataclass(frozen=True, slots=True)
class Binder:
    """What a binder is made of: the plan, the content it comes from, and the `cycles` asked for, in order.

    Words are said in the content's first language, which `context` has; rooms are called while
    it is spoken. `content` is the content folder, `private` what stands in it for the director
    alone.
    """

    plan: Plan
    handbook: Handbook
    context: Context
    content: Path
    cycles: tuple[CyclePlan, ...]
    private: PrivateNotes
    environment: Environment

    def render(self, template: str, view: object) -> str:
        """Fill `site_templates/binder/<template>.html.j2`; it has `view` and `say`, as pages of the site have.

        Links of the content's texts to pages of the site become plain words.
        """
        found = self.environment.get_template(f"binder/{template}.html.j2")
        return self._by_itself(found.render(view=view, say=self.context.say, root="", top=""))

    def text(self, text: Text | None) -> str:
        """Say a text of the content as HTML within one line; nothing for no text."""
        return self.html(self.context.say(text))

    def html(self, words: str) -> str:
        """Turn what was said, with its links and emphasis, into HTML within one line."""
        return self._by_itself(line(words))

    def _by_itself(self, html: str) -> str:
        """Turn links to the site into words, and marks of other languages into elements."""
        html = led(html, _OF_SITE, _OF_SITE, self.context.plan.languages)
        return told(_TO_SITE.sub(r"\1", html), self.context.language).html

    def page(
        self,
        template: str,
        view: object,
        path: str,
        *,
        title: str,
        about: str = "",
        cycle: str = "",
        notice: str = "",
    ) -> BinderFile:
        """Make a page in the binder's frame, with the notice or one of its own; it is listed if it says what it is `about`."""
        return BinderFile(
            path,
            self.framed(path, title, self.render(template, view), notice),
            title if about else "",
            about,
            cycle,
        )

    def framed(self, path: str, title: str, middle: str, notice: str = "") -> bytes:
        """Set the middle of a page into the frame of all pages but the stand view."""
        language, root = self.context.language, addresses.root_of(path)
        frame = PageFrame(
            title=bare(title),
            language=language,
            turned=direction(language) == "rtl",
            program=bare(self.context.say(self.plan.program.name)),
            root=root,
            home="" if path == INDEX else f"{root}{INDEX}",
            notice=notice,
            middle=Markup(middle),  # noqa: S704 - made by a template
        )
        return self.environment.get_template("binder/_page.html.j2").render(page=frame).encode()

    def media(self, name: str) -> bytes:
        """Give the bytes of a file below the content's media/, as the site would publish it; raises OSError and UncleanError."""
        return published_bytes(self.content / MEDIA / name.removeprefix(f"{MEDIA}/"))


INDEX = "index.html"
"""The binder's first page."""
