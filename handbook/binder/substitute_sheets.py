"""A page for whoever leads a rehearsal in the director's place and need not be a musician."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import date

from markupsafe import Markup

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
from handbook.outputs.i18n.other_language import bare, within
from handbook.outputs.sheets.model import FAMILY_POINTS, Layout, Sheet
from handbook.outputs.sheets.qr import qr_drawing
from handbook.outputs.web_address import web_address
from handbook.plan.materials import needs_of
from handbook.plan.model import BlockRow, CyclePlan, EnsemblePlan, RehearsalRow
from handbook.records import dataclass
from handbook.schema.on_the_day import CallOnTheDay
from handbook.schema.substitute import AskedRole, Substitute

_SENTENCE = re.compile(r"[.!?؟。！？][”\"’]?\s*")
_LEAST = 20  # letters of a sentence that says what to do
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
    """A block of the hour in words that need no music, or those of its `exercise`; what is `played` gets a box to tick.

    `short` are its first words where it has more, or its name alone, and `long` one of those that give way first.
    """

    shown: BlockView
    words: str
    played: bool
    exercise: bool
    short: str = ""
    long: bool = False


@dataclass(frozen=True, slots=True)
class SubstitutePage:
    """One rehearsal as a substitute needs it; `players` is 0 where nobody counted them.

    `usual_room` is named where the rehearsal is in another, `concerts` has those of the same day.
    `address` is that of the band's page, empty where the site has none, and `code` the same to be scanned.
    `first_of_habit` are its first words, empty where it has no more, and `call` says whom to call
    on a day away from the band's own room.
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
    first_of_habit: str = ""
    code: Markup = Markup()
    call: CallOnTheDay | None = None

    @property
    def read_aloud(self) -> bool:
        """Whether anything is written to be read to the players."""
        return bool(self.habit or self.day.row.thanks or self.day.row.notices)

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
    tempos = [block.tempo for block in blocks if block.tempo]
    tempos += [tempo for block in blocks for _, tempo in block.tempos]
    dotted = [tempo for tempo in tempos if tempo.beat.dotted]
    if len(dotted) < len(tempos):
        yield gettext("The number at ♩ is clicks a minute.")
    if dotted:
        yield gettext("♩. counts the same way.")
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


def _first(words: str) -> str:
    """Give the first sentences of a text, as many as say anything; empty if they are all it has."""

    def cut(text: str) -> str:
        ends = (end.end() for end in _SENTENCE.finditer(text))
        return text[: next((end for end in ends if end >= _LEAST), len(text))].rstrip()

    first = within(words, cut)
    return first if first != words else ""


def _page(
    binder: Binder, ensemble: EnsemblePlan, day: RehearsalView, told: _Told
) -> SubstitutePage:
    say, row, program = binder.context.say, day.row, binder.plan.program
    contact = AskedRole(role=say(program.contact.role), phone=program.contact.phone)
    site = web_address(program.address)
    path = addresses.ensemble(told.cycle.id, ensemble.item.id)
    elsewhere = bool(day.line.rooms) or row.room != ensemble.room
    away = elsewhere and not day.line.rooms
    call = _on_the_day(binder, told.cycle, ensemble, row) if away else None
    address = f"{path}#warm-up" if ensemble.warm_up else path
    return SubstitutePage(
        band=say(ensemble.item.name),
        level=say(ensemble.item.level),
        players=ensemble.item.players,
        begins=clock(row.rehearsal.start),
        ends=clock(row.rehearsal.end),
        directions=say(row.room.directions) if row.room else "",
        day=day,
        habit=say(row.habit.text) if row.habit else "",
        first_of_habit=_first(say(row.habit.text)) if row.habit else "",
        blocks=_shortened(
            _plain(binder, ensemble, block, shown)
            for block, shown in zip(row.blocks, day.blocks, strict=True)
        ),
        needs=tuple(need_view(binder, need) for need in needs_of(ensemble, row)),
        before=ToldLines(_usual_before(), usual=True) if away else told.before,
        during=told.during,
        time_left=told.time_left,
        after=ToldLines((), usual=True) if away else told.after,
        never=told.never,
        ask=() if call else told.ask or (contact,),
        call=call,
        address=f"{site.partition('//')[2]}{address}" if site else "",
        code=_code(f"{site}{address}") if site else Markup(),
        warm_up=ensemble.warm_up is not None,
        usual_room=say(ensemble.room.name) if ensemble.room and elsewhere else "",
        concerts=tuple(_concerts(binder, told.cycle, ensemble, row.rehearsal.day)),
    )


def _code(address: str) -> Markup:
    """Draw the code of an address, which stands in the corner of the page."""
    drawing = Markup(qr_drawing(address))  # noqa: S704 (a drawing of ours)
    return drawing.replace(
        Markup("<svg "), Markup('<svg class="corner" aria-label="{}" ').format(address), 1
    )


def _on_the_day(
    binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow
) -> CallOnTheDay | None:
    """Find whom to call of an event of the same day, or of the next concert in the house where the band rehearses."""
    day = row.rehearsal.day
    for event in binder.plan.events:
        for one in event.days if event.is_for(ensemble.band) else ():
            if one.first <= day <= one.last and not one.cancelled and one.facts.on_the_day:
                return one.facts.on_the_day
    for concert in cycle.held_concerts:
        venue = concert.venue
        rooms = {venue.stage, *(room.id for room in venue.rooms)}
        here = row.room is not None and row.room.id in rooms
        if here and concert.item.date >= day and ensemble.band in concert.item.players:
            return concert.item.on_the_day
    return None


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
        short=_exercise(binder, block, first=True) or _warm_up_alone(binder, ensemble, shown),
    )


def _exercise(binder: Binder, block: BlockRow, *, first: bool = False) -> str:
    """Say how the exercise of a block is done, all of it or the `first` words; of several texts each after those it is for."""
    return " ".join(
        gettext("%(players)s: %(words)s", players=capital(one.who), words=words)
        if one.who
        else words
        for one in text_views(binder.context, block.exercise.how if block.exercise else None)
        for words in ((first and _first(one.text)) or one.text,)
    )


def _shortened(blocks: Iterable[PlainBlock]) -> tuple[PlainBlock, ...]:
    """Mark the longer half of the exercises, which give way first; never all, so that one is not marked."""
    made = list(blocks)
    told = [place for place, one in enumerate(made) if one.exercise]
    told.sort(key=lambda place: -len(bare(made[place].words)))
    for place in told[: len(told) // 2]:
        made[place] = replace(made[place], long=True)
    return tuple(made)


def _words(binder: Binder, ensemble: EnsemblePlan, shown: BlockView) -> str:
    """Say in plain words what is done in a block, where its name does not."""
    match BlockKind(shown.kind):
        case BlockKind.SET_UP:
            return gettext("They take out instruments and music, and sit down.")
        case BlockKind.WARM_UP:
            return _warm_up(binder, ensemble)
        case BlockKind.CLOSE:
            return gettext("They put everything away.")
        case _:
            return ""


def _warm_up(binder: Binder, ensemble: EnsemblePlan) -> str:
    if ensemble.warm_up is None:
        return gettext("Long, quiet notes together.")
    name = binder.context.say(ensemble.warm_up.name)
    return gettext("%(name)s. It can play by itself: see “Sound”.", name=name)


def _warm_up_alone(binder: Binder, ensemble: EnsemblePlan, shown: BlockView) -> str:
    """Name the warm-up alone."""
    if ensemble.warm_up is None or shown.kind != BlockKind.WARM_UP:
        return ""
    return binder.context.say(ensemble.warm_up.name)


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
