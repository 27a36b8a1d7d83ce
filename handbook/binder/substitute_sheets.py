"""A page for whoever leads a rehearsal in the director's place and need not be a musician."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from handbook.binder.model import Binder, BinderFile
from handbook.binder.needs import NeedView, need_view
from handbook.binder.paper import band_sheets
from handbook.domain.minutes import BlockKind
from handbook.domain.season import MusicKind
from handbook.outputs import addresses
from handbook.outputs.components.blocks import BlockView
from handbook.outputs.components.rehearsal_view import RehearsalView, band_rehearsals
from handbook.outputs.html.formatting import clock
from handbook.outputs.i18n import gettext
from handbook.outputs.sheets.model import FAMILY_POINTS, Layout, Sheet
from handbook.outputs.web_address import web_address
from handbook.plan.materials import needs_of
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass
from handbook.schema.substitute import AskedRole, Substitute


@dataclass(frozen=True, slots=True)
class ToldLines:
    """What is told about one thing; `usual` if it is common practice, since the director wrote nothing of it."""

    lines: tuple[str, ...]
    usual: bool


@dataclass(frozen=True, slots=True)
class PlainBlock:
    """A block of the hour in words that need no music."""

    shown: BlockView
    words: str


@dataclass(frozen=True, slots=True)
class SubstitutePage:
    """One rehearsal as a substitute needs it; `players` is 0 where nobody counted them."""

    band: str
    level: str
    players: int
    begins: str
    ends: str
    directions: str
    day: RehearsalView
    habit: str
    blocks: tuple[PlainBlock, ...]
    needs: tuple[NeedView, ...]
    before: ToldLines
    during: ToldLines
    time_left: ToldLines
    after: ToldLines
    never: ToldLines
    ask: tuple[AskedRole, ...]
    address: str

    @property
    def any_usual(self) -> bool:
        """Whether anything is told that the director did not write."""
        told = (self.before, self.during, self.time_left, self.after, self.never)
        return any(one.usual for one in told)

    @property
    def recordings(self) -> tuple[NeedView, ...]:
        """What is played from a file."""
        return tuple(need for need in self.needs if need.sound)

    @property
    def things(self) -> tuple[NeedView, ...]:
        """All else that must lie ready."""
        return tuple(need for need in self.needs if not need.sound)


def substitute_pages(
    binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan
) -> tuple[SubstitutePage, ...]:
    """Gather the pages of a band's rehearsals, in order."""
    told = _Told(binder, cycle)
    days = band_rehearsals(binder.context, cycle, ensemble)
    return tuple(_page(binder, ensemble, day, told) for day in days)


class _Told:
    """What is told at every rehearsal of a cycle."""

    def __init__(self, binder: Binder, cycle: CyclePlan) -> None:
        program = binder.plan.program
        given = [one for one in (program.substitute, cycle.item.substitute) if one is not None]
        self.before = _lines(given, lambda one: one.before, _usual_before)
        self.during = _lines(given, lambda one: one.during, _usual_during)
        self.time_left = _lines(given, lambda one: one.time_left, _usual_time_left)
        self.after = _lines(given, lambda one: one.after, _usual_after)
        self.never = _lines(given, lambda one: one.never, _usual_never)
        self.ask = tuple(role for one in given for role in one.ask)
        self.cycle = cycle


def _lines(
    given: Iterable[Substitute],
    field: Callable[[Substitute], tuple[str, ...]],
    usual: Callable[[], tuple[str, ...]],
) -> ToldLines:
    own = tuple(line for one in given for line in field(one))
    return ToldLines(own or usual(), usual=not own)


def _usual_before() -> tuple[str, ...]:
    return (gettext("Let the players in as on any day, and take the roll while they set up."),)


def _usual_during() -> tuple[str, ...]:
    return (
        gettext("Ask a section leader to start each thing: they know how it goes."),
        gettext(
            "Music: start a click at the number, and let them play those measures three times with a breath between. Never faster."
        ),
    )


def _usual_time_left() -> tuple[str, ...]:
    return (
        gettext("Count and clap a line of the music, then finger it without a sound."),
        gettext("Play the recording of a piece, and let them tell what they heard."),
    )


def _usual_after() -> tuple[str, ...]:
    return (gettext("Write down what was played and what was not, and leave it on the stand."),)


def _usual_never() -> tuple[str, ...]:
    return (
        gettext(
            "Move or lift nothing heavy or awkward, and let no player do it: your district’s rules say who may."
        ),
    )


def _page(
    binder: Binder, ensemble: EnsemblePlan, day: RehearsalView, told: _Told
) -> SubstitutePage:
    say, row, program = binder.context.say, day.row, binder.plan.program
    contact = AskedRole(role=say(program.contact.role), phone=program.contact.phone)
    site = web_address(program.address)
    path = addresses.ensemble(told.cycle.id, ensemble.item.id)
    return SubstitutePage(
        band=say(ensemble.item.name),
        level=say(ensemble.item.level),
        players=ensemble.item.players,
        begins=clock(row.rehearsal.start),
        ends=clock(row.rehearsal.end),
        directions=say(row.room.directions) if row.room else "",
        day=day,
        habit=say(row.habit.text) if row.habit else "",
        blocks=tuple(_block(binder, ensemble, shown) for shown in day.blocks),
        needs=tuple(need_view(binder, need) for need in needs_of(ensemble, row)),
        before=told.before,
        during=told.during,
        time_left=told.time_left,
        after=told.after,
        never=told.never,
        ask=told.ask or (contact,),
        address=f"{site.partition('//')[2]}{path}" if site else "",
    )


def _block(binder: Binder, ensemble: EnsemblePlan, shown: BlockView) -> PlainBlock:
    return PlainBlock(shown, _words(binder, ensemble, shown))


def _words(binder: Binder, ensemble: EnsemblePlan, shown: BlockView) -> str:
    """Say in plain words what is done in a block, where its name does not."""
    match BlockKind(shown.kind):
        case BlockKind.SET_UP:
            return gettext("They take out instruments and music, and sit down.")
        case BlockKind.WARM_UP:
            return _warm_up(binder, ensemble)
        case BlockKind.NOTICES:
            return gettext("Read this aloud.")
        case BlockKind.CLOSE:
            return gettext("They put everything away.")
        case BlockKind.MUSIC if shown.how == MusicKind.RUN.value:
            return gettext("They play it from start to end and do not stop for slips.")
        case _:
            return ""


def _warm_up(binder: Binder, ensemble: EnsemblePlan) -> str:
    if ensemble.warm_up is None:
        return gettext("Long, quiet notes together.")
    name = binder.context.say(ensemble.warm_up.name)
    return gettext("%(name)s. It plays by itself: press “Play this warm-up”.", name=name)


def substitute_sheet(path: str, title: str, *pages: SubstitutePage) -> Sheet:
    """Put pages into one file."""
    return Sheet(
        path=path,
        kind="substitute",
        title=title,
        view=pages,
        points=FAMILY_POINTS,
        notice=gettext("Private: for whoever leads this rehearsal. Do not post or share."),
        layout=Layout.PAGES,
    )


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make a file for each band, with a page for each rehearsal."""

    def of_band(cycle: CyclePlan, ensemble: EnsemblePlan) -> Sheet:
        name = binder.context.say(ensemble.item.name)
        return substitute_sheet(
            f"{cycle.id}/{ensemble.item.id}-substitute.pdf",
            gettext("%(band)s: for a substitute", band=name),
            *substitute_pages(binder, cycle, ensemble),
        )

    about = gettext("One page for each rehearsal, for someone who need not be a musician (PDF).")
    return band_sheets(binder, of_band, about)
