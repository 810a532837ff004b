"""``caller calls``: what will be said when, and what can't be."""

from __future__ import annotations

import argparse
from typing import Any

from caller.cli.running import add_run_words, take_of
from caller.cli.say import print_json
from caller.cli.sheets import danceable


def add(commands: Any) -> None:
    words = commands.add_parser(
        "calls", help="the call plan: what is said when, and what can't be", description="The call plan."
    )
    add_run_words(words)
    words.add_argument("--json", action="store_true", help="one JSON document")
    words.set_defaults(run=run)


def run(asked: argparse.Namespace) -> int:
    from caller.calls.document import calls_document

    sheet = danceable(asked.sheet)
    document = calls_document(take_of(sheet, asked, guess=True))
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
    for drop in document["dropped"]:
        where = f"wall {drop['wall']} count {drop['count']} {drop['kind']}"
        print(f"not said as wished: {where}: {drop['words']!r} ({drop['why']})")
    return 0


def _call_line(call: dict[str, Any]) -> str:
    shortened = "" if call["words"] == call["full_words"] else f"   (for {call['full_words']!r})"
    speed = "" if call["speed"] == 1 else f" at {call['speed']} speed"
    times = f"{call['starts']:8.2f} to {call['ends']:8.2f}  for {call['due']:8.2f}"
    return f"  {times}  {call['kind']:8} {call['count']:>4}  {call['words']}{speed}{shortened}"
