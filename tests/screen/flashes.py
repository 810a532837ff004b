"""How much of what is shown flashes, measured on its pictures.

Conventions: a picture is an array of relative luminances, 0 to 1, one for each square or pixel; seconds don't run back.
By WCAG 2.2, "general flash and red flash thresholds" (w3.org/TR/WCAG22/#dfn-general-flash-and-red-flash-thresholds), a
flash is a pair of opposing changes of 0.10 or more where the darker is below 0.80; three in any second are allowed, and
any number over no more than a quarter of any visual field of 10 degrees. Such a field is taken to be 341 x 256 of
1024 x 768 pixels (its note): a third of the screen's width and height, wherever it lies.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from rich.style import Style
from textual.app import App

LEAST_CHANGE, DARK_BELOW = 0.10, 0.80
MOST_CHANGES = 6  # in a second: three flashes of two each
FIELDS_ACROSS, MOST_OF_FIELD = 3, 0.25

# Which of a cell's two squares a block lights.
_HALVES = {" ": (False, False), "▀": (True, False), "▄": (False, True), "█": (True, True), "▁": (False, False)}

Picture = npt.NDArray[np.float64]
Places = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Worst:
    """In any one second. at_a_place: opposing changes of the place that changes most. too_often: the largest share of
    any field that has more of them than three flashes have. at_once: how often more than a quarter of a field becomes
    lighter, or darker, within one picture, whatever its places do before and after."""

    at_a_place: int
    too_often: float
    at_once: int

    @property
    def safe(self) -> bool:
        """By both readings: place by place, and all that changes in a field together."""
        return self.too_often <= MOST_OF_FIELD and self.at_once <= MOST_CHANGES


def luminances(colours: npt.NDArray[np.uint8]) -> Picture:
    """Relative luminance as WCAG 2 defines it, of sRGB colours in the last axis."""
    parts = colours[..., :3] / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    return np.asarray(linear @ np.array([0.2126, 0.7152, 0.0722]))


def worst_second(pictures: Iterable[tuple[float, Picture]]) -> Worst:
    """pictures: each with the second from which it shows."""
    seconds, places = 0.0, Changes()
    recent: deque[tuple[float, Places, bool]] = deque()
    often = np.zeros(1, dtype=np.int64)
    at_a_place, too_often, at_once = 0, 0.0, 0
    for seconds, picture in pictures:
        changed, lighter, darker = places.of(picture)
        recent.append((seconds, changed, max(map(most_of_field, (lighter, darker))) > MOST_OF_FIELD))
        often = often + changed
        while recent[0][0] <= seconds - 1 + 1e-9:
            often = often - recent.popleft()[1]
        at_a_place = max(at_a_place, int(often.max()))
        too_often = max(too_often, most_of_field(often > MOST_CHANGES))
        at_once = max(at_once, sum(one[2] for one in recent))
    return Worst(at_a_place, too_often, at_once)


class Changes:
    """Which places change, picture by picture. Between two changes that count, a place has turned round: a rise in
    several steps is one."""

    def __init__(self) -> None:
        self._before: Picture | None = None

    def of(self, picture: Picture) -> tuple[Places, Places, Places]:
        """(the places at which a change against the last one is complete, those lighter than in the last picture, those
        darker)."""
        if self._before is None:
            self._before, self._low, self._high = picture, picture.copy(), picture.copy()
            self._way = np.zeros(picture.shape, dtype=np.int64)
            none = np.zeros(picture.shape, dtype=np.bool_)
            return none, none, none
        rose = (self._way <= 0) & (picture - self._low >= LEAST_CHANGE) & (self._low < DARK_BELOW)
        fell = (self._way >= 0) & (self._high - picture >= LEAST_CHANGE) & (picture < DARK_BELOW)
        self._way = np.where(rose, 1, np.where(fell, -1, self._way))
        self._low = np.where(rose | fell, picture, np.minimum(self._low, picture))
        self._high = np.where(rose | fell, picture, np.maximum(self._high, picture))
        up = picture - self._before
        lighter, darker = (
            (up >= LEAST_CHANGE) & (self._before < DARK_BELOW),
            (up <= -LEAST_CHANGE) & (picture < DARK_BELOW),
        )
        self._before = picture
        return rose | fell, lighter, darker


def most_of_field(places: Places) -> float:
    """The largest share of any field that those places take."""
    rows, columns = (max(1, -(-size // FIELDS_ACROSS)) for size in places.shape)
    summed = np.zeros((places.shape[0] + 1, places.shape[1] + 1), dtype=np.int64)
    summed[1:, 1:] = places.cumsum(0).cumsum(1)
    inside = summed[rows:, columns:] - summed[:-rows, columns:] - summed[rows:, :-columns] + summed[:-rows, :-columns]
    return float(inside.max()) / (rows * columns)


class Terminal:
    """Pictures of a running screen, two squares to a cell. A letter lights part of its cell, which part is the
    terminal's business: where it becomes another, its whole cell is taken to turn from light to dark or back."""

    def __init__(self) -> None:
        self._letters: dict[tuple[int, int], tuple[str, bool]] = {}

    def picture(self, app: App[None]) -> Picture:
        rows = []
        for y, strip in enumerate(app.screen._compositor.render_strips()):
            cells: list[tuple[float, float]] = []
            for segment in strip:
                ink, paper = _both(segment.style)
                for sign in segment.text:
                    lit = _HALVES.get(sign) or (self._lit(y, len(cells), sign),) * 2
                    cells.append((ink if lit[0] else paper, ink if lit[1] else paper))
            rows += [[cell[half] for cell in cells] for half in (0, 1)]
        return np.array(rows)

    def _lit(self, y: int, x: int, sign: str) -> bool:
        was, lit = self._letters.get((y, x), ("", False))
        self._letters[y, x] = sign, lit if sign == was else not lit
        return self._letters[y, x][1]


@lru_cache(maxsize=64)
def _both(style: Style | None) -> tuple[float, float]:
    """Luminance of ink and paper; where nothing is written the ink is the paper."""
    assert style is not None
    assert style.bgcolor is not None
    colours = [(colour or style.bgcolor).get_truecolor() for colour in (style.color, style.bgcolor)]
    ink, paper = luminances(np.array(colours, dtype=np.uint8))
    return (float(paper), float(ink)) if style.reverse else (float(ink), float(paper))
