"""The calendars that readers subscribe to: their entries, and their files."""

from __future__ import annotations

from handbook.outputs.feeds.entries import calendar_events, lost_rehearsals
from handbook.outputs.feeds.files import feed_files, not_any_more

__all__ = ["calendar_events", "feed_files", "lost_rehearsals", "not_any_more"]
