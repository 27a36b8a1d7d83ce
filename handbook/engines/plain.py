"""The engine of few parts: the outermost template and Jinja alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from jinja2 import Environment, FileSystemLoader, Template

from handbook.engines.model import FRAME, SiteFacts, file_of, frame_folder, framed
from handbook.outputs.model import RenderedPage


class PlainEngine:
    """Gives the bytes that MkDocs gives, in a fraction of the time."""

    def __init__(self) -> None:
        self._frame: Template | None = None

    def finish(self, pages: Sequence[RenderedPage], site: SiteFacts) -> Mapping[str, bytes]:
        """Render the frame of each page."""
        if self._frame is None:  # escapes by itself what is not HTML yet, as MkDocs needs
            environment = Environment(loader=FileSystemLoader(frame_folder()))  # noqa: S701
            self._frame = environment.get_template(FRAME)
        return {
            file_of(page): self._frame.render(page=framed(page, site)).encode() for page in pages
        }
