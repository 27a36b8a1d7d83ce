"""What the class screen plays: each band's warm-up as data for the scripts of the stand view.

Nothing of it is for the director alone: no log, no private note.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Iterator
from mimetypes import guess_type

from handbook.binder.model import Binder
from handbook.outputs.components.notation import Notation
from handbook.outputs.components.section_notation import SectionFigures, section_figures
from handbook.outputs.components.warm_up_view import WarmUpStepView, WarmUpView, warm_up_view
from handbook.outputs.engraving.engraver import sprite
from handbook.outputs.html.page_data import Json
from handbook.plan.model import CyclePlan, EnsemblePlan, RehearsalRow
from handbook.plan.warm_ups import warm_up_minutes
from handbook.records import dataclass

_SOUND = "audio/mpeg"  # where the ending says nothing


@dataclass(frozen=True, slots=True)
class ClassStep:
    """A step as the class reads it: words below its name, and its drawings in concert pitch."""

    step: WarmUpStepView
    sections: tuple[SectionFigures, ...]


def warm_up_key(ensemble: EnsemblePlan, row: RehearsalRow) -> str:
    """Name the warm-up of a rehearsal as `warm_ups` has it; nothing where there is none."""
    minutes = warm_up_minutes(row)
    return f"{ensemble.item.id} {minutes}" if ensemble.warm_up and minutes else ""


def warm_ups(binder: Binder, cycle: CyclePlan) -> Json:
    """Give the warm-ups of a cycle by their keys, and once each what they share.

    `sprite` holds the signs that drawings point at, `sounds` recordings by their names, in
    the file itself. A step has its words as HTML, and its notation in concert pitch and by
    section, each way of reading with those who read so.
    """
    found: dict[str, tuple[WarmUpView, list[ClassStep]]] = {}
    for ensemble in cycle.ensembles:
        for row in ensemble.rehearsals:
            key = warm_up_key(ensemble, row)
            if key and key not in found and ensemble.warm_up:
                view = warm_up_view(binder.context, ensemble.warm_up, warm_up_minutes(row))
                found[key] = view, [_step(ensemble, step) for step in view.steps]
    figures = [one for _, steps in found.values() for step in steps for one in _drawn(step)]
    return {
        "warmUps": {key: _data(binder, view, steps) for key, (view, steps) in found.items()},
        "sprite": binder.render("_class_sprite", sprite(one.drawing for one in figures)).strip(),
        "sounds": {
            name: _within(binder, name)
            for name in sorted(set(_recordings(view for view, _ in found.values())))
        },
    }


def _step(ensemble: EnsemblePlan, step: WarmUpStepView) -> ClassStep:
    exercise = step.row.exercise
    return ClassStep(step, section_figures(exercise, ensemble.parts) if exercise else ())


def _drawn(view: ClassStep) -> Iterator[Notation]:
    yield from view.step.figures
    for section in view.sections:
        yield from section.figures


def _data(binder: Binder, view: WarmUpView, steps: list[ClassStep]) -> Json:
    played = view.plain_data["steps"]
    assert isinstance(played, list)
    return {
        **view.plain_data,
        "steps": [
            {
                **data,
                "words": binder.render("_class_words", one.step).strip(),
                "concert": _figures(binder, one.step.figures),
                "sections": [
                    [section.who, _figures(binder, section.figures), section.extent]
                    for section in one.sections
                ],
            }
            for data, one in zip(played, steps, strict=True)
        ],
    }


def _figures(binder: Binder, figures: Iterable[Notation]) -> str:
    return binder.render("_class_figures", tuple(figures)).strip()


def _recordings(views: Iterable[WarmUpView]) -> Iterator[str]:
    for view in views:
        for step in view.steps:
            if step.row.recording:
                yield step.row.recording.removeprefix("media/")


def _within(binder: Binder, name: str) -> str:
    """Put a recording into the file itself, since a page without a network may ask for no other."""
    kind = guess_type(name)[0] or _SOUND
    return f"data:{kind};base64,{b64encode(binder.media(name)).decode()}"
