"""The plan of an evening, as a file has it or made of what the class knows; and which class that is."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from caller.cli.files import typed_path
from caller.cli.keeping import AT_HOME
from caller.cli.say import Refused, warn

if TYPE_CHECKING:
    from caller.book.entries import Known
    from caller.cli.evening import EveningOptions
    from caller.cli.evening_items import Items
    from caller.evening.plan import Item, Plan

USUAL_MINUTES = 90


def planned(asked: EveningOptions, items: Items) -> Plan:
    """As the file has it, else made of what the class knows. Raises Refused."""
    if asked.file:
        plan = _read(typed_path(asked.file))
        beside = tuple(_beside(item, typed_path(asked.file)) for item in plan.items)
        plan = replace(plan, items=items.timed(beside), class_name=asked.class_name or plan.class_name)
        return at_hours(asked, plan)
    from caller.cli.evening_music import kept_music
    from caller.evening.planning import fitted, wishes

    name = asked.class_name or _only_class()
    known, now = _known(name), datetime.now()
    sheet = items.sheet(asked.new) if asked.new else None
    wanted = wishes(known, items.titles, datetime.now(UTC), sheet.title if sheet else None)
    music = kept_music()
    chosen = [replace(item, music=music.get(item.routine, "")) for item in wanted.items]
    if sheet is not None and sheet.title not in items.titles:  # a file, that is named by where it is
        there = str(sheet.path.resolve())
        chosen = [replace(item, routine=there) if item.routine == sheet.title else item for item in chosen]
    timed = tuple(replace(item, level=asked.level or "") if item.keep else item for item in chosen)
    starts = now.hour * 60 + now.minute if asked.starts is None else asked.starts
    closes = starts + USUAL_MINUTES if asked.closes is None else _closing(starts, asked.closes)
    plan = fitted(replace(wanted, items=items.timed(timed)), name, starts, closes)
    if not plan.items:
        raise Refused(f"there is no time for anything from {_clock(starts)} to {_clock(closes)}: say --closes", 1)
    return plan


def _beside(item: Item, file: Path) -> Item:
    """The recording, and a sheet that is a file, by their whole names: those not told whole are beside the plan."""
    folder = file.resolve().parent
    sheet = folder / typed_path(item.routine) if item.routine else folder
    return replace(
        item,
        routine=str(sheet) if sheet.is_file() else item.routine,
        music=str(folder / typed_path(item.music)) if item.music else "",
    )


def at_hours(asked: EveningOptions, plan: Plan) -> Plan:
    """With the hours that the command line says."""
    starts = plan.starts if asked.starts is None else asked.starts
    closes = plan.closes if asked.closes is None else asked.closes
    return replace(plan, starts=starts, closes=_closing(starts, closes % (24 * 60)))


def _closing(starts: int, closes: int) -> int:
    from caller.evening.written import closing_after

    return closing_after(starts, closes)


def _clock(minutes: int) -> str:
    from caller.evening.plan import clock

    return clock(minutes)


def _read(path: Path) -> Plan:
    from caller.evening.written import PlanFault, read_plan
    from caller.outside import documents

    try:
        return read_plan(documents.read_text(path))
    except OSError as error:
        raise Refused(f"can't open {path}: {error.strerror or error}") from error
    except (PlanFault, documents.Unreadable) as error:
        raise Refused(f"{path}: {error}", 1) from error


def save(plan: Plan, path: Path, over: bool) -> str:
    """Writes it to a file, and says so. Raises Refused."""
    from caller.evening.written import plan_text
    from caller.storage.made import NotOurs, write_made_text

    try:
        write_made_text(path, plan_text(plan), over=over)
    except NotOurs as fault:
        raise Refused(str(fault), 1) from fault
    except OSError as error:
        raise Refused(f"{path} can't be written: {error.strerror or error}", 1) from error
    return f"{path}: {len(plan.items)} items written; 'caller evening {path.name}' runs them"


def file_of(asked: EveningOptions) -> str:
    return str(typed_path(asked.file).resolve()) if asked.file else ""


# -- the class


def _only_class() -> str:
    """The one class that the book has; "" where there are more, or none."""
    from caller.book.store import Book, BookFault, book_path

    try:
        if not book_path().exists():
            return ""
        with Book(book_path()) as book:
            names = [name for name in book.pages().classes if name != AT_HOME]
    except BookFault as fault:
        warn(str(fault))
        return ""
    if len(names) > 1:
        warn(f"whose evening? Say --class: {', '.join(map(repr, names))}; until then none is planned for")
    return names[0] if len(names) == 1 else ""


def _known(name: str) -> tuple[Known, ...]:
    from caller.book.entries import known
    from caller.book.store import Book, BookFault, book_path

    try:
        if not name or not book_path().exists():
            return ()
        with Book(book_path()) as book:
            return known(book.pages(), name)
    except BookFault as fault:
        warn(str(fault))
        return ()


def titles_known(name: str) -> list[str]:
    """What a class knows, what it had longest ago first."""
    return [one.routine for one in sorted(_known(name), key=lambda one: one.last)]
