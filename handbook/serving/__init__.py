"""The preview: the site on this computer, made anew whenever a file is saved."""

from __future__ import annotations

from handbook.serving.preview import Listener, PortError, Round, serve

__all__ = ["Listener", "PortError", "Round", "serve"]
