"""Words as they are spoken.

Conventions: everything that is said is written out in words, never in figures, so that any voice reads it alike
("half past seven", never "7:30"). Wordings come fullest first and end with the shortest that still says it. Counts
are numbered as sheets have them, told, called and shown alike: to eight in 4/4 and 2/4, to twelve in 3/4, to six in
6/8, then from one again; a count-in in threes goes to six.
"""

from __future__ import annotations

from fractions import Fraction

from caller.calls.meters import counting
from caller.calls.plan import UNTOLD
from caller.routine.facing import Facing
from caller.routine.meter import Meter

# fmt: off
# What is said of the wall that no other comes after.
LAST_WALL = "last wall"
_ONES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)
_TENS = (
    "zero", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
)
# fmt: on

# The parts between two counts, as they are counted aloud ("one e and a"); common practice.
_PART_WORDS = {"e": "ee", "&": "and", "a": "uh"}

# What a notice loses, in per cent, by leaving out what is announced with it. The first of its kind is no poorer than a
# later one, though more is called around it.
_ALONE_LOST = UNTOLD + 60
# By each shorter wording: with what is danced there first, or where nothing is told of that.
_LOST_OF_STEPS, _LOST = (0, 10, 14, 28, 34, 42), (0, 14, 22, 28)

# What is said of an event ahead of it, by where it falls: at the end of the wall's sections, of a section, or
# elsewhere; the fullest first, the last without where it falls. {tag} is the tag's own name.
_COMING = " coming"
_AHEAD: dict[tuple[str, str], tuple[str, ...]] = {
    ("tag", "wall"): ("{tag} after this wall", "{tag} coming"),
    ("tag", "section"): ("{tag} after this section", "{tag} coming"),
    ("tag", ""): ("{tag} coming up", "{tag} coming"),
    ("restart", "section"): ("restart after this section", "restart coming"),
    ("restart", ""): ("restart coming up", "restart coming"),
    ("change", "wall"): ("step change this wall", "change coming"),
    ("change", ""): ("step change coming up", "change coming"),
    ("ending", "section"): ("ending after this section", "ending coming"),
    ("ending", ""): ("ending coming up", "ending coming"),
}


def spoken_number(number: int) -> str:
    """A whole number from 0 to 999 in words. Raises ValueError for any other."""
    if not 0 <= number <= 999:
        raise ValueError(f"only 0 to 999 are spoken, not {number}")
    if number < len(_ONES):
        return _ONES[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return _TENS[tens] + (f"-{_ONES[ones]}" if ones else "")
    hundreds, rest = divmod(number, 100)
    return f"{_ONES[hundreds]} hundred" + (f" and {spoken_number(rest)}" if rest else "")


def spoken_counts(counts: int) -> str:
    """How long something lasts: "one count", "four counts"."""
    return f"{spoken_number(counts)} count{'' if counts == 1 else 's'}"


def spoken_facing(facing: Facing) -> str:
    """A facing as a time of day: "three o'clock", "half past seven"."""
    hour = (facing.eighths * 3 // 2) or 12
    words = spoken_number(hour)
    return f"half past {words}" if facing.eighths % 2 else f"{words} o'clock"


def counted_to(meter: Meter) -> int:
    """The number after which a count-in starts from one again."""
    return counting(meter).round_of


def sheet_counts(meter: Meter) -> int:
    """The number after which a section's counts start from one again."""
    return counting(meter).sheet_to


def short_counts(meter: Meter) -> int:
    """What a teacher goes by and goes back by: four counts, in threes a bar of three, in six-eight one of six."""
    return max(meter.counts, counted_to(meter) // 2)


def counted_in(meter: Meter) -> tuple[int, ...]:
    """The numbers of the count-in's last counts: 5 to 8, or 4 to 6."""
    last = counted_to(meter)
    return tuple(range(last // 2 + 1, last + 1))


def number_of(place: Fraction | int, meter: Meter) -> int:
    """The number counted at a place in a section (its first count at 0)."""
    return (place // 1) % sheet_counts(meter) + 1


def count_in_number(before: Fraction | int, meter: Meter) -> int:
    """The number counted so many counts before the first step."""
    return -before // 1 % counted_to(meter) + 1


def spoken_count(label: str, place: Fraction, meter: Meter) -> str:
    """The word counted at a place in a section whose short label is given: "3" is "three", "3&" is "and"."""
    part = label[-1:]
    return _PART_WORDS.get(part, "and") if place.denominator != 1 else spoken_number(number_of(place, meter))


def wall_name(number: int, part: str, *, last: bool = False) -> str:
    """ "wall three", or "last wall"; in a phrased routine "part B"."""
    if part:
        return f"part {part}"
    return LAST_WALL if last else f"wall {spoken_number(number)}"


def wall_wordings(number: int, part: str, faces: Facing, *, last: bool = False) -> tuple[str, ...]:
    """What is said of a wall before it starts: "wall three, three o'clock"; in a phrased routine its part comes
    first. last: of all."""
    name = wall_name(number, part, last=last)
    told = f"{name}, {spoken_facing(faces)}"
    counted = (f"{wall_name(number, part)}, {told}",) if last and not part else ()
    return (*counted, told, name)


def tag_name(name: str) -> str:
    """What a tag is called: "tag" where it has no name or is named just so, else "tag B"."""
    own = name.strip().removeprefix("Tag").removeprefix("tag").strip()
    return f"tag {own}" if own else "tag"


def ahead_wordings(
    kinds: tuple[str, ...], place: str, name: str, faces: Facing, first: str
) -> tuple[tuple[str, int], ...]:
    """What is said ahead of a tag, restart, change or ending, or of several that are announced together, each with what
    it loses, in per cent. place: what the first comes after: "wall", "section" or "". faces: the way the class does
    then, which goes after what is danced there first: that is told again at the place. first: "" where nothing is."""
    kind, *others = kinds
    more = "".join(f", and {other}" for other in others)
    told = _AHEAD[kind, place if (kind, place) in _AHEAD else ""]
    where, shortest = (words.format(tag=tag_name(name)) for words in told)
    steps = f", {first}" if first else ""
    facing = f", facing {spoken_facing(faces)}"
    told = (where + more + facing + steps, where + more + facing, where + more + steps, where + more)
    # "change and restart coming": in one breath.
    soon = f"{shortest.removesuffix(_COMING)}{more.replace(',', '')}{_COMING}"
    short = (soon + facing, soon)
    found = dict(zip(dict.fromkeys((*told, *short)), _LOST_OF_STEPS if steps else _LOST, strict=True))
    return tuple((found | {shortest: _ALONE_LOST} if more else found).items())


def now_words(kind: str, name: str) -> str:
    """What is said of it at its place, before its first movement."""
    return tag_name(name) if kind == "tag" else kind
