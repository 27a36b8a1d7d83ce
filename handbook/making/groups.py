"""Cycles that are planned together: their plan, and the pages made of it."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from itertools import chain

from handbook.checks import PLAN_CHECKS, REFERENCE_CHECKS
from handbook.domain.values.text import Text
from handbook.making.content import ReadContent, stop_at_errors
from handbook.making.cycles import CycleHead, words_of
from handbook.making.framing import Framing
from handbook.making.kept import Finishing, Fresh, KeptBatch, finish
from handbook.outputs.evenings import evening_files
from handbook.outputs.page import Context
from handbook.outputs.site import CycleOutput, alone, without_cycles
from handbook.pipeline import checked
from handbook.plan.build import build_plan
from handbook.plan.concerts_ahead import soon
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan, Start
from handbook.records import dataclass
from handbook.schema.handbook import ConcertAhead
from handbook.store import key_of


def plan_groups(
    content: ReadContent, groups: Sequence[Sequence[CycleHead]], framings: Sequence[Framing]
) -> Iterator[PlannedGroup]:
    """Plan and check cycles one by one, each group with what its ensembles bring from those before."""
    words, reached = words_of(chain.from_iterable(groups)), dict[str, Start]()
    for heads in groups:
        ensembles = sorted({one for head in heads for one in head.ensembles})
        brought = {one: reached[one] for one in ensembles if one in reached}
        terms = sorted({term for head in heads for term in head.terms} & words.keys())
        said = {term: words[term] for term in terms}
        planned = PlannedGroup(content, heads, brought, said, _ahead(heads, groups), framings)
        reached |= planned.known.reached
        yield planned


def _ahead(
    heads: Sequence[CycleHead], groups: Sequence[Sequence[CycleHead]]
) -> tuple[ConcertAhead, ...]:
    """Give the concerts of other groups that come next after any cycle of one."""
    others = [
        one for group in groups if group is not heads for head in group for one in head.concerts
    ]
    found = {one for head in heads for one in soon(others, head.id, head.last)}
    return tuple(sorted(found, key=lambda one: (one.date, one.downbeat, one.cycle)))


@dataclass(frozen=True, slots=True)
class Group:
    """What is known of cycles that were planned together.

    `ensembles` are the keys of the ensembles' own pages, by cycle and ensemble. `shares` has, by
    language and for each cycle, what it adds to the pages about the whole handbook, by the names
    of their kinds, in bytes that can be compared unread.
    """

    warnings: int
    reached: Mapping[str, Start]
    ensembles: Mapping[tuple[str, str], str]
    shares: Mapping[str, tuple[Mapping[str, bytes], ...]]


class PlannedGroup:
    """Plans cycles once for all languages, when the first of their batches is to be made.

    `brought` is what their ensembles bring from earlier cycles, `words` the meanings of
    terms that are given in any cycle, `ahead` the next concerts after its cycles.
    """

    def __init__(
        self,
        content: ReadContent,
        heads: Sequence[CycleHead],
        brought: Mapping[str, Start],
        words: Mapping[str, Text],
        ahead: tuple[ConcertAhead, ...],
        framings: Sequence[Framing],
    ) -> None:
        self._content, self._heads, self._framings = content, heads, framings
        self._brought, self._words, self._ahead = brought, words, ahead
        self.scripts: list[KeptBatch] = []

    @cached_property
    def key(self) -> str:
        """The key of all that the plan is made of."""
        return key_of(
            *("group", *(framing.key for framing in self._framings)),
            *(
                (one.id, self._content.cycle_key(one.id), self._content.year_key(one.year))
                for one in self._heads
            ),
            *((one, _shown(start)) for one, start in self._brought.items()),
            self._content.events_between_key(
                min(one.first for one in self._heads), max(one.last for one in self._heads)
            ),
            sorted(self._words.items()),
            self._ahead,
        )

    @cached_property
    def known(self) -> Group:
        """What is known of the group; raises NotSoundError for an error in it."""
        return self._content.store.kept(key_of("known", self.key), Group, self._found_out)

    def pages(self, by: Finishing) -> Mapping[str, Mapping[str, list[KeptBatch]]]:
        """Give the pages of each cycle by language, finished: those about it, then those of its ensembles.

        The `scripts` that they read are made with them.
        The plan is forgotten then: those of many years weigh more than their pages.
        """
        self.scripts = []
        pages = {framing.language: self._pages(framing) for framing in self._framings}
        for of_cycles in pages.values():
            finish([*chain.from_iterable(of_cycles.values())], by)
        finish(self.scripts, by)
        for made in ("_planned", "_outputs", "_contexts"):
            vars(self).pop(made, None)
        return pages

    def _pages(self, framing: Framing) -> Mapping[str, list[KeptBatch]]:
        pages = {
            head.id: [
                self._batch(
                    *(key_of("cycle", self.key, framing.language, head.id), self._cycle),
                    *(framing, head.id),
                )
            ]
            for head in self._heads
        }
        for of, plan_key in self.known.ensembles.items():
            key = key_of(plan_key, framing.key)
            pages[of[0]].append(self._batch(key, self._ensemble, framing, *of))
            self.scripts.append(self._batch(key_of("evenings", key), self._evenings, framing, *of))
        return pages

    def _batch(self, key: str, make: Callable[..., Fresh], *of: object) -> KeptBatch:
        return KeptBatch(self._content.store, key, partial(make, *of))

    def _found_out(self) -> Group:
        plan, warnings, reached = self._planned
        return Group(
            warnings,
            {one: start for one, start in reached.items() if one in self._ensembles},
            {
                (cycle.id, ensemble.item.id): self._ensemble_key(cycle, ensemble)
                for cycle in plan.cycles
                for ensemble in cycle.ensembles
            },
            {
                framing.language: tuple(
                    {name: pickle.dumps(share) for name, share in output.shares.items()}
                    for output in self._outputs[framing.language].values()
                )
                for framing in self._framings
            },
        )

    def _cycle(self, framing: Framing, cycle_id: str) -> Fresh:
        """Make the pages about a cycle as a whole."""
        return framing.fresh(self._outputs[framing.language][cycle_id].pages)

    def _ensemble(self, framing: Framing, cycle_id: str, ensemble_id: str) -> Fresh:
        """Make an ensemble's own pages."""
        context = self._contexts[framing.language]
        with framing.speaking():
            made = framing.renderer.ensemble(context, *self._alone(cycle_id, ensemble_id))
        return framing.fresh(made)

    def _evenings(self, framing: Framing, cycle_id: str, ensemble_id: str) -> Fresh:
        """Make the script of what an ensemble practices at home."""
        context = self._contexts[framing.language]
        files = framing.files(evening_files(context, *self._alone(cycle_id, ensemble_id)))
        return Fresh(contents={file.path: file.content for file in files})

    def _alone(self, cycle_id: str, ensemble_id: str) -> tuple[CyclePlan, EnsemblePlan]:
        plan, *_ = self._planned
        cycle = next(one for one in plan.cycles if one.id == cycle_id)
        ensemble = next(one for one in cycle.ensembles if one.item.id == ensemble_id)
        return alone(cycle, ensemble), ensemble

    @cached_property
    def _planned(self) -> tuple[Plan, int, Mapping[str, Start]]:
        """The plan, the number of warnings, and what the ensembles reached; raises NotSoundError."""
        handbook, warnings = self._content.of_cycles(self._heads)
        handbook = replace(handbook, elsewhere=self._words, ahead=self._ahead)
        found = checked(REFERENCE_CHECKS, handbook)
        warnings += stop_at_errors(self._content.of_cycles_alone(self._heads, found))
        planned = build_plan(handbook, self._brought, mended=False)
        warnings += stop_at_errors((*planned.problems, *checked(PLAN_CHECKS, planned.plan)))
        return planned.plan, warnings, planned.reached

    @cached_property
    def _outputs(self) -> Mapping[str, Mapping[str, CycleOutput]]:
        """What is made of each cycle as a whole, by language."""
        return {framing.language: self._outputs_in(framing) for framing in self._framings}

    def _outputs_in(self, framing: Framing) -> Mapping[str, CycleOutput]:
        plan, *_ = self._planned
        context = self._contexts[framing.language]
        with framing.speaking():
            return {cycle.id: framing.renderer.cycle(context, cycle) for cycle in plan.cycles}

    @cached_property
    def _contexts(self) -> Mapping[str, Context]:
        plan, *_ = self._planned
        words = {**plan.program.words, **self._words}
        shown = replace(plan, words=words, events=())
        return {
            framing.language: without_cycles(Context(shown, framing.language))
            for framing in self._framings
        }

    @property
    def _ensembles(self) -> frozenset[str]:
        return frozenset(one for head in self._heads for one in head.ensembles)

    def _ensemble_key(self, cycle: CyclePlan, ensemble: EnsemblePlan) -> str:
        """Give the key of all that an ensemble's own pages are made of, but their frame and language.

        Of music that is its own, and that of ensembles whose pieces it joins.
        """
        content, hosts = self._content, {joined.host.id for joined in ensemble.joined}
        named = sorted(
            (one.item.id, one.band)
            for one in cycle.ensembles
            if one is ensemble or one.item.id in hosts
        )
        return key_of(
            *("ensemble", content.core_key, cycle.id, ensemble.item.id),
            content.without_music_key(cycle.id),
            content.year_key(cycle.item.year),
            content.events_between_key(cycle.first, cycle.last),
            *(
                (
                    one,
                    _shown(self._brought.get(one)),
                    content.pieces_key(cycle.id, band),
                    content.reached_key(cycle.id, band),
                )
                for one, band in named
            ),
            # What it brings from an earlier one among them is known by the files of all.
            [content.cycle_key(one.id) for one in self._heads if one.id != cycle.id],
            sorted(self._words.items()),
        )


def _shown(start: Start | None) -> object:
    return start and (sorted(start.finished.items()), start.cycles, start.year)
