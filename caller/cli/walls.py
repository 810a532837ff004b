"""``caller walls``: the dance as danced, wall by wall."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from caller.calls.groups import groups_between, shown_words
from caller.cli import amounts
from caller.cli.backing import asked_music, prior_of_routine, room_in
from caller.cli.options import runs
from caller.cli.running import add_as_it_stands, dance_of
from caller.cli.say import Refused, print_json
from caller.cli.sheets import Sheet, danceable
from caller.cli.songmap import song_document, song_lines, song_of
from caller.dance.shared_floor import SharedFloor, floor_words, shared_floor
from caller.dance.wall_map import map_walls, wall_drawing, wall_table
from caller.dance.walls import Dance, DancedStep, Wall
from caller.routine.naming import turn_words


@dataclass(frozen=True, kw_only=True)
class WallsOptions:
    sheet: str
    as_it_stands: bool
    walls: int | None
    music: str | None
    movements: bool
    beside: str | None
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "walls",
        help="show the dance wall by wall: facings, tags, restarts",
        description="Shows the dance as it is danced, wall by wall.",
    )
    words.add_argument("sheet", metavar="SHEET")
    add_as_it_stands(words)
    words.add_argument(
        "--walls",
        type=amounts.walls,
        metavar="N",
        help="how many walls (default: to the ending, or past the last event; with --music as many as have room)",
    )
    words.add_argument(
        "--music", metavar="FILE", help="show where walls and events fall in this recording, and where the two disagree"
    )
    words.add_argument(
        "--beside", metavar="SHEET", help="show how this other dance stands to it on one floor, to one song"
    )
    words.add_argument(
        "--movements", action="store_true", help="list every movement, with the facing and weight after it"
    )
    words.add_argument("--json", action="store_true", help="print one JSON document")
    runs(words, WallsOptions, run)


def run(asked: WallsOptions) -> int:
    sheet = danceable(asked.sheet, asked.as_it_stands)
    backing = asked_music(asked.music, prior_of_routine(sheet.read.routine))
    dance = dance_of(sheet, asked.walls, room=room_in(backing, sheet.routine))
    song = song_of(sheet, dance, backing) if backing else None
    shared = _shared(dance, danceable(asked.beside, asked.as_it_stands)) if asked.beside else None
    if asked.json:
        print_json(
            {"title": sheet.title, "walls": wall_documents(dance, asked.movements)}
            | ({} if shared is None else {"beside": _shared_document(shared)})
            | ({} if song is None else {"song": song_document(song)})
        )
        return 0
    walls = map_walls(dance)
    print("\n".join(wall_table(walls)))
    print()
    print("\n".join(wall_drawing(walls)))
    if shared is not None:
        print(*("", f"Beside it {shared.title}:", *floor_words(shared)), sep="\n")
    if song is not None:
        print()
        print("\n".join(song_lines(song)))
    if asked.movements:
        figures = _figures(dance)
        for index, wall in enumerate(dance.walls):
            print(f"\nwall {wall.number}")
            for n, danced in enumerate(wall.movements):
                print(_movement_line(danced, figures.get((index, n), "")))
    return 0


def _shared(dance: Dance, sheet: Sheet) -> SharedFloor:
    """How the other dance stands to this one. Raises Refused."""
    try:
        return shared_floor(dance, sheet.routine)
    except ValueError as fault:
        raise Refused(f"{dance.routine.header.title!r} and {sheet.title!r}: {fault}", 1) from fault


def _shared_document(floor: SharedFloor) -> dict[str, object]:
    return {
        "title": floor.title,
        "counts": floor.counts,
        "alike": floor.alike,
        "opposed": floor.opposed,
        "mixed": floor.mixed,
        "face_to_face": [list(run) for run in floor.face_to_face],
        "left_out": list(floor.left_out),
        "meetings": [
            {"at": str(one.at), "walls": list(one.walls), "facings": [facing.clock for facing in one.facings]}
            for one in floor.meetings
        ],
    }


def _movement_line(danced: DancedStep, figure: str) -> str:
    movement = danced.step.movement
    foot = movement.foot.value if movement.foot else "-"
    what = " ".join(filter(None, (movement.action, movement.where, turn_words(movement.turn))))
    after = danced.after
    stands = f"{after.facing.clock:>5}  weight {after.weight.value:4}"
    return f"    {danced.step.count:>4}  {foot} {what:34} {stands}  {figure}"


def _figures(dance: Dance) -> dict[tuple[int, int], str]:
    """What each movement's group is called, in full, by the index of its wall and its own in that: the sheet's own
    names first, as they are called and shown."""
    places = {wall.at: index for index, wall in enumerate(dance.walls)}
    return {
        (places[group.wall.at], n): shown_words(group)
        for group in groups_between(dance, Fraction(0), Fraction(dance.counts))
        for n in range(group.first, group.last + 1)
    }


def wall_documents(dance: Dance, movements: bool) -> list[dict[str, object]]:
    """One for each wall. movements: with all that is danced."""
    figures = _figures(dance) if movements else None
    return [_wall_document(index, wall, figures) for index, wall in enumerate(dance.walls)]


def _wall_document(index: int, wall: Wall, figures: dict[tuple[int, int], str] | None) -> dict[str, object]:
    document: dict[str, object] = {
        "wall": wall.number,
        "part": wall.part,
        "starts": wall.starts.clock,
        "ends": wall.ends.clock,
        "counts": wall.counts,
        "events": [{"kind": e.kind, "after": e.after, "counts": e.counts, "name": e.name} for e in wall.events],
    }
    if figures is not None:
        document["movements"] = [
            _movement_document(wall, danced, figures.get((index, n), "")) for n, danced in enumerate(wall.movements)
        ]
    return document


def _movement_document(wall: Wall, danced: DancedStep, figure: str) -> dict[str, object]:
    movement = danced.step.movement
    return {
        "count": danced.step.count,
        "at": str(danced.at - wall.at),
        "section": danced.section,
        "foot": movement.foot.value if movement.foot else None,
        "action": movement.action,
        "where": movement.where,
        "turn": movement.turn.eighths,
        "facing": danced.after.facing.clock,
        "weight": danced.after.weight.value,
        "figure": figure,
    }
