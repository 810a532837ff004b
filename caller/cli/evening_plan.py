"""The plan of an evening, as a file has it or made of what the class knows; and which class that is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from caller.cli.book_open import class_in_book
from caller.cli.files import typed_path
from caller.cli.keeping import AT_HOME
from caller.cli.say import Refused, warn
from caller.evening.plan import A_DAY, Kind, clock
from caller.evening.written import Hours, PlanFault, closing_after, line_of, plan_text, read_plan

if TYPE_CHECKING:
    from caller.book.entries import Pages
    from caller.book.known import Known
    from caller.cli.evening import EveningOptions
    from caller.cli.evening_items import Items
    from caller.evening.plan import Item, Plan

USUAL_MINUTES = 90
LEAST_MINUTES, MOST_MINUTES = 5, 12 * 60
# An evening that begins now begins once its calls are there and everybody stands: what is planned goes by that.
READY_MINUTES = 2


def planned(asked: EveningOptions, items: Items) -> Plan:
    """As the file has it, else made of what the class knows. Raises Refused."""
    return _of_file(asked, items) if asked.file else _made(asked, items)


def _of_file(asked: EveningOptions, items: Items) -> Plan:
    path = typed_path(asked.file or "")
    plan, text = _read(path, Hours(asked.starts, _starting_now(), USUAL_MINUTES))
    told: list[Item] = []
    for n, item in enumerate(plan.items, 1):
        try:
            item = _beside(item, path)
            for routine in filter(None, (item.routine, item.beside)):
                items.meant(routine)
            told += items.timed([item])
            if item.routine:
                items.slot(told[-1])  # what can't be danced is told now, with its line
        except Refused as fault:
            line = line_of(text, n, "routine")
            raise Refused(f"{path}, line {line}: item {n}: {fault}", fault.status, fault.told) from fault
    day = date.today()
    if plan.date not in (None, day):
        warn(f"{path} was planned for {_day_words(plan.date)}; 'caller evening' without a file plans what is due today")
    name = _class_asked(asked) if asked.class_name else _class_planned_for(plan.class_name)
    return at_hours(asked, replace(plan, items=tuple(told), class_name=name))


def _made(asked: EveningOptions, items: Items) -> Plan:
    from caller.evening.fitting import fitted
    from caller.evening.planning import wishes

    name = _class_asked(asked) if asked.class_name else only_class()
    known, now = _known(name), datetime.now()
    if asked.new:
        items.meant(asked.new)
    sheet = items.sheet(asked.new) if asked.new else None
    wanted = wishes(known, items.titles, datetime.now(UTC), sheet.title if sheet else None, items.ease)
    wanted = replace(
        wanted,
        items=_chosen(wanted.items, known, asked, items),
        more=_chosen(wanted.more, known, asked, items),
        left_out=tuple((title, _why_lost(title, why, items)) for title, why in wanted.left_out),
    )
    starts = _starting_now() if asked.starts is None else asked.starts
    closes = _closing(asked, starts, starts + USUAL_MINUTES)
    plan = fitted(wanted, name, starts, closes, items.ease, items.part_run)
    plan = replace(plan, items=items.timed(plan.items), date=now.date())
    if not plan.items:
        raise Refused(f"there is no time for anything from {clock(starts)} to {clock(closes)}: say --closes", 1)
    return plan


def _chosen(wanted: Iterable[Item], known: Sequence[Known], asked: EveningOptions, items: Items) -> tuple[Item, ...]:
    """The items with their music, level, place in the walkthrough and minutes; a sheet that is a file, by its name."""
    from caller.cli.evening_music import kept_music

    music, had = kept_music(), {one.routine.lower(): one for one in known}
    sheet = items.sheet(asked.new) if asked.new else None
    chosen = []
    for item in wanted:
        one = had.get(item.routine.lower())
        item = replace(item, music=music.get(item.routine, ""))
        if item.kind in (Kind.LESSON, Kind.RECAP):
            item = replace(item, level=asked.level or "")
        if sheet is not None and sheet.title not in items.titles and item.routine == sheet.title:
            item = replace(item, routine=str(sheet.path.resolve()))
        if one is not None and item.kind in (Kind.LESSON, Kind.RECAP):
            item = items.goes_on_at(item, one.part, one.stages)
        if item.kind is Kind.RECAP and item.minutes:
            item = items.no_longer(item)
        chosen.append(item)
    return items.timed(chosen)


def _why_lost(title: str, why: str, items: Items) -> str:
    return "its sheet has errors: 'caller check' tells which" if title.lower() in items.faulty else why


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
    return replace(plan, starts=starts, closes=_closing(asked, starts, closing_after(starts, plan.closes % A_DAY)))


def _closing(asked: EveningOptions, starts: int, usual: int) -> int:
    """When it closes, by what the command line says, in minutes of the day it starts on. A hall may close after
    midnight, but hours that are told the wrong way round are no evening. Raises Refused."""
    if asked.minutes is not None:
        return starts + asked.minutes
    closes = usual if asked.closes is None else closing_after(starts, asked.closes)
    if asked.starts is not None and asked.closes is not None and closes - starts > MOST_MINUTES:
        told = f"it would start at {clock(starts)} and the hall close at {clock(closes)} the next day"
        raise Refused(f"{told}, {(closes - starts) // 60} hours later: say --closes after --starts, or --minutes")
    return closes


def midnight_of(plan: Plan, now: datetime) -> datetime:
    """The midnight before the evening: today's, or yesterday's where the hall closes after midnight and that is what it
    is now."""
    today = now.replace(hour=0, minute=0, second=0, microsecond=0)
    after_midnight = now.hour * 60 + now.minute + A_DAY <= plan.closes
    return today - timedelta(days=1) if after_midnight else today


def _starting_now() -> int:
    """When an evening starts that is begun now."""
    now = datetime.now()
    return min(now.hour * 60 + now.minute + READY_MINUTES, A_DAY - 1)


def _read(path: Path, hours: Hours) -> tuple[Plan, str]:
    """The plan, and its text. Raises Refused."""
    from caller.outside import documents

    try:
        text = documents.read_text(path)
        return read_plan(text, hours), text
    except OSError as error:
        raise Refused(f"can't open {path}: {error.strerror or error}") from error
    except (PlanFault, documents.Unreadable) as error:
        raise Refused(f"{path}: {error}", 1) from error


def _day_words(day: date | None) -> str:
    return "" if day is None else f"{day.day} {day:%B}"


def save(plan: Plan, path: Path, over: bool) -> str:
    """Writes it to a file, and says so. Raises Refused."""
    from caller.storage.made import NotOurs, write_made_text

    try:
        write_made_text(path, plan_text(plan), over=over)
    except NotOurs as fault:
        raise Refused(str(fault), 1) from fault
    except OSError as error:
        raise Refused(f"{path} can't be written: {error.strerror or error}", 1) from error
    items = f"{len(plan.items)} item{'' if len(plan.items) == 1 else 's'}"
    return f"{path}: a plan of {items}; 'caller evening {in_shell(str(path))}' runs it"


def in_shell(words: str) -> str:
    """As it is typed in a shell."""
    return f'"{words}"' if " " in words and not set(words) & set('"$`\\!') else quote(words)


def file_of(asked: EveningOptions) -> str:
    return str(typed_path(asked.file).resolve()) if asked.file else ""


# -- the class


def only_class() -> str:
    """The one class that the book has; "" where there are more, or none."""
    names = _classes(_pages())
    if len(names) > 1:
        warn(f"whose evening? The book has {', '.join(map(repr, names))}: say --class; this plan is for none of them")
    return names[0] if len(names) == 1 else ""


def _class_asked(asked: EveningOptions) -> str:
    """The class that the command line names, as the book has it. Raises Refused."""
    return class_in_book(asked.class_name or "", asked.new_class)


def _class_planned_for(name: str) -> str:
    """The class that a plan's file names, as the book has it: the plan was made for it, so it may be a new one."""
    return class_in_book(name, new=True) if name else ""


def _pages() -> Pages:
    """Of the book; none where there is none yet, or it can't be read, which is told."""
    from caller.book.entries import Pages
    from caller.book.store import BookFault
    from caller.cli.book_open import pages_there

    try:
        return pages_there()
    except BookFault as fault:
        warn(str(fault))
        return Pages()


def _classes(pages: Pages) -> list[str]:
    """Those that are taught: not whoever practises alone."""
    from caller.book.spelling import same_name

    return [name for name in pages.classes if not same_name(name, AT_HOME)]


def _known(name: str) -> tuple[Known, ...]:
    """What the book says of a class."""
    from caller.book.known import known

    return known(_pages(), name) if name else ()


def titles_known(name: str) -> list[str]:
    """What a class knows, what it had longest ago first."""
    return [one.routine for one in sorted(_known(name), key=lambda one: one.last)]
