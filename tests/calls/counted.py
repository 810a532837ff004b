"""The rules of calling, counted: what a take's first wall breaks."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction

from caller.calls.group import Group, loose
from caller.calls.groups import groups_between
from caller.calls.opening import numbers_said
from caller.calls.places import own_place
from caller.calls.plan import Call, CallKind
from caller.calls.take import Take
from caller.calls.words import sheet_words, words_of_turn
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import shipped
from tests.calls.reading_back import NOTICE, read_back

# "About two counts", a bar in threes, and a quarter of a count for what is called rather early than broken off.
FAR_COUNTS, FAR_COUNTS_OF_THREE = Fraction(9, 4), Fraction(13, 4)
# The margin before a step's foot moves, and a quarter of a second, in frames.
NEEDED = round((0.15 + 0.25) * 48_000)
_EVENTS = (CallKind.TAG, CallKind.RESTART, CallKind.CHANGE, CallKind.ENDING)


@dataclass
class Broken:
    """What is broken, a sentence each."""

    turns_unsaid: list[str] = field(default_factory=list)
    sides_unsaid: list[str] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    foreign: list[str] = field(default_factory=list)
    first_unsaid: list[str] = field(default_factory=list)
    misread: list[str] = field(default_factory=list)
    count_ins: list[str] = field(default_factory=list)
    third_notices: list[str] = field(default_factory=list)
    far_ahead: list[str] = field(default_factory=list)
    hurried: list[str] = field(default_factory=list)
    uncalled: list[str] = field(default_factory=list)

    def add(self, other: Broken) -> None:
        for name, found in vars(other).items():
            getattr(self, name).extend(found)

    def counts(self) -> dict[str, int]:
        return {name: len(found) for name, found in vars(self).items()}


def broken(take: Take, walls: int = 1) -> Broken:
    """What is broken in the first ``walls`` walls; notices are counted over all."""
    found = Broken()
    groups = groups_between(take.dance, take.start, take.end)
    calls: dict[Fraction, list[Call]] = defaultdict(list)
    for call in take.plan.calls:
        if call.cue.steps:
            calls[call.follows if call.follows is not None else call.cue.at].append(call)
    previous: Group | None = None
    turned: set[object] = set()
    sheet = f" {sheet_words(take.dance.routine)} "
    for index, group in enumerate(groups):
        if group.wall.number <= walls:
            opening = index < _opened(take, groups, calls)
            own = calls.get(group.at, [])
            _group(take, group, own, previous, found, opening)
            _first_time(take, group, own, sheet, turned, found)
        previous = group
    _count_in(take, found)
    _notices(take, found)
    return found


def _opened(take: Take, groups: list[Group], calls: dict[Fraction, list[Call]]) -> int:
    """How many groups the call before the count-in is for."""
    later = [any(call.cue.heard_counts == 0 for call in calls.get(group.at, [])) for group in groups[:3]]
    alone = [n for n, called in enumerate(later) if not called]
    return alone[-1] + 1 if alone and take.count_in and alone == list(range(len(alone))) else 0


def _group(take: Take, group: Group, calls: list[Call], previous: Group | None, found: Broken, opening: bool) -> None:
    where = f"{take.dance.routine.header.title} count {float(group.at + 1):g}"
    said = [call for call in calls if call.cue.heard_counts == 0]
    if opening:
        return
    if not said:
        found.uncalled.append(f"{where}: nothing for {group.names or group.placed[0].movement}")
        return
    words = ", ".join(call.utterance.words for call in said)
    movements = [danced.step.movement for danced in group.wall.movements[group.first : group.last + 1]]
    before = group.wall.movements[group.first].before.weight
    if movements[0].foot and (before is Weight.BOTH or not before.frees(movements[0].foot)):  # the call tells the foot
        before = Weight.on(movements[0].foot.other)
    for movement in (one.movement for one in group.placed):
        amount = words_of_turn(movement.turn).amount
        own = group.names and group.figure and not group.figure.turn
        summed = words_of_turn(group.figure.turn).amount if group.figure and group.names else amount
        quarters = summed == "quarter" and "two quarters" in words
        if movement.turn and not own and not quarters and not re.search(rf"\b{summed}\b", words):
            found.turns_unsaid.append(f"{where}: {words!r} for {movement}")
            break
    quoted = bool(group.call) and _is_quoted(words, group.call)
    if any(call.utterance.speed > 1.2 for call in said):
        found.hurried.append(f"{where}: {words!r}")
    if not group.own:
        last = (
            [danced.step.movement for danced in previous.wall.movements[previous.first : previous.last + 1]]
            if previous
            else []
        )
        wrong = read_back(words, movements, before, last)
        if wrong and not quoted:
            found.misread.append(f"{where}: {wrong}")
        first = read_back(words, movements[:1], before, last[:1])
        if wrong and first and not quoted and not group.names:
            found.first_unsaid.append(f"{where}: {first}")
    _ahead(take, said[0], where, found)


def _first_time(take: Take, group: Group, calls: list[Call], sheet: str, turned: set[object], found: Broken) -> None:
    """What has to be heard the first time: the side of a turn that can have two, each movement of a chain, the sheet's
    own names."""
    words = ", ".join(call.utterance.words for call in calls if call.cue.heard_counts == 0)
    if not words or group.own:
        return
    where = f"{take.dance.routine.header.title} count {float(group.at + 1):g}: {words!r}"
    told = (group.placed, group.names)
    own_turn = bool(group.names and group.figure and not group.figure.turn)
    open_ = group.turns and not own_turn and not group.call and told not in turned and not _one_way(group)
    if open_ and not _says_side(group, words):
        found.sides_unsaid.append(where)
    turned.add(told)
    # A rock that a call ends with is known by its name, as one by itself is.
    recovers = [one for one in group.placed[:-1] if one.movement.action == "recover" and not one.movement.turn]
    likeness = re.fullmatch(r"and (left|right)", words)
    if loose(group) and len(group.placed) > _ROCK and len(recovers) > len(_RECOVERS.findall(words)) and not likeness:
        found.left_out.append(where)
    if group.names and not group.call and not _is_known(group, sheet):
        found.foreign.append(where)


# A rock alone is known by its name.
_ROCK = 2
_RECOVERS = re.compile(r"\brecover\b|\brock(?: \w+)? and\b")
# Names of the floor that a class knows, so that steps written out may be called by them. Common practice.
_KNOWN = {"shuffle", "coaster", "sailor", "vine", "weave", "jazz box", "jazz box cross", "rocking chair"}
_KNOWN |= {
    "kick ball change",
    "kick ball step",
    "kick ball cross",
    "lock step",
    "toe strut",
    "heel strut",
    "monterey",
    "heel split",
}


def _one_way(group: Group) -> bool:
    """Whether the direction can only be that one: a pivot's, away from the foot in front; a monterey's, to the side of
    the foot that points. Common practice."""
    if group.names:
        turn = group.figure.turn.eighths if group.figure else 0
        return "monterey" in group.names[-1] and (turn > 0) == (group.placed[0].movement.foot is Foot.RIGHT)
    moves = [one.movement for one in group.placed]
    turns = [(before, move) for before, move in zip([None, *moves], moves, strict=False) if move.turn]
    return all(
        before is not None
        and move.action == "pivot"
        and (before.action, before.where) == ("step", "forward")
        and (move.turn.eighths > 0) == (before.foot is Foot.LEFT)
        for before, move in turns
    )


def _says_side(group: Group, words: str) -> bool:
    """After an amount; a figure that travels to the side that it turns to has told it."""
    travels = bool(group.names) and not group.names[-1].startswith("{foot}")
    after = re.search(rf"\b(?:{_AMOUNTS})\b.* (?:left|right)\b|(?:{_AMOUNTS}) (?:left|right)\b", words)
    return after is not None or (travels and re.search(r"\b(left|right)\b", words) is not None)


_AMOUNTS = "eighths?|quarters?|half|full turn|turns?"


def _is_known(group: Group, sheet: str) -> bool:
    """Whether the sheet has the name, or every class does."""
    name = re.sub(r"\{\w+\}|\b(forward|back|side|behind|in place)\b", "", group.names[-1].lower())
    core = " ".join(shipped().plain(word) for word in name.split())
    named = group.figure is not None and group.figure.named
    plain = core.removeprefix("cross ")
    return named or bool({core, plain, ""} & _KNOWN) or core in sheet or plain in sheet


def _is_quoted(words: str, call: str) -> bool:
    """Whether they are the sheet's own, or a head of them, with the foot, the notice or the turn that go with it."""
    rest = NOTICE.sub("", words)
    own = re.sub(r"^(right|left) foot, ", "", rest).lower().replace(",", "").split()
    return own[:1] == call.lower().replace(",", "").replace("&", "and").split()[:1]


