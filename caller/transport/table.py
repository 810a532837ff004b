"""The one table of what an order does, and says, where the class stands: order and context to effect and sentences.

Keys, pedal, help, typed words and the plain mode follow it: each gives an order, and what comes of that stands here and
nowhere else. Pure. Of several rows that fit, the first holds. What an order does not do it says why not.
"""

from __future__ import annotations

from collections.abc import Iterator

from caller.transport.context import Effect, OrderRow
from caller.transport.go_and_pause import each_by_its_word
from caller.transport.leaving import leaving
from caller.transport.order import Order
from caller.transport.state import State
from caller.transport.titles import TITLES

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
# What an evening's plan may be made otherwise by before its first item, when there is time for that.
_BEFORE_IT_BEGINS = (Order.CUT, Order.PUT_BACK, Order.REQUEST, Order.NEXT_ITEM)


def _nowhere(order: Order, title: str) -> Iterator[OrderRow]:
    """Why there is nowhere to go from, before the start and after the end."""
    yield OrderRow(order, title, Effect.NOTHING, _NOT_READY, _PREPARING)
    yield OrderRow(order, title, Effect.NOTHING, _NOT_BEGUN, _READY)
    yield OrderRow(order, title, Effect.NOTHING, _IS_OVER, _FINISHED)


def _between_items() -> Iterator[OrderRow]:
    """What there is to do between two items of an evening, and when it is over; before all else, since it holds
    there."""
    ended = (
        *(Order.GO, Order.NEXT, Order.PREVIOUS, Order.SECTION_AGAIN, Order.WALL_AGAIN, Order.TOP, Order.SECTION),
        *(Order.STAGE, Order.LOOP_COUNTS, Order.LOOP_WALL, Order.WAIT, Order.MANNER),
    )
    pace = (Order.SLOWER, Order.FASTER, Order.TEMPO, Order.TAP_TEMPO)
    told = (Order.SAY_AGAIN, Order.SAY_FIGURE, Order.EASIER, Order.BOTH_WAYS, Order.CHANGE_OVER)
    still = (*pace, *told, Order.LOOP, Order.SO_FAR, Order.TO_WALL)
    for order in (*ended, *still):
        yield OrderRow(order, TITLES[order], Effect.NOTHING, _EVENING_IS_OVER, _FINISHED, evening=True)
    for order in still:
        yield OrderRow(order, TITLES[order], Effect.NOTHING, "The next item has not begun.", between=True)
    begin, goes_on, again = Effect.BEGIN, "Goes on with the next item.", "This item again from its start."
    yield OrderRow(Order.GO, "Go on", begin, goes_on, between=True, gives=Order.NEXT)
    yield OrderRow(Order.NEXT, "Next item", begin, goes_on, between=True)
    yield OrderRow(Order.SECTION_AGAIN, "Item again", begin, again, between=True)
    yield OrderRow(Order.WALL_AGAIN, "Item again", begin, again, between=True, gives=Order.SECTION_AGAIN)
    yield OrderRow(Order.TOP, "Item again", begin, again, between=True)
    yield OrderRow(
        Order.PREVIOUS,
        "Back into the item",
        begin,
        "Its last stage, or a dance from its top; a lesson that stopped as planned goes on.",
        between=True,
    )


