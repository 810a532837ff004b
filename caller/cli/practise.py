"""``caller practise``: live, alone at home, the tempo climbing."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.keeping import AT_HOME
from caller.cli.options import runs
from caller.cli.running import dance_of, tempo_of
from caller.cli.say import Refused
from caller.cli.walkthrough import PreparedLesson, ProgrammeOptions, add_programme_words, run_programme

# What was weak for so long is danced by itself.
WEAK_FOR = timedelta(days=30)

if TYPE_CHECKING:
    from caller.dance.walls import Dance


@dataclass(frozen=True, kw_only=True)
class PractiseOptions(ProgrammeOptions):
    """rung: a share of the full tempo, None for the one that last went well."""

    wall: int
    section: int | None
    anywhere: str | None
    minutes: int | None
    told: bool
    rung: Fraction | None
    seed: int | None


def add(commands: Any) -> None:
    words = commands.add_parser(
        "practise",
        help="live: alone at home, from a comfortable tempo to the full one, the calls fading",
        description="Climbs from a comfortable tempo to the full one; the calls fade to prompts and then to none.",
    )
    add_programme_words(words)
    words.add_argument(
        "--wall", type=amounts.whole(1, 999), default=1, metavar="W", help="start at this wall (default: 1)"
    )
    words.add_argument("--section", type=amounts.whole(1, 999), metavar="N", help="start at this section of the wall")
    words.add_argument(
        "--anywhere", choices=("wall", "section"), help="start at a random wall, or a random section of one"
    )
    words.add_argument(
        "--minutes",
        type=amounts.whole(2, 120),
        metavar="M",
        help="how many minutes, such as 5, 10 or 15 (default: as many as it takes)",
    )
    words.add_argument("--told", action="store_true", help="tell the steps first, section by section")
    words.add_argument(
        "--rung",
        type=amounts.per_cent(10, 100),
        metavar="P",
        help="begin at this per cent of the full tempo, 60 to 100 (default: where it last went well)",
    )
    words.add_argument("--seed", type=amounts.whole(0, 2**32), metavar="K", help="repeat a random start")
    runs(words, PractiseOptions, run)


def run(asked: PractiseOptions) -> int:
    return run_programme(lay, asked, AT_HOME)


def lay(asked: PractiseOptions) -> PreparedLesson:
    """The practice that the command line asks for. Raises Refused."""
    from caller.cli.sheets import danceable
    from caller.teaching.alone import Asked, practice_alone
    from caller.teaching.drill import NotThere

    sheet = danceable(asked.sheet, asked.as_it_stands)
    dance = dance_of(sheet, asked.walls)
    wall, section = _anywhere(dance, asked) if asked.anywhere else (asked.wall, asked.section)
    try:
        rung, weak = _last_time(asked.class_name or AT_HOME, sheet.title)
        first = rung if asked.rung is None else _rung(asked.rung)
        wanted = Asked(first, asked.minutes, asked.told, weak, asked.wait != "never", wall, section)
        programme = practice_alone(dance, tempo_of(sheet, asked.tempo), wanted)
    except NotThere as fault:
        raise Refused(f"{sheet.title!r}: {fault}") from fault
    return PreparedLesson(sheet, dance, programme)


def _rung(share: Fraction) -> int:
    """The highest rung that is no quicker than that; the first where none is."""
    from caller.teaching.drill import RUNGS

    return max([n for n, rung in enumerate(RUNGS) if rung <= share] or [0])


def _last_time(class_name: str, title: str) -> tuple[int, tuple[int, ...]]:
    """The rung that last went well, and the weak places since; from the first, and none, where the book knows of none
    or can't be read."""
    from caller.book.known import last_rung, weak_places
    from caller.book.store import Book, BookFault, book_path

    try:
        if not book_path().exists():
            return 0, ()
        with Book(book_path()) as book:
            pages = book.pages()
    except BookFault:
        return 0, ()  # what can't be written either is told then
    since = datetime.now(UTC) - WEAK_FOR
    return max(last_rung(pages, class_name, title) - 1, 0), weak_places(pages, class_name, title, since)


def _anywhere(dance: Dance, asked: PractiseOptions) -> tuple[int, int | None]:
    from caller.teaching.plain_walls import sections_of

    chance = random.Random(asked.seed)
    wall = chance.choice([wall for wall in dance.walls if sections_of(wall)])
    if asked.anywhere == "wall":
        return wall.number, None
    return wall.number, chance.choice(sections_of(wall)).section
