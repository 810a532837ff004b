"""``caller screen``: what a class shows, on a page for a second screen; read-only."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from typing import Any

from caller.cli.options import runs
from caller.cli.say import Refused

LOOK_SECONDS = 0.02  # a page is to follow within a tenth of a second


@dataclass(frozen=True, kw_only=True)
class ScreenOptions:
    on: str


def add(commands: Any) -> None:
    words = commands.add_parser(
        "screen",
        help="a second screen: what the class shows, on a page for a television, tablet or phone",
        description="Serves a read-only page that shows what the class running on this machine shows, from one dance "
        "to the next; Ctrl+C ends it. Add side=teacher to its address to see the room from the front, look=light for a "
        "bright room.",
    )
    add_page_words(words, "--on")
    runs(words, ScreenOptions, run)


def add_page_words(words: argparse.ArgumentParser, name: str, bare: bool = False) -> None:
    """bare: the name alone asks for a page on this machine, and without it there is none (None)."""
    more: dict[str, Any] = {"nargs": "?", "const": "", "default": None} if bare else {"default": ""}
    words.add_argument(
        name,
        **more,
        metavar="ADDRESS[:PORT]",
        help="serve the page on this address of the machine, for others on its network (0.0.0.0: on all of them); a "
        "token is then part of the page's address (default: for this machine alone)",
    )


def run(asked: ScreenOptions) -> int:
    import time

    from caller.screen.page.server import PageError, opened_page
    from caller.screen.page.spool import Follower, spool_path

    try:
        follower, page = Follower(spool_path()), opened_page(asked.on)
    except PageError as fault:
        raise Refused(str(fault), 1) from fault
    except OSError as fault:
        why = f"{fault.filename} can't be used ({fault.strerror or fault})"
        raise Refused(f"a class can't be followed: {why}", 1) from fault
    print(page.says, flush=True)
    try:
        while True:
            text = follower.look()
            if text is not None:
                page.publisher.publish_text(text)
            time.sleep(LOOK_SECONDS)
    finally:
        page.close()