def _alone() -> Iterator[OrderRow]:
    """Practice alone: a rung, or a place danced by itself, is left when it went well."""
    well, again, title = Order.WELL, Order.SECTION_AGAIN, "That went well"
    on, then = "That went well: on from here.", "That goes well: on once this go is danced."
    yield OrderRow(Order.GO, title, Effect.BEGIN, on, _WAITING, alone=True, gives=well)
    yield OrderRow(well, title, Effect.BEGIN, on, _WAITING, alone=True)
    yield OrderRow(well, title, Effect.CHANGE, then, _DANCED, alone=True, answer="On after this go.")
    stood, left = "Leaves this; go on begins what comes next.", "What comes next begins when you go on."
    yield OrderRow(well, title, Effect.BEGIN, stood, _STOPPED, alone=True, answer=left)
    yield OrderRow(well, title, Effect.NOTHING, "That went well is said of what has been danced.", alone=True)
    yield OrderRow(well, title, Effect.NOTHING, "Only what is danced in a practice alone is left so.", elsewhere=True)
    where = "Again with calls; a rung that was stopped, that section by itself first."
    late = "The rung before did not go well: that again, with calls; else tells this again."
    yield OrderRow(again, "Again with calls", Effect.BEGIN, where, (*_DANCED, *_STOPPED), alone=True)
    yield OrderRow(again, "Again with calls", Effect.BEGIN, "This rung again with calls.", _WAITING, alone=True)
    yield OrderRow(again, "Again with calls", Effect.BEGIN, late, _TELLING, alone=True)


def _items() -> Iterator[OrderRow]:
    """The items of an evening."""
    none, change = Effect.NOTHING, Effect.CHANGE
    for order, effect, tells in (
        (Order.NEXT_ITEM, Effect.BEGIN, "Leaves this item, and waits with the next; once more, with the one after it."),
        (Order.ITEM, Effect.BEGIN, "Leaves this item, and waits with that one."),
        (Order.CUT, change, "Takes out what is proposed where the evening is late, or shortens the lesson."),
        (Order.PUT_BACK, change, "Puts back what was last taken out of the plan."),
        (
            Order.REQUEST,
            change,
            "Asks for a dance by number or name, with last for the end; alone, tells which there are.",
        ),
        (Order.LEARNT, change, "The class can do this routine, or the one named behind it: into its book."),
        (
            Order.SHAKY,
            change,
            "The class can nearly do this routine, or the one named behind it: into its book, due at the next class.",
        ),
        (
            Order.NOT_DONE,
            change,
            "This routine, or the one named behind it, was not done: into the book, and due at the next class.",
        ),
    ):
        title = TITLES[order]
        no_evening = "There is no evening under way: 'caller evening' plans one."
        yield OrderRow(order, title, none, no_evening, evening=False, elsewhere=True)
        if order not in _BEFORE_IT_BEGINS:
            yield OrderRow(order, title, none, _NOT_BEGUN, (*_PREPARING, *_READY))
        yield OrderRow(order, title, none, _EVENING_IS_OVER, _FINISHED)
        yield OrderRow(order, title, effect, tells)


def _going() -> Iterator[OrderRow]:
    title = "Start, pause, go on"
    again, stage_again, then = (
        "Dances it again from the top.",
        "Begins it again.",
        "Stops at once; goes on, counted in.",
    )
    yield OrderRow(Order.GO, title, Effect.WHEN_READY, "Starts by itself as soon as it can.", _PREPARING)
    yield OrderRow(Order.GO, title, Effect.START, "Starts; stops at once; goes on, counted in.", _READY)
    yield OrderRow(Order.GO, title, Effect.HUSH, "Stops at once; goes on with the sentence.", _TELLING)
    yield OrderRow(Order.GO, title, Effect.HUSH, then, _DANCED)
    yield OrderRow(Order.GO, title, Effect.RESUME, "Goes on from where it stopped.", _STOPPED)
    yield OrderRow(Order.GO, title, Effect.BEGIN, "Goes on with the next stage.", _WAITING, gives=Order.NEXT)
    yield OrderRow(Order.GO, title, Effect.BEGIN, stage_again, _FINISHED, lesson=True, gives=Order.TOP)
    yield OrderRow(Order.GO, title, Effect.BEGIN, again, _FINISHED, gives=Order.TOP)
    title, eight = "Pause after the {eight}", "Dances the {eight} to its end, then pauses; once more, dances on."
    yield OrderRow(Order.STOP_AT_EIGHT, title, Effect.TO_EIGHT, eight, (State.COUNT_IN, State.RUNNING))
    yield OrderRow(Order.STOP_AT_EIGHT, title, Effect.RUN_ON, "Dances on after all.", (State.FINISHING,))
    yield OrderRow(Order.STOP_AT_EIGHT, title, Effect.NOTHING, _NOT_DANCED + " There is no {eight} to end.")


