"""Where the ledger lies, and the file beside it while a publication is under way."""

from __future__ import annotations

FOLDER = ".published"
LEDGER = f"{FOLDER}/ledger.json"
COMING = f"{FOLDER}/coming.json"
"""The ledger of a publication that may have been cut off, with what shows whether it was done."""
