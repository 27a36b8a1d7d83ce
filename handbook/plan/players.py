"""Who rehearses together: a band, or one of its groups that has rehearsals of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Protocol

from handbook.records import dataclass
from handbook.schema.program import BandGroup, Ensemble


class OfBand(Protocol):
    """An entry that is about a band, or about one group of it."""

    @property
    def ensemble(self) -> str | None:
        """The id of the band."""

    @property
    def group(self) -> str | None:
        """The id of the group; None for the whole band."""


@dataclass(frozen=True, slots=True)
class Players:
    """Those who have rehearsals, a plan and pages together."""

    band: Ensemble
    group: BandGroup | None = None

    @property
    def id(self) -> str:
        """The band's id, with the group's after it."""
        return f"{self.band.id}-{self.group.id}" if self.group else self.band.id

    @property
    def item(self) -> Ensemble:
        """The ensemble that they are by themselves: of a group with its own name and instruments."""
        if self.group is None:
            return self.band
        own = {
            "id": self.id,
            "name": self.band.name.followed_by(self.group.name),
            "instruments": self.group.instruments or self.band.instruments,
            "groups": (),
        }
        return self.band.model_copy(update=own)

    def named_by(self, entry: OfBand) -> bool:
        """Whether an entry is about them; one that names no group is about all of the band."""
        return entry.ensemble == self.band.id and (
            entry.group is None or (self.group is not None and entry.group == self.group.id)
        )


def players_of(band: Ensemble) -> tuple[Players, ...]:
    """Give a band's groups, each by itself, or the band if it has none."""
    return tuple(Players(band, group) for group in band.groups) or (Players(band),)


def everyone(bands: Iterable[Ensemble]) -> tuple[Ensemble, ...]:
    """Give all that a player may belong to: the bands, and groups in place of those that have them."""
    return tuple(players.item for band in bands for players in players_of(band))


def players_in(ensembles: Iterable[str], bands: Mapping[str, Ensemble]) -> tuple[Players, ...]:
    """Give all who rehearse in a cycle, in the order of its `ensembles`."""
    return tuple(one for name in ensembles if name in bands for one in players_of(bands[name]))
