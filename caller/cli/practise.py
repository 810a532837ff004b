"""``caller practise``: live, alone at home, the tempo climbing."""

from __future__ import annotations

import argparse
import random
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.keeping import AT_HOME
from caller.cli.running import dance_of, tempo_of
from caller.cli.say import Refused
from caller.cli.walkthrough import Laid, add_programme_words, run_programme

if TYPE_CHECKING:
    from caller.dance.walls import Dance


def add(commands: Any) -> None:
    words = commands.add_parser(
        "practise",
        help="live: alone at home, from a comfortable tempo to the full one, the calls fading",
        description="From a comfortable tempo to the full one; the calls fade to prompts and then to none.",
    )
    add_programme_words(words)
    words.add_argument("--wall", type=amounts.whole(1, 999), default=1, metavar="W", help="start at this wall (1)")
    words.add_argument("--section", type=amounts.whole(1, 999), metavar="N", help="start at this section of it")
    words.add_argument("--anywhere", choices=("wall", "section"), help="start at a random wall, or section of one")
    words.add_argument("--seed", type=amounts.whole(0, 2**32), metavar="K", help="the same random start again")
    words.set_defaults(run=run)


def run(asked: argparse.Namespace) -> int:
    return run_programme(lay, asked, AT_HOME)


def lay(asked: argparse.Namespace) -> Laid:
    """The practice that the command line asks for. Raises Refused."""
    from caller.cli.sheets import danceable
    from caller.teaching.drill import NotThere, practice_of

    sheet = danceable(asked.sheet, asked.as_it_stands)
    dance = dance_of(sheet, asked.walls)
    wall, section = _anywhere(dance, asked) if asked.anywhere else (asked.wall, asked.section)
    try:
        programme = practice_of(dance, tempo=tempo_of(sheet, asked.tempo), wall_number=wall, section=section)
    except NotThere as fault:
        raise Refused(f"{sheet.title!r}: {fault}") from fault
    return Laid(sheet, dance, programme)


def _anywhere(dance: Dance, asked: argparse.Namespace) -> tuple[int, int | None]:
    from caller.teaching.walkthrough import sections_of

    chance = random.Random(asked.seed)
    wall = chance.choice([wall for wall in dance.walls if sections_of(wall)])
    if asked.anywhere == "wall":
        return wall.number, None
    return wall.number, chance.choice(sections_of(wall)).section
