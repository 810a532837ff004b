"""The one table of what an order does, and says, where the class stands: order and context to effect and sentences.

Keys, pedal, help, typed words and the plain mode follow it: each gives an order, and what comes of that stands here and
nowhere else. Pure. Every order has a row for every context, or the module can't be imported; of several rows that fit,
the first holds. What an order does not do it says why not.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from itertools import product

from caller.transport.order import Order
from caller.transport.state import State


class Effect(Enum):
    NOTHING = "nothing"  # it says why
    WHEN_READY = "when-ready"  # start as soon as the calls are ready
    START = "start"  # as made ready
    HUSH = "hush"  # silence at once
    RESUME = "resume"  # from the bar (or as is set), counted in
    BEGIN = "begin"  # go elsewhere in the programme, and let that be heard from its start
    CHANGE = "change"  # how it is danced, called or looped from here on; what sounds goes on, and follows
    LEVEL = "level"  # the same at another loudness
    TO_EIGHT = "to-eight"  # the same, ending with the eight
    RUN_ON = "run-on"  # no, not ending with it
    SHOW = "show"  # the screen's own
    LEAVE = "leave"


@dataclass(frozen=True, slots=True)
class Context:
    """Where an order is given. lesson: in a taught programme, which goes by stages. danced: what is under way, stands
    or is next is danced, not only told. evening: it is an item of one; between: it waits between two items. alone: on a
    rung of a practice."""

    state: State
    lesson: bool = False
    danced: bool = True
    evening: bool = False
    between: bool = False
    alone: bool = False
    short: int = 4


@dataclass(frozen=True, slots=True)
class Response:
    """What comes of an order. title: what it is called here. tells: what it does, or why it does nothing. gives: what
    the programme is asked, where that is another order. answer: said when it is done, "" for nothing. elsewhere: it is
    an order of another kind of class, which help leaves out."""

    effect: Effect
    title: str
    tells: str
    gives: Order
    answer: str = ""
    elsewhere: bool = False


@dataclass(frozen=True, slots=True)
class _Row:
    """One row. states, lesson, danced, evening, between, alone: where it holds; None = everywhere."""

    order: Order
    title: str
    effect: Effect
    tells: str
    states: tuple[State, ...] | None = None
    lesson: bool | None = None
    danced: bool | None = None
    gives: Order | None = None
    answer: str = ""
    evening: bool | None = None
    between: bool | None = None
    alone: bool | None = None
    elsewhere: bool = False

    def holds(self, context: Context) -> bool:
        return (
            (self.states is None or context.state in self.states)
            and self.lesson in (None, context.lesson)
            and self.danced in (None, context.danced)
            and self.evening in (None, context.evening)
            and self.between in (None, context.between)
            and self.alone in (None, context.alone)
        )


_PREPARING = (State.GETTING_READY,)
_READY = (State.READY,)
_TELLING = (State.TELLING,)
_DANCED = (State.COUNT_IN, State.RUNNING, State.FINISHING)
_SOUNDING = (*_TELLING, *_DANCED)
_STOPPED = (State.PAUSED,)
_WAITING = (State.WAITING,)
_FINISHED = (State.FINISHED,)
_BEGUN = (*_SOUNDING, *_STOPPED, *_WAITING)

_NOT_READY = "The calls are still being prepared."
_NOT_BEGUN = "It has not begun."
_IS_OVER = "It is over; from the top begins it again."
_NOT_DANCED = "Nothing is being danced now."
_STAGE_NOT_DANCED = "Nothing is danced in this stage."
_EVENING_IS_OVER = "The evening is over."
_TITLES = {
    Order.GO: "Go on",
    Order.NEXT: "Next item",
    Order.PREVIOUS: "Back into the item",
    Order.SECTION_AGAIN: "Item again",
    Order.WALL_AGAIN: "Item again",
    Order.TOP: "Item again",
    Order.SLOWER: "Slower",
    Order.FASTER: "Faster",
    Order.TEMPO: "Tempo",
    Order.TAP_TEMPO: "Tap the tempo",
    Order.EASIER: "Easier way",
    Order.BOTH_WAYS: "Both ways",
    Order.SAY_FIGURE: "Say that figure",
    Order.SAY_AGAIN: "Say that again",
    Order.LOOP: "Loop this stage",
    Order.SECTION: "To a section",
    Order.STAGE: "To a stage",
    Order.LOOP_COUNTS: "Loop these counts",
    Order.LOOP_WALL: "Loop the wall's counts",
    Order.WAIT: "Wait after stages",
    Order.MANNER: "Way of calling",
    Order.NEXT_ITEM: "Next item",
    Order.ITEM: "To an item",
    Order.CUT: "Take out",
    Order.PUT_BACK: "Put back",
    Order.REQUEST: "Request",
    Order.LEARNT: "Learnt",
    Order.SHAKY: "Shaky",
    Order.NOT_DONE: "Not done",
}


def _nowhere(order: Order, title: str) -> Iterator[_Row]:
    """Why there is nowhere to go from, before the start and after the end."""
    yield _Row(order, title, Effect.NOTHING, _NOT_READY, _PREPARING)
    yield _Row(order, title, Effect.NOTHING, _NOT_BEGUN, _READY)
    yield _Row(order, title, Effect.NOTHING, _IS_OVER, _FINISHED)


def _between_items() -> Iterator[_Row]:
    """What there is to do between two items of an evening, and when it is over; before all else, since it holds
    there."""
    ended = (
        *(Order.GO, Order.NEXT, Order.PREVIOUS, Order.SECTION_AGAIN, Order.WALL_AGAIN, Order.TOP, Order.SECTION),
        *(Order.STAGE, Order.LOOP_COUNTS, Order.LOOP_WALL, Order.WAIT, Order.MANNER),
    )
    pace = (Order.SLOWER, Order.FASTER, Order.TEMPO, Order.TAP_TEMPO)
    still = (*pace, Order.EASIER, Order.BOTH_WAYS, Order.SAY_AGAIN, Order.SAY_FIGURE, Order.LOOP)
    for order in (*ended, *still):
        yield _Row(order, _TITLES[order], Effect.NOTHING, _EVENING_IS_OVER, _FINISHED, evening=True)
    for order in still:
        yield _Row(order, _TITLES[order], Effect.NOTHING, "The next item has not begun.", between=True)
    begin, goes_on, again = Effect.BEGIN, "Goes on with the next item.", "This item again from its start."
    yield _Row(Order.GO, "Go on", begin, goes_on, between=True, gives=Order.NEXT)
    yield _Row(Order.NEXT, "Next item", begin, goes_on, between=True)
    yield _Row(Order.SECTION_AGAIN, "Item again", begin, again, between=True)
    yield _Row(Order.WALL_AGAIN, "Item again", begin, again, between=True, gives=Order.SECTION_AGAIN)
    yield _Row(Order.TOP, "Item again", begin, again, between=True)
    yield _Row(Order.PREVIOUS, "Back into the item", begin, "Its last stage, or a dance from its top.", between=True)


def _alone() -> Iterator[_Row]:
    """Practice alone, which goes by rungs: each is left when it went well."""
    well, again, title = Order.WELL, Order.SECTION_AGAIN, "That went well"
    on, then = "That went well: on to the next rung.", "That goes well: the next rung once this go is danced."
    yield _Row(Order.GO, title, Effect.BEGIN, on, _WAITING, alone=True, gives=well)
    yield _Row(well, title, Effect.BEGIN, on, _WAITING, alone=True)
    yield _Row(well, title, Effect.CHANGE, then, (*_DANCED, *_STOPPED), alone=True, answer="On after this go.")
    yield _Row(well, title, Effect.NOTHING, "A rung goes well once it is danced.", alone=True)
    yield _Row(well, title, Effect.NOTHING, "Only practice alone goes by rungs.", elsewhere=True)
    where = "Again with calls; where it was stopped, that section by itself first."
    late = "The rung before did not go well: that again, with calls; else tells this again."
    yield _Row(again, "Again with calls", Effect.BEGIN, where, (*_DANCED, *_STOPPED), alone=True)
    yield _Row(again, "Again with calls", Effect.BEGIN, "This rung again with calls.", _WAITING, alone=True)
    yield _Row(again, "Again with calls", Effect.BEGIN, late, _TELLING, alone=True)


def _items() -> Iterator[_Row]:
    """The items of an evening."""
    none, change = Effect.NOTHING, Effect.CHANGE
    later = tuple(state for state in State if state not in (*_PREPARING, *_READY))
    for order, effect, tells in (
        (Order.NEXT_ITEM, Effect.BEGIN, "Leaves this item, and waits with the next; once more, with the one after it."),
        (Order.ITEM, Effect.BEGIN, "Leaves this item, and waits with that one."),
        (Order.CUT, change, "Takes out of the plan what is proposed, where the evening is late."),
        (Order.PUT_BACK, change, "Puts back what was last taken out of the plan."),
        (Order.REQUEST, change, "Asks for a dance by number or name; without one, tells which there are."),
        (Order.LEARNT, change, "The class can do this routine: into its book."),
        (Order.SHAKY, change, "The class can nearly do this routine: into its book, and due at the next class."),
        (Order.NOT_DONE, change, "This routine was not done: into the book, and due at the next class."),
    ):
        title = _TITLES[order]
        no_evening = "There is no evening under way: 'caller evening' plans one."
        yield _Row(order, title, none, no_evening, evening=False, elsewhere=True)
        yield _Row(order, title, none, _NOT_BEGUN, (*_PREPARING, *_READY))
        yield _Row(order, title, none, _EVENING_IS_OVER, _FINISHED)
        yield _Row(order, title, effect, tells, later)


def _going() -> Iterator[_Row]:
    title = "Start, pause, go on"
    again, stage_again, then = (
        "Dances it again from the top.",
        "Begins it again.",
        "Stops at once; goes on, counted in.",
    )
    yield _Row(Order.GO, title, Effect.WHEN_READY, "Starts as soon as the calls are ready.", _PREPARING)
    yield _Row(Order.GO, title, Effect.START, "Starts; stops at once; goes on, counted in.", _READY)
    yield _Row(Order.GO, title, Effect.HUSH, "Stops at once; goes on with the sentence.", _TELLING)
    yield _Row(Order.GO, title, Effect.HUSH, then, _DANCED)
    yield _Row(Order.GO, title, Effect.RESUME, "Goes on from where it stopped.", _STOPPED)
    yield _Row(Order.GO, title, Effect.BEGIN, "Goes on with the next stage.", _WAITING, gives=Order.NEXT)
    yield _Row(Order.GO, title, Effect.BEGIN, stage_again, _FINISHED, lesson=True, gives=Order.TOP)
    yield _Row(Order.GO, title, Effect.BEGIN, again, _FINISHED, gives=Order.TOP)
    title, eight = "Pause after the {eight}", "Dances the {eight} to its end, then pauses; once more, dances on."
    yield _Row(Order.STOP_AT_EIGHT, title, Effect.TO_EIGHT, eight, (State.COUNT_IN, State.RUNNING))
    yield _Row(Order.STOP_AT_EIGHT, title, Effect.RUN_ON, "Dances on after all.", (State.FINISHING,))
    yield _Row(Order.STOP_AT_EIGHT, title, Effect.NOTHING, _NOT_DANCED + " There is no {eight} to end.")


def _tempo() -> Iterator[_Row]:
    change = Effect.CHANGE
    for order, title, word, calls in (
        (Order.SLOWER, "Slower", "slower", ", and the calls are back"),
        (Order.FASTER, "Faster", "faster", ""),
    ):
        stage = f"From here on a little {word}{calls}."
        yield _Row(order, title, change, stage, _BEGUN, lesson=True, danced=True)
        yield _Row(order, title, change, f"All of it 4 counts a minute {word}.", lesson=True)
        yield _Row(order, title, change, f"4 counts a minute {word}, at once.")
    half = "Half speed, though no slower than steps can be danced; once more, full speed again."
    yield _Row(Order.HALF, "Half speed", change, half)
    yield _Row(Order.TAP_TEMPO, "Tap the tempo", change, "Once on each count; from the third on it holds.")
    stage = "That tempo for this stage, in counts a minute."
    yield _Row(Order.TEMPO, "Tempo", change, stage, _BEGUN, lesson=True, danced=True)
    yield _Row(Order.TEMPO, "Tempo", change, "That tempo, in counts a minute.")
    share = "That share of this stage's tempo."
    yield _Row(Order.SHARE, "Share of the tempo", change, share, _BEGUN, lesson=True, danced=True)
    yield _Row(Order.SHARE, "Share of the tempo", change, "That share of the full tempo.")
    yield _Row(Order.SLOW_ON, "Slow down", change, "Three quarters of the speed while it lasts.")
    yield _Row(Order.SLOW_OFF, "Up to speed", change, "Back to the speed before.")


def _moves() -> Iterator[_Row]:
    begin, stages = Effect.BEGIN, (*_DANCED, *_STOPPED, *_WAITING)
    again = Order.SECTION_AGAIN
    yield from _nowhere(again, "Again")
    yield _Row(again, "Stage again", begin, "Tells this from its start.", _TELLING, lesson=True)
    yield _Row(again, "Stage again", begin, "Tells this from its start.", stages, lesson=True, danced=False)
    yield _Row(again, "Stage again", begin, "This stage danced from its start, counted in.", stages, lesson=True)
    yield _Row(again, "Section again", begin, "From the start of this section, counted in.")
    wall, placed = "Wall again", (*_DANCED, *_STOPPED)
    yield from _nowhere(Order.WALL_AGAIN, wall)
    stage = "From the start of this wall, as far as it is in the stage."
    yield _Row(Order.WALL_AGAIN, wall, begin, stage, placed, lesson=True, danced=True)
    yield _Row(Order.WALL_AGAIN, wall, begin, "No wall is under way: the stage again.", lesson=True, gives=again)
    yield _Row(Order.WALL_AGAIN, wall, begin, "From the start of this wall, counted in.")
    for order, title, bars in (
        (Order.LAST_FOUR, "Last {four}", "{four} counts"),
        (Order.LAST_EIGHT, "Last {eight}", "{eight} counts"),
        (Order.LAST_COUNTS, "Last counts", "so many counts, whole bars,"),
    ):
        yield from _nowhere(order, title)
        yield _Row(order, title, begin, f"From {bars} before this bar, counted in.", placed, danced=True)
        yield _Row(order, title, Effect.NOTHING, f"{_NOT_DANCED} There are no counts to go back by.")
    say, title = Order.SAY_AGAIN, "Say that again"
    yield from _nowhere(say, title)
    yield _Row(say, title, begin, "The sentence again.", _TELLING)
    yield _Row(say, title, begin, "Tells the steps of this section, then goes on from this bar.", placed)
    yield _Row(say, title, begin, "Tells the steps again.")
    figure, title = Order.SAY_FIGURE, "Say that figure"
    yield from _nowhere(figure, title)
    yield _Row(figure, title, begin, "The sentence again.", _TELLING, gives=say)
    yield _Row(figure, title, begin, "Tells the figure under way, then goes on from this bar.", placed)
    yield _Row(figure, title, Effect.NOTHING, f"{_NOT_DANCED} There is no figure to tell.")
    yield _Row(Order.PREVIOUS, "Last stage again", begin, "Goes back to it.", _FINISHED, lesson=True)
    for order, title, place in ((Order.PREVIOUS, "Previous", "before"), (Order.NEXT, "Next", "after")):
        yield from _nowhere(order, title)
        yield _Row(order, f"{title} stage", begin, f"The stage {place} this one.", lesson=True)
        yield _Row(order, f"{title} section", begin, f"The section {place} this one, counted in.")
    yield _Row(Order.SECTION, "To a section", Effect.NOTHING, _NOT_READY, _PREPARING)
    yield _Row(Order.SECTION, "To a section", begin, "The stage that teaches that section.", lesson=True)
    yield _Row(Order.SECTION, "To a section", begin, "From that section of this wall, counted in.")
    yield _Row(Order.STAGE, "To a stage", Effect.NOTHING, _NOT_READY, _PREPARING)
    yield _Row(Order.STAGE, "To a stage", begin, "That stage.", lesson=True)
    yield _Row(Order.STAGE, "To a stage", Effect.NOTHING, "A dance has no stages.")
    yield _Row(Order.TOP, "From the top", Effect.NOTHING, _NOT_READY, _PREPARING)
    yield _Row(Order.TOP, "From the top", begin, "All of it from the first stage.", lesson=True)
    yield _Row(Order.TOP, "From the top", begin, "The whole dance from its first step.")


def _waits() -> Iterator[_Row]:
    title, after = "Wait after stages", "Waits after this stage and each one; once more, goes on by itself."
    yield _Row(Order.WAIT, title, Effect.CHANGE, after, lesson=True)
    yield _Row(Order.WAIT, title, Effect.NOTHING, "A dance has no stages to wait after.")


def _loops() -> Iterator[_Row]:
    change, begin, none = Effect.CHANGE, Effect.BEGIN, Effect.NOTHING
    placed = (*_DANCED, *_STOPPED)
    stage = "Over and over; once more, as often as it was to be."
    loop = Order.LOOP
    yield _Row(
        loop, "Loop this stage", none, f"{_STAGE_NOT_DANCED} There is nothing to loop.", lesson=True, danced=False
    )
    yield _Row(loop, "Loop this stage", change, stage, lesson=True)
    yield _Row(loop, "Loop this section", change, "Over and over; once more, dances on after it.")
    marks, ends = "Marks where a loop of your own begins.", "From the mark to the end of this bar, over and over."
    answer = "The loop begins with this bar; ] ends it."
    there = (*_DANCED, *_STOPPED)
    yield _Row(Order.LOOP_FROM, "Loop from here", change, marks, there, danced=True, answer=answer)
    yield _Row(Order.LOOP_FROM, "Loop from here", none, f"{_NOT_DANCED} A loop is marked in what is danced.")
    yield _Row(Order.LOOP_TO, "Loop to here", begin, ends, placed, lesson=True, danced=True)
    yield _Row(Order.LOOP_TO, "Loop to here", change, ends, placed, lesson=False)
    yield _Row(Order.LOOP_TO, "Loop to here", none, f"{_NOT_DANCED} A loop is marked in what is danced.")
    here = "Those counts as shown, over and over; beyond the section, of the wall."
    for counts, title, tells in (
        (Order.LOOP_COUNTS, "Loop these counts", here),
        (Order.LOOP_WALL, "Loop the wall's counts", "Those counts of this wall, over and over."),
    ):
        why = f"{_STAGE_NOT_DANCED} Counts are looped in one that is."
        yield _Row(counts, title, none, _NOT_READY, _PREPARING)
        yield _Row(counts, title, none, why, lesson=True, danced=False)
        yield _Row(counts, title, begin, tells)


def _manners() -> Iterator[_Row]:
    title, ways = "Way of calling", "Ahead, on the count, numbers only, prompts only, quiet: the next of them."
    yield _Row(Order.MANNER, title, Effect.NOTHING, f"{_STAGE_NOT_DANCED} Nor called.", lesson=True, danced=False)
    yield _Row(Order.MANNER, title, Effect.CHANGE, ways)
    yield _Row(Order.EASIER, "Easier way", Effect.CHANGE, "The sheet's options; once more, not.")
    half = "Half the hall dances the easier way: told once, and shown where it comes; once more, not."
    yield _Row(Order.BOTH_WAYS, "Both ways", Effect.CHANGE, half)


def _levels() -> Iterator[_Row]:
    level = Effect.LEVEL
    yield _Row(Order.MUTE, "Mute", level, "Silence, dancing on; once more, sound again.")
    for softer, louder, what, tells in (
        (Order.COUNT_SOFTER, Order.COUNT_LOUDER, "Count", "The count track, by a step."),
        (Order.CALLS_SOFTER, Order.CALLS_LOUDER, "Calls", "What is spoken, by a step."),
        (Order.MUSIC_SOFTER, Order.MUSIC_LOUDER, "Music", "The recording, by a step."),
    ):
        yield _Row(softer, f"{what} softer", level, tells)
        yield _Row(louder, f"{what} louder", level, tells)
    yield _Row(Order.HELP, "Help", Effect.SHOW, "Shows every order.")
    yield _Row(Order.QUIT, "Leave", Effect.LEAVE, "Ends the class.")


ROWS = (
    *(*_between_items(), *_items(), *_alone()),
    *(*_going(), *_tempo(), *_moves(), *_waits(), *_loops(), *_manners(), *_levels()),
)
# A dance is danced throughout, and has no stages to wait after. Between two items of an evening nothing is danced.
CONTEXTS = tuple(
    Context(state, lesson, danced, evening, between, alone)
    for state in State
    for lesson, danced, evening, between, alone in product((False, True), repeat=5)
    if (lesson or (danced and state is not State.WAITING))
    and (not between or (evening and lesson and not danced and state in (State.WAITING, State.FINISHED)))
    and (not alone or (lesson and danced and not evening and state is not State.FINISHED))
)


def _response(context: Context, order: Order) -> Response:
    row = next((row for row in ROWS if row.order is order and row.holds(context)), None)
    if row is None:
        raise LookupError(f"no row says what {order} does in {context}")
    return Response(row.effect, row.title, row.tells, row.gives or order, row.answer, row.elsewhere)


TABLE = {(context, order): _response(context, order) for context in CONTEXTS for order in Order}
_SHORT_WORDS = {4: ("four", "eight"), 3: ("three", "six"), 6: ("six", "twelve")}


def respond(context: Context, order: Order) -> Response:
    """What ``order`` does in ``context``, and says."""
    found = TABLE[replace(context, short=4), order]
    counts = dict(zip(("four", "eight"), _SHORT_WORDS[context.short], strict=True))
    title, tells, answer = (words.format(**counts) for words in (found.title, found.tells, found.answer))
    return replace(found, title=title, tells=tells, answer=answer)
