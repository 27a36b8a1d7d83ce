"""What is in the media of a site beside picture and sound; cleaning should have left nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.audit.model import Concern, Seen
from handbook.cleaning.cleaned import cleaned
from handbook.cleaning.model import UncleanError
from handbook.outputs.model import SiteFile
from handbook.source.links import MEDIA

SAID_BESIDE_MEDIA = Concern(
    "said-beside-media",
    "this file holds more than its picture, sound or pages, such as who made it and where",
    "save it anew, and build the site again",
    refuses=True,
)


def media_remains(files: Sequence[SiteFile]) -> Iterator[Seen]:
    """Find media that cleaning would still change, or that cannot be cleaned."""
    for file in files:
        if file.path.startswith(f"{MEDIA}/"):
            content = file.read()
            try:
                clean = cleaned(content, file.path) == content
            except UncleanError:
                clean = False
            if not clean:
                yield Seen(SAID_BESIDE_MEDIA, file.path.removeprefix(f"{MEDIA}/"), file.path)
