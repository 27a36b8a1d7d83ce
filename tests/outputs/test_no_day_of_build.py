"""Nothing in the site depends on when, where or how it was built."""

from __future__ import annotations

import subprocess
import sys
from hashlib import sha256
from pathlib import Path

from handbook.publishing.manifest import MARKER
from tests.demo import demo_in

CHECKOUT = Path(__file__).resolve().parents[2]

# Sets every clock that Python offers to one moment, then builds the demo.
BUILD = """
import datetime, sys, time
moment, target = float(sys.argv[1]), sys.argv[2]
true_date, true_datetime = datetime.date, datetime.datetime

class Alike(type):
    def __instancecheck__(cls, value): return isinstance(value, cls.__mro__[1])

class Day(true_date, metaclass=Alike):
    @classmethod
    def today(cls): return true_datetime.fromtimestamp(moment).date()

class Moment(true_datetime, metaclass=Alike):
    @classmethod
    def now(cls, tz=None): return true_datetime.fromtimestamp(moment, tz)
    @classmethod
    def utcnow(cls): return true_datetime.fromtimestamp(moment, datetime.UTC).replace(tzinfo=None)
    @classmethod
    def today(cls): return true_datetime.fromtimestamp(moment)

true_gmtime, true_localtime, true_strftime = time.gmtime, time.localtime, time.strftime
time.time = lambda: moment
time.time_ns = lambda: int(moment * 1e9)
time.gmtime = lambda seconds=None: true_gmtime(moment if seconds is None else seconds)
time.localtime = lambda seconds=None: true_localtime(moment if seconds is None else seconds)
time.strftime = lambda form, when=None: true_strftime(form, when or time.localtime())

from pathlib import Path
from tests.whole_sites import make_site
from handbook.pipeline import load_plan

for module in list(sys.modules.values()):  # whoever took the classes by name is given ours
    if module is not datetime and getattr(module, "__name__", "").startswith(("handbook", "mkdocs", "babel", "jinja2")):
        for name, value in list(vars(module).items()):
            if value is true_date: setattr(module, name, Day)
            if value is true_datetime: setattr(module, name, Moment)
datetime.date, datetime.datetime = Day, Moment
content = Path(sys.argv[3])
outcome = load_plan(content)
assert outcome.plan is not None
make_site(outcome.plan, content, Path(target))
"""


def built(content: Path, target: Path, moment: float, **environment: str) -> dict[str, str]:
    """Build content as if at a moment (seconds since 1970) and give each file's digest."""
    subprocess.run(
        [sys.executable, "-c", BUILD, str(moment), str(target), str(content)],
        cwd=CHECKOUT,
        check=True,
        env={"PYTHONPATH": str(CHECKOUT), **environment},
    )
    return {
        path.relative_to(target).as_posix(): sha256(path.read_bytes()).hexdigest()
        for path in sorted(target.rglob("*"))
        if path.is_file() and path.name != MARKER  # which notes when each was written
    }


def test_the_site_is_the_same_in_every_byte(tmp_path: Path) -> None:
    """Built on Wednesday, November 25, 2026, and years before, elsewhere, in another order of hashes."""
    content = demo_in(tmp_path / "content", "en", "ar")
    usual = built(content, tmp_path / "usual", 1795600000, PYTHONHASHSEED="0", TZ="UTC")
    other = built(
        content,
        tmp_path / "other",
        1577836800,
        PYTHONHASHSEED="4711",
        TZ="Pacific/Kiritimati",
        LC_ALL="C",
        LANG="es_MX.UTF-8",
    )
    assert [
        name for name in usual.keys() | other.keys() if usual.get(name) != other.get(name)
    ] == []
    assert len(usual) > 60
