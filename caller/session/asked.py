"""What an order means in a dance: its counts, where from, which wall, what is looped, an easier way. Pure.

Conventions: counts since the dance's first step; what is not there raises CanNot.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from caller.calls.wording import sheet_counts, short_counts
from caller.dance.walls import Dance
from caller.session.programme import CanNot, ProgrammeEvent
from caller.session.route import CountSpan, bar_end, bar_start, section_at
from caller.teaching.floors import Floors
from caller.transport.order import Order
from caller.transport.state import GoOn

# Further above a dance's own tempo nobody goes in one step: a fifth is what the quickest song for it would ask for.
MOST_ABOVE = Fraction(6, 5)
MARK_BEGINS = "["
NO_EASIER = "This sheet has no easier way: a line such as Option 5-8: vine right, touch is one, with its counts."


def back_from(dance: Dance, at: Fraction, outcome: ProgrammeEvent) -> Fraction:
    """Where an order goes back to: a four, an eight, or as many bars as hold the counts asked for, before the bar under
    way; below 0 where the dance has fewer."""
    bar, short = dance.routine.header.meter.counts, short_counts(dance.routine.header.meter)
    asked = {Order.LAST_FOUR: Fraction(short), Order.LAST_EIGHT: Fraction(2 * short)}
    counts = asked[outcome.what] if outcome.what in asked else outcome.amounts[0]
    return bar_start(dance, at) - ceil(counts / bar) * bar


def resumed_from(dance: Dance, at: Fraction, go_on: GoOn) -> Fraction:
    """Where what stands at a count is gone on with: from its bar, its section or its wall."""
    match go_on:
        case GoOn.BAR:
            return bar_start(dance, at)
        case GoOn.SECTION:
            return section_at(dance, at).first
        case GoOn.WALL:
            return dance.wall_at(at).at


def counts_asked(dance: Dance, at: Fraction, outcome: ProgrammeEvent) -> CountSpan:
    """The counts that an order to loop means, ``at`` being where the class is: those of its section as the screen shows
    them, where it has as many; else of the wall. Raises CanNot."""
    wall, section = dance.wall_at(at), section_at(dance, at)
    first, last = outcome.amounts
    round_of = sheet_counts(dance.routine.header.meter)
    shown_from = section.first + (at - section.first) // round_of * round_of
    if outcome.what is Order.LOOP_COUNTS and 1 <= first <= last <= round_of and shown_from + last <= section.last:
        return CountSpan(shown_from + first - 1, shown_from + last)
    if outcome.what is Order.LOOP_COUNTS and 1 <= first <= last <= section.last - section.first:
        return CountSpan(section.first + first - 1, section.first + last)
    if not 1 <= first <= last <= wall.counts:
        raise CanNot(f"Counts {first} to {last} can't be looped: this wall has 1 to {wall.counts}.")
    return CountSpan(wall.at + first - 1, wall.at + last)


def wall_asked(dance: Dance, outcome: ProgrammeEvent) -> Fraction:
    """The count at which the wall of that number begins. Raises CanNot."""
    number = int(outcome.amounts[0])
    at = next((wall.at for wall in dance.walls if wall.number == number), None)
    if at is None:
        raise CanNot(f"There is no wall {number}; there are 1 to {dance.walls[-1].number}.")
    return at


def loop_to(dance: Dance, at: Fraction, marked: Fraction | None, least: Fraction = Fraction(0)) -> CountSpan:
    """A loop of the teacher's own to the end of the bar under way: from the mark, or else from the section's start, but
    not from before ``least``. Raises CanNot."""
    begins = max(section_at(dance, at).first, least) if marked is None else marked
    if begins > at:
        raise CanNot(f"The loop would end before it begins: {MARK_BEGINS} marks its beginning first.")
    return CountSpan(begins, bar_end(dance, at))


def need_tempo(dance: Dance, full: Fraction, outcome: ProgrammeEvent) -> None:
    """Raises CanNot where a tempo that is typed or tapped is so far above the dance's own, and above the full one that
    is set now, that it is a slip: it would hold at once, with a class in mid-dance."""
    own = max(dance.routine.header.tempo or full, full)
    if outcome.amounts[0] > own * MOST_ABOVE:
        asked, most = f"{float(outcome.amounts[0]):g}", int(own * MOST_ABOVE)
        raise CanNot(f"{asked} is not taken: the tempo is {float(own):g}, so up to {most} is; + goes on from there.")


def need_easier(floors: Floors) -> None:
    """Raises CanNot where the sheet has no easier way."""
    if floors.easier is floors.plain:
        raise CanNot(NO_EASIER)
