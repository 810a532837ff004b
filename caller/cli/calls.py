"""``caller calls``: what will be said when, and what can't be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from caller.cli.options import runs
from caller.cli.running import RunOptions, add_run_words, planned
from caller.cli.say import print_json
from caller.cli.sheets import danceable

_FADING = {
    "usual": "called less as it comes round: the second time without feet and sides of turns, then each eight's first "
    "word, turns and syncopation, from the fourth time the turns (for "
    "beginners the same as the third); --fading all calls everything each time",
    "all": "called in full each time round; --fading usual calls less from the second time on",
    "less": "called less as it comes round, and sooner than usual: from the third time the turns alone; --fading all "
    "calls everything each time",
}


@dataclass(frozen=True, kw_only=True)
class CallsOptions(RunOptions):
    sheet: str
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "calls",
        help="show the call plan: what is said when, and what can't be",
        description="Shows what is said when, what gives way and why, and the highest tempo at which every step is "
        "called.",
    )
    add_run_words(words)
    words.add_argument("--json", action="store_true", help="print one JSON document")
    runs(words, CallsOptions, run)


def run(asked: CallsOptions) -> int:
    from caller.calls.account import account
    from caller.calls.document import calls_document
    from caller.calls.plan import Manner
    from caller.calls.planning import highest_tempo

    sheet = danceable(asked.sheet, asked.as_it_stands)
    take, lexicon = planned(sheet, asked, guess=True)
    highest = highest_tempo(take.dance, take.plan.manner, lexicon, count_in=take.count_in, fading=take.fading)
    document = calls_document(take, highest)
    if asked.json:
        print_json(document)
        return 0
    print(
        f"{sheet.title} at {document['tempo']} counts a minute, called {document['manner']}; "
        "times in seconds from the first step"
    )
    wall = None
    for call in document["calls"]:
        if call["wall"] != wall:
            wall = call["wall"]
            print(f"wall {wall}")
        print(_call_line(call))
    for one in document["announcements"]:
        print(_announced_line(one))
    if take.plan.manner is Manner.AHEAD and take.dance.walls[-1].number > 1:
        print(_FADING[take.fading.value])
    print(_tempo_line(highest))
    for sentence in account(take, lexicon):
        print(sentence)
    return 0


def _tempo_line(highest: int | None) -> str:
    from caller.calls.planning import FASTEST, SLOWEST

    if highest is None:
        return f"not every step can be called, even at {SLOWEST} counts a minute"
    return f"every step is called up to {highest} counts a minute" + (" and beyond" if highest == FASTEST else "")


def _announced_line(one: dict[str, Any]) -> str:
    said = " and ".join(f'"{notice["words"]}" at {notice["starts"]:.2f}' for notice in one["notices"])
    return f"announced: {one['kind']} in wall {one['wall']} at {one['comes']:.2f}: {said}"


def _call_line(call: dict[str, Any]) -> str:
    shortened = "" if call["words"] == call["full_words"] else f"   (for {call['full_words']!r})"
    speed = "" if call["speed"] == 1 else f" at {call['speed']} speed"
    times = f"{call['starts']:8.2f} to {call['ends']:8.2f}  for {call['due']:8.2f}"
    return f"  {times}  {call['kind']:8} {call['count']:>4}  {call['words']}{speed}{shortened}"
