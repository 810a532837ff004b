"""Tables of the walls ("3 | 12:00 | 24 counts, restart") and walls told one after another ("48 / 48 + tag / 30, restart").

Each wall on which something happens becomes a line of its own that tells it ("Restart on wall 3 after 24 counts"); of
the others nothing is told that the sections don't.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, number_of

_GAP = re.compile(r"\s{2,}|\t")
_WALL = re.compile(
    r"^(?:wall\s*)?(?P<n>\d{1,2})(?:st|nd|rd|th)?(?:\s+wall)?\s*(?:\(\d{1,2}[:.]\d\d\)\s*)?[.:)]?(?P<on>\s*(?:-|\u2013|to|\+|on|onwards?|and\b.*)\s*(?:\d{1,2}|\.{2,3}|\u2026|end)?)?$",
    re.IGNORECASE,
)
_THE_REST = re.compile(r"^(?:all\s+|the\s+|any\s+)*(?:others?|rest|remaining)(?:\s+walls?)?$", re.IGNORECASE)
_HEAD = re.compile(r"^(?:the\s+)?(?:walls?|no\.?|#|time|round)(?:\s+(?:no\.?|number))?$", re.IGNORECASE)
_CLOCK = re.compile(r"(?:\(?\s*(?:1[0-2]|[1-9])(?:[:.]00|\s?o['\u2019]?\s?clock)(?:\s*\.{2,3})?\s*\)?)", re.IGNORECASE)
_KIND = re.compile(r"\b(?P<kind>tags?|bridges?|re-?starts?|rst|r/s|endings?|finish|finale)\b", re.IGNORECASE)
_KINDS = {"t": "Tag", "b": "Bridge", "r": "Restart", "e": "Ending", "f": "Ending"}
_COUNTS = r"(?:\s*-?\s*(?:counts?|cts?\.?|beats?|c)\b)"
_BRACKETED = re.compile(rf"\((?P<n>\d{{1,2}}){_COUNTS}\)", re.IGNORECASE)
_UP_TO = re.compile(r"\b1\s?[-\u2013]\s?(?P<n>\d{1,2})\b")
_PLAIN = re.compile(r"(?<![\d:.])(?P<n>\d{1,2})(?![\d:]|\.\d)")
_SECTIONS = re.compile(rf"\bsections?\b.*?(?P<last>{NUMBER})(?=\W*$)", re.IGNORECASE)
_WHOLE = re.compile(
    r"^\W*(?:(?:dance\s+)?(?:all|whole|full|complete|everything|as\s+(?:usual|normal)|normal)\b.*)?$", re.IGNORECASE
)
_LENGTH = re.compile(rf"^\s*(?:of\s+|,\s*|\(|:\s*)?(?P<n>\d{{1,2}}){_COUNTS}?\s*\)?", re.IGNORECASE)
_LENGTH_BEFORE = re.compile(rf"(?P<n>\d{{1,2}}){_COUNTS}\s*$", re.IGNORECASE)
_ENDS = re.compile(r"^\W*(?:big\s+|the\s+)?(?:endings?|finish|finale|end)\W*$", re.IGNORECASE)
_NOTHING = re.compile(r"^\W*(?:no|none|nothing|-|\u2013)?\W*$", re.IGNORECASE)
_YES = re.compile(r"^\W*(?:yes|y|x|\u2713|\u2714)\W*$", re.IGNORECASE)
_AND_SO_ON = re.compile(r"\s*-?\s*\band\s+(?:so\s+on|from\s+there|always)\b.*$", re.IGNORECASE)
# "Wall 3 (12:00): counts 1-12, restart", "Wall 5 and after: whole dance"
_OF_ONE = re.compile(
    r"^(?P<wall>walls?\s+\d{1,2}|\d{1,2}(?:st|nd|rd|th)\s+wall|W\d{1,2})\s*(?:\(\d{1,2}[:.]\d\d\))?(?:\s+and\s+(?:after|on|all\s+others))?\s*(?:[:=]|\s[\u2010-\u2015-]\s|\.{2,})\s*(?P<rest>\S.*)$",
    re.IGNORECASE,
)
_LEAST = 3  # walls
_MOST = 24  # rows
_LABEL = re.compile(
    r"^\W*(?:(?:the\s+)?(?:sequence|phrasing|order|pattern|structure|walls?|how\s+(?:it|the\s+(?:dance|walls?))\s+(?:goes?|runs?))(?:\s+of\s+(?:the\s+)?walls?)?)\s*(?::|=|[\u2010-\u2015-]\s)\s*",
    re.IGNORECASE,
)
_SAYS_HOW = re.compile(r"\s+\((?:the\s+)?numbers?\b.*\)\W*$", re.IGNORECASE)  # "(numbers are counts danced)"
_BETWEEN = re.compile(r"\s*(?:[,;/|>\u2192.]|\s[\u2010-\u2015-]\s|[\u2010-\u2015-](?=\s?\d))\s*")
_ONE = re.compile(
    rf"^(?:(?:wall\s*|w)\d{{1,2}}\s*[:=]?\s+|(?:wall\s*|w)\d{{1,2}}\s*[:=]\s*)?(?P<counts>\d{{1,2}}{_COUNTS}?|all|full|whole)"
    r"(?P<then>\s*(?:\+|&|\(|and\b|then\b|with\b|plus\b|\s)\s*.*)?$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Wall:
    """One wall: how much of it is danced ("" = all), and the event's words, from its name on."""

    number: int
    danced: str
    event: str
    kind: str


