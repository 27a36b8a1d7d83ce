"""The Jinja environment of all page templates: strict, escaping, with the page filters."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, MutableMapping
from datetime import date
from pathlib import Path
from types import CodeType
from typing import Any

from jinja2 import (
    Environment,
    FileSystemBytecodeCache,
    FileSystemLoader,
    StrictUndefined,
    Template,
    compiler,
)
from jinja2.compiler import CodeGenerator, Frame
from jinja2.nodes import Getattr
from jinja2.runtime import Context, Macro
from markupsafe import Markup, escape

from handbook.outputs.html import formatting, note_marks
from handbook.outputs.html.prose import line, prose, unlinked
from handbook.outputs.html.ways_out import on_map, telephone
from handbook.outputs.i18n import gettext, ngettext, npgettext, pgettext, speech
from handbook.outputs.i18n.formats import clock_time
from handbook.outputs.i18n.languages import direction
from handbook.outputs.instrument_names import rudiment_name
from handbook.outputs.note_names import sign, spoken
from handbook.store import key_of, own_folder


class Once:
    """Calls a macro once for each thing, however many pages show it."""

    def __init__(self) -> None:
        self._made: dict[tuple[str, int], tuple[object, Markup]] = {}

    def forget(self) -> None:
        """Begin anew, so that no thing is kept longer than the pages that show it."""
        self._made.clear()

    def __call__(self, macro: Macro, thing: object) -> Markup:
        """Give what `macro` makes of a thing; it must depend on nothing else but the language."""
        key = f"{macro.name} {speech().code}", id(thing)
        if key not in self._made:  # the thing is kept beside, so that its id stays its own
            self._made[key] = thing, Markup(macro(thing))  # noqa: S704 - macros escape
        return self._made[key][1]


_SPECIAL = re.compile("[&<>'\"]")
_NEVER_SPECIAL = frozenset({int, float, date})


def _escaped(value: object) -> object:
    """Escape as templates do, without a new object for each of the many texts that need none."""
    if type(value) is str:
        return escape(value) if _SPECIAL.search(value) else value
    if type(value) is Markup:
        return value
    return str(value) if type(value) in _NEVER_SPECIAL else escape(value)


class _Page(Template):
    """A template whose every value goes through `_escaped`: a tenth of the time of a page."""

    @classmethod
    def from_code(
        cls,
        environment: Environment,
        code: CodeType,
        globals: MutableMapping[str, Any],  # noqa: A002 - Jinja's name
        uptodate: Callable[[], bool] | None = None,
    ) -> Template:
        """Load a compiled template."""
        made = super().from_code(environment, code, globals, uptodate)
        made.root_render_func.__globals__["escape"] = _escaped
        return made


class _Attributes(CodeGenerator):
    """Compiles `view.field` to what it is in Python: what templates are given has no items by name."""

    def visit_Getattr(self, node: Getattr, frame: Frame) -> None:  # noqa: N802 - Jinja's name
        """Write the attribute itself, in place of a call that looks for it."""
        self.visit(node.node, frame)
        self.write(f".{node.attr}")


class _Calls(Context):
    """Calls what templates call as it is: no function of ours asks for the context."""

    def call(
        self,
        called: Callable[..., Any],
        /,
        *given: Any,
        _loop_vars: object = None,
        _block_vars: object = None,
        **named: Any,
    ) -> Any:
        """Call it, without what is only of use to who asks for the context."""
        return called(*given, **named)


def page_environment(templates: Path) -> Environment:
    """Make the environment for the folder site_templates."""
    environment = Environment(
        loader=FileSystemLoader(templates),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        bytecode_cache=_compiled(templates),
        keep_trailing_newline=False,
        extensions=["jinja2.ext.i18n"],
    )
    environment.policies["ext.i18n.trimmed"] = True
    environment.newstyle_gettext = True  # type: ignore[attr-defined] # the extension's own
    environment.globals |= {
        "_": _html(gettext),
        "gettext": _html(gettext),
        "ngettext": _html(ngettext),
        "pgettext": _html(pgettext),
        "npgettext": _html(npgettext),
        "as_note": note_marks.as_note,  # no filter: of a constant that is worked out only once
    }
    environment.globals |= {
        "comma": note_marks.comma,
        "clause": note_marks.clause,
        "semicolon": note_marks.semicolon,
    }
    environment.globals["right_to_left"] = lambda: direction(speech().code) == "rtl"
    environment.template_class = _Page
    environment.context_class = _Calls
    environment.code_generator_class = _Attributes
    environment.filters.update(
        clock=clock_time,
        duration=formatting.duration,
        long_day=formatting.long_day,
        mark=formatting.mark,
        short_day=formatting.short_day,
        named=note_marks.named,
        sign=sign,
        spoken=spoken,
        watched=note_marks.watched,
        listed=note_marks.listed,
        row=note_marks.row,
        clauses=note_marks.clauses,
        rudiment=rudiment_name,
        dots=formatting.joined,
        prose=prose,
        line=line,
        unlinked=unlinked,
        tel=telephone,
        on_map=on_map,
        full_duration=formatting.full_duration,
        minutes=formatting.whole_minutes,
    )
    environment.globals["once"] = Once()
    return environment


def _html(say: Callable[..., str]) -> Callable[..., Markup]:
    """Say a message of a template: what it holds of tags is HTML, its values are escaped."""

    def said(*message: Any, **values: Any) -> Markup:
        escaped = {name: _escaped(value) for name, value in values.items()}
        return Markup(say(*message, **escaped))  # noqa: S704 - our own words

    return said


class _Compiled(FileSystemBytecodeCache):
    """Templates as compiled code, which is anew if the template or what compiles it is."""

    def get_source_checksum(self, source: str) -> str:
        """Give a digest of the template and of its two compilers, Jinja's and ours."""
        compilers = [os.stat(file) for file in (compiler.__file__, __file__)]  # noqa: PTH116
        return key_of(source, [(one.st_size, one.st_mtime_ns) for one in compilers])


def _compiled(templates: Path) -> _Compiled | None:
    """Keep compiled templates where Python would keep modules, or else with the user's own."""
    beside = templates / "__pycache__"
    keep_here = not sys.dont_write_bytecode and _can_be_made(beside)
    folder = beside if keep_here else own_folder("templates")
    return _Compiled(str(folder), f"%s.{sys.implementation.cache_tag}.template") if folder else None


def _can_be_made(folder: Path) -> bool:
    try:
        folder.mkdir(exist_ok=True)
    except OSError:
        return False
    return os.access(folder, os.W_OK)
