"""The ledger: what is known of earlier publications, kept in the content folder.

It is the file `.published/ledger.json`, written by publications alone, and meant to be kept
with the content, since it cannot be made anew.
"""

from __future__ import annotations

from handbook.ledger.reading import ReadLedger, read_ledger

__all__ = ["ReadLedger", "read_ledger"]
