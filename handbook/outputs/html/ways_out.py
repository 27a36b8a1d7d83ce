"""Links that leave the site when a reader follows them: a phone number, a place on a map.

The page itself asks nothing of anyone: nothing is loaded until the link is followed.
"""

from __future__ import annotations

import re
from urllib.parse import quote

from handbook.outputs.i18n.other_language import bare

_EXTENSION = re.compile(r"(?:\bext(?:ension)?\.?|\bx|#|,)\s*(\d+)\s*$", re.IGNORECASE)
# A search by address opens in any browser, on laptops and phones of every make; `geo:` links
# open on some phones alone.
_MAP = "https://www.openstreetmap.org/search?query="


def telephone(number: str) -> str:
    """Give the `tel:` link of a phone number as people write it; nothing if it has no digits.

    By RFC 3966: digits with a leading plus, and an extension as `;ext=`.
    """
    extension = _EXTENSION.search(number)
    main = number[: extension.start()] if extension else number
    digits = re.sub(r"\D", "", main)
    if not digits:
        return ""
    plus = "+" if main.lstrip(" (").startswith("+") else ""
    return f"tel:{plus}{digits}" + (f";ext={extension[1]}" if extension else "")


def on_map(address: str) -> str:
    """Give a link that looks an address up on a map; it may be marked as of another language."""
    return f"{_MAP}{quote(bare(address))}"
