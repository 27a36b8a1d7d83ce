"""Browser contexts used again: opening one costs a second, emptying one next to nothing.

A context is handed to one test at a time, which opens pages of its own in it. Afterwards
they are closed and what they left on the device is cleared, so that the next test finds it
as new, but for the files that it may keep (see `served`).
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, CDPSession


@dataclass(frozen=True)
class _LentContext:
    context: BrowserContext
    cleaner: CDPSession  # of a blank page, which also keeps the window open


_free: dict[tuple[object, ...], list[_LentContext]] = {}


@contextmanager
def lent(browser: Browser, base: str, **options: object) -> Iterator[BrowserContext]:
    """Lend a context for the site at `base`; `options` are those of `Browser.new_context`.

    `clock`, if given, only keeps apart contexts whose clock was set from those with their own.
    """
    key = (id(browser), *sorted((name, repr(value)) for name, value in options.items()))
    options.pop("clock", None)
    free = _free.setdefault(key, [])
    kept = free.pop() if free else _made(browser, options)
    blank, *_ = kept.context.pages
    try:
        yield kept.context
    except BaseException:
        kept.context.close()  # after a failure it may be in any state
        raise
    for page in kept.context.pages:
        if page is not blank:
            page.close()
    kept.context.clear_cookies()
    kept.context.set_offline(offline=False)
    site = urlsplit(base)
    if site.scheme == "http":
        kept.cleaner.send(
            "Storage.clearDataForOrigin",
            {"origin": f"{site.scheme}://{site.netloc}", "storageTypes": "all"},
        )
        free.append(kept)
    else:
        kept.context.close()


def _made(browser: Browser, options: dict[str, object]) -> _LentContext:
    context = browser.new_context(**options)  # type: ignore[arg-type]
    return _LentContext(context, context.new_cdp_session(context.new_page()))
