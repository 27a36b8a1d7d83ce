"""Try mutants and write what became of them; an interrupted run goes on where it stopped."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from tests.mutation.collected import Collected
from tests.mutation.explained import explained_keys
from tests.mutation.mutants import Mutant, layer_mutants, sample
from tests.mutation.reach import OPTIONS, Reach, digests, make_map, read_map
from tests.mutation.tree import copy_tree, warm_up
from tests.mutation.trial import Fate, try_mutant

MOST_PERCENT = 5  # of mutants that may survive without a reason
LAYERS = ("domain", "plan", "outputs", "checks")
ROOT = Path(__file__).parents[2]


def main() -> int:
    """Give 1 where too many survive without a reason, else 0."""
    options = _options()
    folder = Path(options.folder)
    folder.mkdir(parents=True, exist_ok=True)
    warm_up()
    reach = _reach(folder, new=options.map)
    log = folder / "fates.jsonl"
    done = _done(log)
    wanted = _wanted(options, done)
    with tempfile.TemporaryDirectory() as place:
        tree = copy_tree(ROOT, Path(place))
        collected = Collected(tree, list(reach.tests), OPTIONS)
        for number, mutant in enumerate(wanted, start=1):
            kept = done.get(mutant.key)
            if kept is not None and not (options.again and kept["fate"] in _ALIVE):
                continue
            outcome = try_mutant(mutant, tree, reach, options.seconds, collected)
            row = {"key": outcome.key, "line": outcome.line, "fate": outcome.fate, "by": outcome.by}
            done[mutant.key] = row
            with log.open("a", encoding="utf-8") as file:
                file.write(json.dumps(row) + "\n")
            _say(f"{number}/{len(wanted)} {outcome.fate}: {outcome.key}")
        collected.close()
    rows = [done[mutant.key] for mutant in wanted]
    left = [row for row in rows if row["fate"] in _ALIVE and row["key"] not in explained_keys()]
    report = _report(rows, left)
    (folder / "report.md").write_text(report, encoding="utf-8")
    _say(report)
    return int(len(left) * 100 > MOST_PERCENT * len(rows))


_ALIVE = {Fate.SURVIVED, Fate.UNREACHED}


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--number", type=int, default=400, help="how many mutants")
    parser.add_argument("--seed", type=int, default=1, help="which ones are drawn")
    parser.add_argument("--layer", choices=LAYERS, action="append", help="only this layer")
    parser.add_argument("--seconds", type=float, default=40, help="tests a mutant, at most")
    parser.add_argument("--folder", default=".mutation", help="where map, fates and report are")
    parser.add_argument("--map", action="store_true", help="make the map of tests anew")
    parser.add_argument("--again", action="store_true", help="try those that survived once more")
    parser.add_argument("--only", help="only mutants whose name has this text, of all there are")
    return parser.parse_args()


def _reach(folder: Path, *, new: bool) -> Reach:
    """Read the map; test files that are new or changed are run for it first."""
    kept, marks = folder / "reach.json", folder / "digests.json"
    rows, old = (
        json.loads(path.read_text("utf-8")) if path.exists() and not new else {}
        for path in (kept, marks)
    )
    now = digests(ROOT)
    changed = [name for name in now if old.get(name) != now[name]]
    if changed:
        _say(f"running {len(changed)} test files for the map")
        with tempfile.TemporaryDirectory() as place:
            rows |= make_map(copy_tree(ROOT, Path(place)), changed, seconds=600)
        kept.write_text(json.dumps(rows), encoding="utf-8")
        marks.write_text(json.dumps(now), encoding="utf-8")
    return read_map({name: rows[name] for name in now}, ROOT)


def _done(log: Path) -> dict[str, dict[str, Any]]:
    lines = log.read_text("utf-8").splitlines() if log.exists() else []
    return {row["key"]: row for row in map(json.loads, lines)}


def _wanted(options: argparse.Namespace, done: dict[str, Any]) -> list[Mutant]:
    layers = tuple(options.layer or LAYERS)
    if options.only:
        found = [one for layer in layers for one in layer_mutants(ROOT, layer)]
        return [one for one in found if options.only in one.key]
    return sample(ROOT, layers, options.number, options.seed)


def _report(rows: list[dict[str, Any]], left: list[dict[str, Any]]) -> str:
    """Count the fates, and name those that are left without a reason."""
    fates = Counter(row["fate"] for row in rows)
    alive = sum(row["fate"] in _ALIVE for row in rows)
    lines = [
        f"{len(rows)} mutants, {alive} alive, {len(left)} of them not explained",
        "",
        *(f"- {fate}: {count}" for fate, count in sorted(fates.items())),
        "",
        *(f"- line {row['line']}, {row['fate']}: `{row['key']}`" for row in left),
    ]
    return "\n".join(lines) + "\n"


def _say(text: str) -> None:
    print(text, flush=True)  # noqa: T201


if __name__ == "__main__":
    sys.exit(main())