def _tempo() -> Iterator[OrderRow]:
    change = Effect.CHANGE
    for order, title, word, calls in (
        (Order.SLOWER, "Slower", "slower", "; the calls are back"),
        (Order.FASTER, "Faster", "faster", ""),
    ):
        stage = f"From here on a little {word}, in slow stages only or at full speed only, as here{calls}."
        yield OrderRow(order, title, change, stage, _BEGUN, lesson=True, danced=True)
        yield OrderRow(order, title, change, f"All of it 4 counts a minute {word}.", lesson=True)
        yield OrderRow(order, title, change, f"4 counts a minute {word}, at once.")
    half = "Half speed, though no slower than steps can be danced; once more, full speed again."
    yield OrderRow(Order.HALF, "Half speed", change, half)
    yield OrderRow(Order.TAP_TEMPO, "Tap the tempo", change, "Once on each count; from the third on it holds.")
    stage = "That tempo for this stage, in counts a minute."
    yield OrderRow(Order.TEMPO, "Tempo", change, stage, _BEGUN, lesson=True, danced=True)
    yield OrderRow(Order.TEMPO, "Tempo", change, "That tempo, in counts a minute.")
    share = "That share of this stage's tempo."
    yield OrderRow(Order.SHARE, "Share of the tempo", change, share, _BEGUN, lesson=True, danced=True)
    yield OrderRow(Order.SHARE, "Share of the tempo", change, "That share of the full tempo.")
    yield OrderRow(Order.SLOW_ON, "Slow down", change, "Three quarters of the speed while it lasts.")
    yield OrderRow(Order.SLOW_OFF, "Up to speed", change, "Back to the speed before.")


