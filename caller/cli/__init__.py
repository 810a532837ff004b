"""Words of the command line to a run.

One module a command, each with ``add(commands)`` (its words) and a function that runs it and returns the exit status:
0 done, 1 the sheet has errors or the thing asked for failed, 2 the command line was wrong or a file isn't there.
Only the command that is asked for is imported, and nothing heavy before its words are understood.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module

from caller.cli.say import Refused, Unwritten, gated

# Each command's word, in the order of help, and its module.
COMMANDS = {
    "list": "listing",
    "add": "add",
    "remove": "remove",
    "check": "check",
    "format": "format",
    "walls": "walls",
    "calls": "calls",
    "record": "record",
    "takehome": "takehome",
    "dance": "dance",
    "drill": "drill",
    "walkthrough": "walkthrough",
    "practise": "practise",
    "evening": "evening",
    "screen": "screen",
    "book": "book",
    "pedal": "pedal",
    "sound": "sound",
    "music": "music",
    "voices": "voices",
    "words": "words",
    "doctor": "doctor",
}


def own_version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("caller")
    except PackageNotFoundError:
        return "(not installed)"


class _Version(argparse.Action):
    """Asked for only when it is wanted: looking it up takes longer than reading a sheet."""

    def __call__(self, *_: object) -> None:
        print(f"caller {own_version()}")
        raise SystemExit(0)


def command_line(only: str = "") -> argparse.ArgumentParser:
    """Of all commands, or of the one that is already known to be asked for."""
    parser = argparse.ArgumentParser(
        prog="caller",
        description="A live teaching caller for line-dance classes: a step sheet in, a class called, counted and faced "
        "the right way.",
        epilog="A SHEET is a file, or the title of a routine that 'caller list' shows.",
    )
    parser.add_argument(
        "--version", action=_Version, nargs=0, default=argparse.SUPPRESS, help="the caller's own version"
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for module in [COMMANDS[only]] if only else COMMANDS.values():
        import_module(f"caller.cli.{module}").add(commands)
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command. Returns its exit status; never raises for what a user can do wrong."""
    with gated():
        return _run(sys.argv[1:] if arguments is None else arguments)


def _run(words: Sequence[str]) -> int:
    try:
        try:
            asked = command_line(words[0] if words and words[0] in COMMANDS else "").parse_args(words)
            return int(asked.run(asked))
        finally:
            sys.stdout.flush()
    except Refused as refused:
        print(*refused.told, f"caller: {refused}", sep="\n", file=sys.stderr)
        return refused.status
    except BrokenPipeError:
        # Whoever read our output has gone: nothing is left to say, not even at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Unwritten as fault:
        print(f"caller: not all could be written that there was to say ({fault.strerror})", file=sys.stderr)
        return 1
    except OSError as fault:
        if fault.filename is None or not fault.strerror:
            raise
        # Whatever file it was that no command expected to fail: what the system says of it is all there is to know.
        print(f"caller: {fault.filename}: {fault.strerror}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
