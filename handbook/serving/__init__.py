"""The preview: the site on this computer, made anew whenever a file is saved."""

from __future__ import annotations

from handbook.serving.preview import Listener, Round, serve

__all__ = ["Listener", "Round", "serve"]
