"""Who may read the preview: its own pages, and the person at this computer.

A page of any site that is open in the same browser could otherwise ask for the preview's
files, or load them as a script, a picture or a frame. Browsers say who asks, in headers
that no script can set (RFC 9110, 7.2 and 10.1.3; RFC 6454, 7; W3C Fetch Metadata).
"""

from __future__ import annotations

from email.message import Message

NAMES = ("127.0.0.1", "localhost", "[::1]")
_USUAL_PORT = 80  # left out by browsers
_OURS = frozenset({"same-origin", "none"})  # `none`: typed, or opened from a bookmark

# What every answer forbids to pages of others, whatever they ask.
CLOSED_TO_OTHERS = {
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "X-Frame-Options": "DENY",
    "X-Content-Type-Options": "nosniff",
    "Cache-Control": "no-store",
}


def own_hosts(port: int) -> frozenset[str]:
    """Give the hosts that the preview goes by, as browsers write them in `Host`."""
    names = NAMES if port == _USUAL_PORT else ()
    return frozenset((*names, *(f"{name}:{port}" for name in NAMES)))


def refusal(headers: Message, hosts: frozenset[str], *, page: bool) -> str:
    """Say in a sentence why a request is not answered, or give nothing if it may be.

    Another host's name may lead here by a trick with its address, and its pages would then
    count as our own. `page` is for addresses of pages, which others may link to. Browsers
    from before Fetch Metadata are told apart by `Origin` and `Referer`.
    """
    asked = headers.get_all("Host", [])
    if len(asked) != 1 or asked[0].strip().lower() not in hosts:
        return "The preview is there for this computer only, under its own address."
    if _asked_by_others(headers, hosts, page=page):
        return "Another site asked for this, and the preview is not for other sites."
    return ""


def _asked_by_others(headers: Message, hosts: frozenset[str], *, page: bool) -> bool:
    origins = tuple(f"http://{host}" for host in hosts)
    if any(origin.lower() not in origins for origin in headers.get_all("Origin", [])):
        return True
    site = headers.get("Sec-Fetch-Site")
    if site is not None:
        return site not in _OURS and not _opened(headers)
    referer = headers.get("Referer", "")
    return (
        bool(referer) and not page and not referer.startswith(tuple(f"{own}/" for own in origins))
    )


def _opened(headers: Message) -> bool:
    """Whether a person follows a link to the preview, in a window of its own."""
    return (headers.get("Sec-Fetch-Mode"), headers.get("Sec-Fetch-Dest")) == (
        "navigate",
        "document",
    )
