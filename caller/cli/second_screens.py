"""Who else is shown what a class's screen shows: another process, and a page."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from caller.cli.say import warn

if TYPE_CHECKING:
    from caller.screen.page.server import PageServer

Show = Callable[[Any], None]


@contextmanager
def second_screens(where: str | None, told: list[str]) -> Iterator[list[Show]]:
    """Who else is shown what the screen shows: 'caller screen' in another process, and a page if one was asked for. The
    class goes on without either; told: sentences to be shown with it."""
    from caller.screen.page.spool import Spool, spool_path

    shown: list[Show] = []
    with contextlib.suppress(OSError):  # where nothing can be kept, 'caller screen' says so
        shown.append(while_it_can(Spool(spool_path()).publish))
    page = None if where is None else page_asked(where, told)
    try:
        yield [*shown, while_it_can(page.publish)] if page else shown
    finally:
        if page is not None:
            page.close()


def page_asked(where: str, told: list[str]) -> PageServer | None:
    """The page, or None and a sentence on why there is none."""
    from caller.screen.page.server import PageError, opened_page

    try:
        page = opened_page(where)
    except PageError as fault:
        warn(f"{fault}; the class goes on without it")
        told.append(str(fault))
        return None
    warn(page.says)
    return page


def while_it_can(show: Show) -> Show:
    """What a second screen can't take is that screen's end, never the class's."""
    ended: list[Exception] = []

    def shown(board: Any) -> None:
        if not ended:
            try:
                show(board)
            except Exception as fault:
                ended.append(fault)

    return shown
