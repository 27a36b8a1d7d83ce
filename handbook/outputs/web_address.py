"""The address at which the site stands, as the program gives it. Needs no model: a build that has nothing to do reads this."""

from __future__ import annotations

from urllib.parse import urlsplit

LEFT_IN_ADDRESSES = ":/?#[]@!$&'()*+,;=%"  # what an address may hold unescaped, RFC 3986


def web_address(text: str | None) -> str | None:
    """Give a full http or https address with a slash at its end, else None."""
    parts = urlsplit(text or "")
    if parts.scheme not in {"http", "https"} or not parts.netloc:
        return None
    return f"{parts.scheme}://{parts.netloc}{parts.path.rstrip('/')}/"