def _moves() -> Iterator[OrderRow]:
    begin, stages = Effect.BEGIN, (*_DANCED, *_STOPPED, *_WAITING)
    again = Order.SECTION_AGAIN
    yield from _nowhere(again, "Again")
    yield OrderRow(again, "Stage again", begin, "Tells this from its start.", _TELLING, lesson=True)
    yield OrderRow(again, "Stage again", begin, "Tells this from its start.", stages, lesson=True, danced=False)
    yield OrderRow(again, "Stage again", begin, "This stage danced from its start, counted in.", stages, lesson=True)
    yield OrderRow(again, "Section again", begin, "From the start of this section, counted in.")
    wall, placed = "Wall again", (*_DANCED, *_STOPPED)
    yield from _nowhere(Order.WALL_AGAIN, wall)
    stage = "From the start of this wall, as far as it is in the stage."
    yield OrderRow(Order.WALL_AGAIN, wall, begin, stage, placed, lesson=True, danced=True)
    yield OrderRow(Order.WALL_AGAIN, wall, begin, "No wall is under way: the stage again.", lesson=True, gives=again)
    yield OrderRow(Order.WALL_AGAIN, wall, begin, "From the start of this wall, counted in.")
    for order, title, bars in (
        (Order.LAST_FOUR, "Last {four}", "{four} counts"),
        (Order.LAST_EIGHT, "Last {eight}", "{eight} counts"),
        (Order.LAST_COUNTS, "Last counts", "so many counts, whole bars,"),
    ):
        yield from _nowhere(order, title)
        yield OrderRow(order, title, begin, f"From {bars} before this bar, counted in.", placed, danced=True)
        still = (*_TELLING, *_WAITING, *_STOPPED)
        yield OrderRow(order, title, begin, f"The last {bars} that were danced, counted in.", still, between=False)
        yield OrderRow(order, title, Effect.NOTHING, f"{_NOT_DANCED} There are no counts to go back by.")
    say, title = Order.SAY_AGAIN, "Say that again"
    yield from _nowhere(say, title)
    yield OrderRow(say, title, begin, "The sentence again.", _TELLING)
    yield OrderRow(say, title, begin, "Tells the steps of this section, and stays paused.", _STOPPED, danced=True)
    yield OrderRow(say, title, begin, "The sentence again, and stays paused.", _STOPPED)
    yield OrderRow(say, title, begin, "Tells the steps of this section, then goes on from this bar.", _DANCED)
    yield OrderRow(say, title, begin, "Tells the steps again.")
    figure, title = Order.SAY_FIGURE, "Say that figure"
    yield from _nowhere(figure, title)
    yield OrderRow(figure, title, begin, "The sentence again.", _TELLING, gives=say)
    yield OrderRow(figure, title, begin, "Tells the figure under way, and stays paused.", _STOPPED, danced=True)
    yield OrderRow(figure, title, begin, "The sentence again, and stays paused.", _STOPPED)
    yield OrderRow(figure, title, begin, "Tells the figure under way, then goes on from this bar.", _DANCED)
    yield OrderRow(figure, title, Effect.NOTHING, f"{_NOT_DANCED} There is no figure to tell.")
    yield OrderRow(Order.PREVIOUS, "Last stage again", begin, "Goes back to it.", _FINISHED, lesson=True)
    for order, title, place in ((Order.PREVIOUS, "Previous", "before"), (Order.NEXT, "Next", "after")):
        yield from _nowhere(order, title)
        yield OrderRow(order, f"{title} stage", begin, f"The stage {place} this one.", lesson=True)
        yield OrderRow(order, f"{title} section", begin, f"The section {place} this one, counted in.")
    for order in (Order.SECTION, Order.TO_WALL, Order.STAGE, Order.SO_FAR):
        yield OrderRow(order, TITLES[order], Effect.NOTHING, _NOT_READY, _PREPARING)
    yield OrderRow(Order.SECTION, "To a section", begin, "The stage that teaches that section.", lesson=True)
    yield OrderRow(Order.SECTION, "To a section", begin, "From that section of this wall, counted in.")
    yield OrderRow(
        Order.TO_WALL, "To a wall", begin, "That wall, or the first stage in which it is danced.", lesson=True
    )
    yield OrderRow(Order.TO_WALL, "To a wall", begin, "From the start of that wall, counted in.")
    yield OrderRow(Order.STAGE, "To a stage", begin, "That stage.", lesson=True)
    yield OrderRow(Order.STAGE, "To a stage", Effect.NOTHING, "A dance has no stages.")
    far, tells = Order.SO_FAR, "What has been taught so far, from the top, over and over; once more, back to the stage."
    yield OrderRow(far, "So far", Effect.NOTHING, _IS_OVER, _FINISHED)
    yield OrderRow(far, "So far", begin, tells, lesson=True)
    yield OrderRow(far, "So far", Effect.NOTHING, "A dance is danced whole: --sections 2 dances its first two alone.")
    yield OrderRow(Order.TOP, "From the top", Effect.NOTHING, _NOT_READY, _PREPARING)
    yield OrderRow(Order.TOP, "From the top", begin, "All of it from the first stage.", lesson=True)
    yield OrderRow(Order.TOP, "From the top", begin, "The whole dance from its first step.")


def _waits() -> Iterator[OrderRow]:
    title, after = "Wait after stages", "Waits after this stage and each one; once more, goes on by itself."
    yield OrderRow(Order.WAIT, title, Effect.CHANGE, after, lesson=True)
    yield OrderRow(Order.WAIT, title, Effect.NOTHING, "A dance has no stages to wait after.")


