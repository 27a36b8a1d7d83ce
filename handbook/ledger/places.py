"""Where the ledger lies, and the file beside it while a publication is under way."""

from __future__ import annotations

FOLDER = ".published"
LEDGER = f"{FOLDER}/ledger.json"
COMING = f"{FOLDER}/coming.json"
"""The ledger that a publication is about to leave, with the proof by which it counts or not."""
