"""A page for whoever leads a rehearsal in the director's place and need not be a musician."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from handbook.binder.model import Binder, BinderFile
from handbook.binder.needs import NeedView, need_view
from handbook.binder.paper import BandFile, band_sheets
from handbook.domain.minutes import BlockKind
from handbook.domain.season import MusicKind
from handbook.outputs import addresses
from handbook.outputs.components.blocks import BlockView
from handbook.outputs.components.concert_words import meeting_place
from handbook.outputs.components.event_words import capital
from handbook.outputs.components.rehearsal_view import RehearsalView, band_rehearsals
from handbook.outputs.components.texts_for import text_views
from handbook.outputs.html.formatting import clock
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.sheets.model import FAMILY_POINTS, Layout, Sheet
from handbook.outputs.web_address import web_address
from handbook.plan.materials import needs_of
from handbook.plan.model import BlockRow, CyclePlan, EnsemblePlan
from handbook.records import dataclass
from handbook.schema.substitute import AskedRole, Substitute

_PLAYED = frozenset(
    {BlockKind.WARM_UP, BlockKind.FUNDAMENTALS, BlockKind.MUSIC, BlockKind.SIGHT_READING}
)


@dataclass(frozen=True, slots=True)
class ToldLines:
    """What is told about one thing; `usual` if it is common practice, since the director wrote nothing of it."""

    lines: tuple[str, ...]
    usual: bool


@dataclass(frozen=True, slots=True)
class PlainBlock:
    """A block of the hour in words that need no music, or those of its `exercise`; what is `played` gets a box to tick."""

    shown: BlockView
    words: str
    played: bool
    exercise: bool


@dataclass(frozen=True, slots=True)
class SubstitutePage:
    """One rehearsal as a substitute needs it; `players` is 0 where nobody counted them.

    `usual_room` is named where the rehearsal is in another, `concerts` has those of the same day,
    and `address` is that of the band's page, empty where the site has none.
    """

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
    warm_up: bool
    usual_room: str
    concerts: tuple[str, ...]

    @property
    def signs(self) -> tuple[str, ...]:
        """The signs of the hour that a musician reads and others do not, in words."""
        shown = [block.shown for block in self.blocks]
        return tuple(_signs(shown))

    @property
    def exercises(self) -> bool:
        """Whether an exercise is told."""
        return any(block.exercise for block in self.blocks)

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


def _signs(blocks: Iterable[BlockView]) -> Iterator[str]:
    music = [block.how for block in blocks if block.how]
    if any(block.tempo for block in blocks):
        yield gettext("The number at ♩ is clicks a minute.")
    if music:
        yield gettext("“mm.” are measures, numbered in the music.")
    if MusicKind.JOIN.value in music:
        yield gettext("A join plays passages on end, each at its number.")
    if MusicKind.RUN.value in music:
        yield gettext("A whole piece goes on to its end, slips or not.")


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
    return (gettext("Leave this page on the stand."),)


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
    elsewhere = bool(day.line.rooms) or row.room != ensemble.room
    return SubstitutePage(
        band=say(ensemble.item.name),
        level=say(ensemble.item.level),
        players=ensemble.item.players,
        begins=clock(row.rehearsal.start),
        ends=clock(row.rehearsal.end),
        directions=say(row.room.directions) if row.room else "",
        day=day,
        habit=say(row.habit.text) if row.habit else "",
        blocks=tuple(
            _plain(binder, ensemble, block, shown)
            for block, shown in zip(row.blocks, day.blocks, strict=True)
        ),
        needs=tuple(need_view(binder, need) for need in needs_of(ensemble, row)),
        before=told.before,
        during=told.during,
        time_left=told.time_left,
        after=told.after,
        never=told.never,
        ask=told.ask or (contact,),
        address=f"{site.partition('//')[2]}{path}" if site else "",
        warm_up=ensemble.warm_up is not None,
        usual_room=say(ensemble.room.name) if ensemble.room and elsewhere else "",
        concerts=tuple(_concerts(binder, told.cycle, ensemble, row.rehearsal.day)),
    )


def _concerts(binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan, day: date) -> Iterator[str]:
    """Say what the band plays on the same day, and when and where its players must be there."""
    say = binder.context.say
    for concert in cycle.held_concerts:
        if concert.item.date != day or ensemble.band not in concert.item.players:
            continue
        yield pgettext(
            "stop behind words",
            "%(words)s.",
            words=with_commas(
                (say(concert.item.name), clock(concert.downbeat), say(concert.venue.name))
            ),
        )
        group = concert.day.group_of(ensemble.band)
        if group and group.report:
            place = meeting_place(binder.context, concert, group)
            yield gettext(
                "Players are there at: %(words)s.",
                words=with_commas(filter(None, (clock(group.report), place))),
            )


def _plain(binder: Binder, ensemble: EnsemblePlan, block: BlockRow, shown: BlockView) -> PlainBlock:
    exercise = _exercise(binder, block)
    return PlainBlock(
        shown,
        exercise or _words(binder, ensemble, shown),
        played=shown.kind in _PLAYED,
        exercise=bool(exercise),
    )


def _exercise(binder: Binder, block: BlockRow) -> str:
    """Say how the exercise of a block is done; of several texts each after those it is for."""
    return " ".join(
        gettext("%(players)s: %(words)s", players=capital(one.who), words=one.text)
        if one.who
        else one.text
        for one in text_views(binder.context, block.exercise.how if block.exercise else None)
    )


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
        case _:
            return ""


def _warm_up(binder: Binder, ensemble: EnsemblePlan) -> str:
    if ensemble.warm_up is None:
        return gettext("Long, quiet notes together.")
    name = binder.context.say(ensemble.warm_up.name)
    return gettext("%(name)s. It can play by itself: see “Sound”.", name=name)


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
    file = BandFile(
        ends="substitute",
        title=lambda name: gettext("%(band)s: for a substitute", band=name),
        about=gettext("One page for each rehearsal, for someone who need not be a musician (PDF)."),
    )
    return band_sheets(binder, file, substitute_pages, substitute_sheet)
