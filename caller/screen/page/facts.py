"""A board as the JSON that the page draws from: plain text, numbers, and no more than the class screen shows."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from caller.screen.board import Board
    from caller.screen.course import Floor, OrderWall, Strip
    from caller.screen.side import Side

NO_CLASS = json.dumps({"state": "none"})


def facts_of(board: Board) -> dict[str, Any]:
    """Wordings longest first. marked: which of those listed is spoken now, -1 = none. turn: in eighths, right positive;
    facing: eighths from 12:00, or null. The room is always as the dancers see it: a page turns it round by itself where
    it is asked to."""
    return {
        "state": board.state,
        "moving": board.moving,
        "title": board.title,
        "section": board.section,
        "wall": board.wall[0],
        "tempo": board.tempo[0],
        "holds": list(board.holds),
        "call": list(board.large.call),
        "label": board.large.label,
        "next": list(board.large.next),
        "easier": list(board.large.easier),
        "coming": board.coming,
        "caption": board.caption.words,
        "listed": list(board.listed),
        "marked": board.marked,
        "notices": list(board.notices),
        "strip": _strip(board.strip) if board.strip else None,
        "order": [_wall(wall, board.order_now) for wall in board.order],
        "floor": _floor(board.floor) if board.floor else None,
        **_side(board.side),
    }


def text_of(board: Board) -> str:
    return json.dumps(facts_of(board), ensure_ascii=False, separators=(",", ":"))


def _side(side: Side) -> dict[str, Any]:
    return {
        "count": side.count,
        "in_bar": side.in_bar,
        "bar": side.bar,
        "foot": side.foot.word if side.foot else "",
        "foot_next": side.foot is not None and side.foot_next,
        "facing": side.facing.eighths if side.facing else None,
        "clock": side.facing.clock if side.facing else "",
        "turn": side.turn.eighths,
        "turn_words": " ".join(part for part in (side.turn_amount, side.turn_when) if part),
    }


def _floor(floor: Floor) -> dict[str, Any]:
    """In SVG's axes, the front wall at the top; degrees clockwise from pointing to it."""
    marks = [
        {"x": m.x, "y": m.y, "degrees": m.degrees, "foot": m.foot, "shape": m.shape, "label": m.label}
        | {"at": [m.label_x, m.label_y]}
        for m in floor.figure.marks
    ]
    path = [list(point) for point in floor.figure.path]
    return {"view": list(floor.figure.view), "marks": marks, "path": path, "now": floor.now}


def _strip(strip: Strip) -> dict[str, Any]:
    pieces = [{"label": p.label, "counts": p.counts, "changed": [list(c) for c in p.changed]} for p in strip.pieces]
    return {"pieces": pieces, "ends": strip.ends, "danced": strip.danced, "ahead": strip.ahead}


def _wall(wall: OrderWall, now: int) -> dict[str, Any]:
    name = f"{wall.number}{wall.part}"
    return {"name": name, "starts": wall.starts.clock, "events": list(wall.events), "now": wall.number == now}