def walls_told(lines: list[Line]) -> list[Line]:
    """The lines, each row of a table of walls as what happens on that wall."""
    out: list[Line] = []
    n = 0
    while n < len(lines):
        length, told = _table(lines, n)
        if told and out and _LABEL.fullmatch(out[-1].text.strip() + " ") is not None:
            out[-1] = replace(out[-1], text=" ", exact=False, source=out[-1].source or out[-1].text)  # of the table
        told = told or list(_in_a_row(lines[n]))
        out += told or [lines[n]]
        n += length or 1
    return out


def _cells(line: Line) -> list[str]:
    if (told := _OF_ONE.match(line.text)) is not None and _KIND.match(told["rest"]) is None:
        return [told["wall"], told["rest"]]
    cells = [cell.strip() for cell in (line.cells or _GAP.split(line.text.strip()))]
    return [cell for n, cell in enumerate(cells) if cell or n not in (0, len(cells) - 1)]


def _table(lines: list[Line], start: int) -> tuple[int, list[Line]]:
    """How many lines the table at ``start`` has, and what it tells; (0, []) where there is none."""
    head = _cells(lines[start])
    headed = len(head) > 1 and _HEAD.match(head[0]) is not None
    rows: list[tuple[Line, int, list[str]]] = []
    end = start + headed
    while end < len(lines) and end - start < _MOST:
        cells = _cells(lines[end])
        number = _WALL.match(cells[0]) if len(cells) > 1 else None
        if number is not None and not headed and number["on"] and "w" not in cells[0].lower():
            break  # "1-4", counts
        if number is not None and int(number["n"]) > (rows[-1][1] if rows else 0):
            rows.append((lines[end], int(number["n"]), cells[1:]))
        elif (not (cells and rows and _THE_REST.match(cells[0])) and any(cells)) or (not rows and not headed):
            break
        end += 1
    while end > start and not any(_cells(lines[end - 1])):
        end -= 1
    named = [head[k] if headed and k < len(head) else "" for k in range(1, 8)]
    walls = [_wall(number, cells, named) for _, number, cells in rows]
    if len(rows) < (_LEAST if not headed else 2) or not any(wall and wall.kind for wall in walls) or None in walls:
        return 0, []
    rest = (replace(line, text=" ", cells=(), exact=False) for line in lines[start:end])
    by_wall = {number: line for line, number, _ in rows}
    told = [
        replace(by_wall[first.number], text=_sentence(first, numbers), cells=(), exact=False)
        for first, numbers in _alike(_whole_ones([wall for wall in walls if wall]))
    ]
    numbers = {line.number for line in told}
    return end - start, sorted([*(x for x in rest if x.number not in numbers), *told], key=lambda x: x.number)


def _wall(number: int, cells: list[str], named: list[str]) -> _Wall | None:
    """What a row tells of its wall; None where it tells anything else."""
    for name, cell in zip(named, cells, strict=False):
        if _KIND.search(name) is not None and (_YES.match(cell) or _NOTHING.match(cell)):
            kind = _KIND.search(name)
            event = kind["kind"] if kind is not None and _YES.match(cell) else ""
            return _Wall(number, "", event, event)
    text = " , ".join(cell for cell in cells if not _CLOCK.fullmatch(cell) and not _NOTHING.match(cell))
    text = _AND_SO_ON.sub("", text)
    kind = _KIND.search(text)
    if STEP_WORD.search(text, 0, kind.start() if kind is not None else len(text)) is not None:
        return None  # of a section
    danced = text[: kind.start()] if kind is not None else text
    if kind is None:
        return _Wall(number, "", "", "") if _WHOLE.match(text) or _PLAIN.search(text) else None
    return _Wall(number, danced, text[kind.start() :], kind["kind"])