def _ahead(take: Take, call: Call, where: str, found: Broken) -> None:
    """Begun further ahead than two counts though its words take less."""
    far = FAR_COUNTS_OF_THREE if take.dance.routine.header.meter.counts == 3 else FAR_COUNTS
    ahead = call.cue.at - take.timeline.count_at(call.starts)
    needs = call.cue.at - take.timeline.count_at(call.due - call.utterance.frames - NEEDED)
    if call.cue.kind is not CallKind.STEP:
        return
    told = f"{where}: {call.utterance.words!r} begins {float(ahead):.2f} counts ahead"
    if ahead > max(far, needs):
        found.far_ahead.append(told)


def _count_in(take: Take, found: Broken) -> None:
    wanted = [number for number, _ in numbers_said(take.dance.routine.header, take.how, take.count_in)]
    said = [int(call.cue.count) for call in take.plan.calls if call.cue.kind is CallKind.COUNT_IN]
    if said and said != wanted:
        found.count_ins.append(f"{take.dance.routine.header.title}: {said} for {wanted}")


def _notices(take: Take, found: Broken) -> None:
    said: dict[tuple[CallKind, Fraction], list[Call]] = defaultdict(list)
    for call in take.plan.calls:
        if call.cue.kind in _EVENTS:
            said[call.cue.kind, call.cue.at].append(call)
    for (kind, at), calls in said.items():
        if len(calls) > 2:
            found.third_notices.append(f"{take.dance.routine.header.title}: {len(calls)} for the {kind.value} at {at}")


def place_of(group: Group) -> Fraction:
    return own_place(group.wall, group.at, group.section)