def _loops() -> Iterator[OrderRow]:
    change, begin, none = Effect.CHANGE, Effect.BEGIN, Effect.NOTHING
    placed = (*_DANCED, *_STOPPED)
    stage = "Over and over; once more, as often as it was to be."
    loop = Order.LOOP
    yield OrderRow(
        loop, "Loop this stage", none, f"{_STAGE_NOT_DANCED} There is nothing to loop.", lesson=True, danced=False
    )
    yield OrderRow(loop, "Loop this stage", change, stage, lesson=True)
    yield OrderRow(loop, "Loop this section", change, "Over and over; once more, dances on after it.")
    marks, ends = "Marks where a loop of your own begins.", "From the mark to the end of this bar, over and over."
    answer = "The loop begins with this bar; ] ends it."
    there = (*_DANCED, *_STOPPED)
    yield OrderRow(Order.LOOP_FROM, "Loop from here", change, marks, there, danced=True, answer=answer)
    yield OrderRow(Order.LOOP_FROM, "Loop from here", none, f"{_NOT_DANCED} A loop is marked in what is danced.")
    yield OrderRow(Order.LOOP_TO, "Loop to here", begin, ends, placed, lesson=True, danced=True)
    yield OrderRow(Order.LOOP_TO, "Loop to here", change, ends, placed, lesson=False)
    yield OrderRow(Order.LOOP_TO, "Loop to here", none, f"{_NOT_DANCED} A loop is marked in what is danced.")
    here = "Those counts as shown, over and over; beyond the section, of the wall."
    for counts, title, tells in (
        (Order.LOOP_COUNTS, "Loop these counts", here),
        (Order.LOOP_WALL, "Loop the wall's counts", "Those counts of this wall, over and over."),
    ):
        why = f"{_STAGE_NOT_DANCED} Counts are looped in one that is."
        yield OrderRow(counts, title, none, _NOT_READY, _PREPARING)
        yield OrderRow(counts, title, none, why, lesson=True, danced=False)
        yield OrderRow(counts, title, begin, tells)


def _manners() -> Iterator[OrderRow]:
    title, ways = "Way of calling", "Ahead, on the count, numbers only, prompts only, quiet: the next of them."
    yield OrderRow(Order.MANNER, title, Effect.NOTHING, f"{_STAGE_NOT_DANCED} Nor called.", lesson=True, danced=False)
    yield OrderRow(Order.MANNER, title, Effect.CHANGE, ways)
    yield OrderRow(Order.EASIER, "Easier way", Effect.CHANGE, "The sheet's options; once more, not.")
    half = "Half the hall dances the easier way: shown where it comes, in a lesson told once too; once more, not."
    yield OrderRow(Order.BOTH_WAYS, "Both ways", Effect.CHANGE, half)
    over, tells = (
        Order.CHANGE_OVER,
        "Of two dances on one floor the other is called from here on; once more, the first.",
    )
    yield OrderRow(over, "Change over", Effect.NOTHING, "A lesson is of one dance.", lesson=True)
    yield OrderRow(over, "Change over", Effect.CHANGE, tells, answer="The other dance is called from here on.")


def _levels() -> Iterator[OrderRow]:
    level = Effect.LEVEL
    yield OrderRow(Order.MUTE, "Mute", level, "Silence, dancing on; once more, sound again.")
    for softer, louder, what, tells in (
        (Order.COUNT_SOFTER, Order.COUNT_LOUDER, "Count", "The count track, by a step."),
        (Order.CALLS_SOFTER, Order.CALLS_LOUDER, "Calls", "What is spoken, by a step."),
        (Order.MUSIC_SOFTER, Order.MUSIC_LOUDER, "Music", "The recording, by a step."),
    ):
        yield OrderRow(softer, f"{what} softer", level, tells)
        yield OrderRow(louder, f"{what} louder", level, tells)
    yield OrderRow(Order.HELP, "Help", Effect.SHOW, "Shows every order.")


_ROWS = (
    *(*_between_items(), *_items(), *_alone()),
    *(*_going(), *_tempo(), *_moves(), *_waits(), *_loops(), *_manners(), *_levels(), *leaving()),
)
ROWS = (*_ROWS, *each_by_its_word(_ROWS))
