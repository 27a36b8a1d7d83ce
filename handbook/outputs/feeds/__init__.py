"""The calendars that readers subscribe to: their entries, and their files."""

from __future__ import annotations

from handbook.outputs.feeds.entries import calendar_events

__all__ = ["calendar_events"]