def _whole_ones(walls: list[_Wall]) -> list[_Wall]:
    """Those on which something happens; of one that has as many counts as any, all of it is danced."""
    counts = [int(found["n"]) if (found := _PLAIN.fullmatch(w.danced.strip(" ,;:+-"))) else 0 for w in walls]
    most = max(counts, default=0)
    told = [replace(w, danced="all") if n and n == most else w for w, n in zip(walls, counts, strict=True)]
    return [wall for wall in told if wall.kind]


def _alike(walls: list[_Wall]) -> Iterator[tuple[_Wall, list[int]]]:
    """Each event once, with the walls on which it is told in the same words."""
    told: dict[tuple[str, str, str], list[_Wall]] = {}
    for wall in walls:
        told.setdefault((_KINDS[wall.kind[0].lower()], _place(wall.danced), wall.event.lower()), []).append(wall)
    return ((same[0], [wall.number for wall in same]) for same in told.values())


def _sentence(wall: _Wall, numbers: list[int]) -> str:
    kind = _KINDS[wall.kind[0].lower()]
    before = _LENGTH_BEFORE.search(wall.danced) if kind in ("Tag", "Bridge") else None
    danced = (
        wall.danced[: before.start()]
        if before is not None and _PLAIN.search(wall.danced[: before.start()])
        else wall.danced
    )
    rest = wall.event[len(wall.kind) :]
    length = _LENGTH.match(rest) if kind != "Restart" else None
    rest = rest[length.end() :] if length is not None else rest
    long = length or (before if danced is not wall.danced else None)
    said = f" ({long['n']} counts)" if long is not None else ""
    steps = rest.strip(" ,:.;-()")
    return f"{kind} on {_walls(numbers)} {_place(danced)}{said}" + (
        f": {steps}" if steps and kind != "Restart" else _faced(rest)
    )


def _walls(numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"wall {numbers[0]}"
    return f"walls {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"


def _place(danced: str) -> str:
    if _WHOLE.match(danced) is not None:
        return "at the end of the wall"
    found = _BRACKETED.search(danced) or _UP_TO.search(danced) or _PLAIN.search(danced)
    if found is not None:
        return f"after {found['n']} counts"
    sections = _SECTIONS.search(danced.rstrip(" ,;:-").removesuffix("then").rstrip(" ,"))
    return f"after section {number_of(sections['last'])}" if sections is not None else "at the end of the wall"


def _faced(rest: str) -> str:
    facing = _CLOCK.search(rest)
    return f" (facing {facing[0].strip(' ()')})" if facing is not None else ""


def _in_a_row(line: Line) -> Iterator[Line]:
    """ "Sequence: 48 / 48 + tag / 30, restart / 48": the walls in one line."""
    label = _LABEL.match(line.text)
    if label is None:
        return
    walls: list[list[str]] = []
    row = _SAYS_HOW.sub("", line.text[label.end() :])
    for item in _BETWEEN.split(row.strip(" .")):
        one = _ONE.match(item)
        if one is not None:
            walls.append([one["counts"], one["then"] or ""])
        elif walls and _ENDS.match(item) is not None:
            continue  # of a wall that begins then; told elsewhere
        elif walls and _KIND.match(item) is not None:
            walls[-1][1] += f" {item}"
        else:
            return
    most = max((int(found["n"]) for counts, _ in walls if (found := _PLAIN.search(counts))), default=0)
    told = [wall for n, (counts, then) in enumerate(walls, 1) if (wall := _of_row(n, counts, then, most)) is not None]
    if told:  # the last may be short because the song ends
        told += [_cut_short(n, counts) for n, (counts, then) in enumerate(walls[:-1], 1) if _short(counts, then, most)]
    if len(walls) < _LEAST or not told:
        return
    for n, (wall, numbers) in enumerate(_alike(told)):
        yield replace(
            line, text=_sentence(wall, numbers), exact=False, source=line.source if n else line.source or line.text
        )


def _of_row(number: int, counts: str, then: str, most: int) -> _Wall | None:
    kind = _KIND.search(then)
    found = _PLAIN.search(counts)
    danced = "all" if found is None or int(found["n"]) == most else f"{found['n']} counts"
    return _Wall(number, danced, then[kind.start() :], kind["kind"]) if kind is not None else None


def _short(counts: str, then: str, most: int) -> bool:
    """Whether less than the whole wall is danced, and nothing says what comes then."""
    found = _PLAIN.search(counts)
    return not then.strip() and found is not None and int(found["n"]) < most


def _cut_short(number: int, counts: str) -> _Wall:
    return _Wall(number, counts, "Restart", "Restart")
