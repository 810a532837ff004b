"""Music made ready in the background: what was asked for last comes first, and what can't be made is told."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

import numpy as np
import pytest

from caller.clock.grid import Grid
from caller.rig.music.decode import NoMusic
from caller.rig.music.making import Making, usual_tempos
from caller.rig.music.workshop import GivenUp, Recorded
from caller.sound.score import Clip
from tests.parts.waiting import until

FULL = Fraction(100)
LIMIT_SECONDS = 10  # for a thread that never comes; none of this waits
SPEEDS = (Fraction(1), Fraction(3, 4), Fraction(1, 2))


@dataclass
class HandWorkshop:
    """Makes a version when it is let; ``begun``: speeds, in order; ``hurried``: which of them in a hurry; refuses:
    those that can't be made. excerpts: whether there are any, when ``held`` is let go; ``parts``: those made,
    by speed and second."""

    refuses: tuple[Fraction, ...] = ()
    excerpts: bool = False
    parts: list[tuple[Fraction, Fraction]] = field(default_factory=list)
    begun: list[Fraction] = field(default_factory=list)
    hurried: list[bool] = field(default_factory=list)
    held: threading.Event = field(default_factory=threading.Event)
    tidied: int = 0
    _steps: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(0))
    _came: threading.Condition = field(default_factory=threading.Condition)

    def evened(self, recorded: Recorded, grid: Grid, given_up: Callable[[], bool], *, hurry: bool) -> Recorded:
        return recorded

    def version(
        self,
        recorded: Recorded,
        speed: Fraction,
        given_up: Callable[[], bool],
        *,
        hurry: bool,
        excerpt_at: Fraction | None = None,
    ) -> Clip:
        with self._came:
            self.begun.append(speed)
            self.hurried.append(hurry)
            self._came.notify_all()
        assert self._steps.acquire(timeout=LIMIT_SECONDS)
        if given_up():
            raise GivenUp
        if speed in self.refuses:
            raise NoMusic("this can't be made")
        return Clip(str(speed), np.zeros(10, np.float32))

    def excerpt(
        self, recorded: Recorded, speed: Fraction, at_seconds: Fraction, given_up: Callable[[], bool]
    ) -> Clip | None:
        if not self.excerpts:
            return None
        assert self.held.wait(LIMIT_SECONDS)
        self.parts.append((speed, at_seconds))
        return Clip(f"{speed} from {at_seconds}", np.zeros(10, np.float32))

    def tidy(self) -> None:
        self.tidied += 1

    def __post_init__(self) -> None:
        self.held.set()

    def let(self, versions: int = 1) -> None:
        for _ in range(versions):
            self._steps.release()

    def wait_for(self, begun: int) -> None:
        with self._came:
            assert self._came.wait_for(lambda: len(self.begun) >= begun, LIMIT_SECONDS)


def there(music: Making, tempo: Fraction, key: str) -> None:
    """Until that is what there is of a tempo: whole and excerpt are made side by side."""
    until(lambda: tempo in music.song.versions and music.song.versions[tempo].key == key, LIMIT_SECONDS, key)


def making(shop: HandWorkshop) -> Making:
    return Making(shop, Recorded("d", 0.5, -20.0, 60.0), Grid(FULL, Fraction(1, 2)), usual_tempos(FULL))


def test_full_three_quarters_and_half_speed_are_made_before_anybody_asks() -> None:
    shop = HandWorkshop()
    music = making(shop)
    shop.wait_for(1)
    assert (music.ready, music.says) == (False, "being made ready for 100")
    shop.let(2)
    shop.wait_for(3)
    assert (music.ready, music.says) == (True, "")
    assert shop.begun == list(SPEEDS)
    assert set(music.song.versions) == {FULL, FULL * SPEEDS[1]}
    shop.let()
    music.close()


def test_what_is_asked_for_last_is_made_first_and_the_rest_after_it() -> None:
    shop = HandWorkshop()
    music = making(shop)
    shop.wait_for(1)
    shop.let()
    shop.wait_for(2)
    for tempo in (96, 92, 88):
        music.want(Fraction(tempo))
    assert music.says == "being made ready for 88"
    shop.let()  # what was under way is given up
    shop.wait_for(3)
    shop.let()
    shop.wait_for(4)
    assert shop.begun == [1, Fraction(3, 4), Fraction(22, 25), Fraction(3, 4)]
    assert Fraction(88) in music.song.versions
    assert music.says == ""
    shop.let(2)
    music.close()


def test_what_can_not_be_made_is_told_and_not_tried_again() -> None:
    shop = HandWorkshop(refuses=(Fraction(1),))
    music = making(shop)
    shop.wait_for(1)
    shop.let()
    shop.wait_for(2)
    assert (music.ready, music.says) == (True, "this can't be made")
    shop.let(2)
    music.close()
    assert shop.begun.count(Fraction(1)) == 1


def test_leaving_gives_up_what_is_under_way() -> None:
    shop = HandWorkshop()
    music = making(shop)
    shop.wait_for(1)
    shop.let()
    music.close()
    assert shop.tidied <= 1
    assert len(shop.begun) <= 2


def test_a_class_that_is_taught_first_does_not_wait_for_what_it_dances_to_later() -> None:
    shop = HandWorkshop()
    grid, recorded = Grid(FULL, Fraction(1, 2)), Recorded("d", 0.5, -20.0, 60.0)
    music = Making(shop, recorded, grid, [FULL * 3 / 5, FULL], awaited=False)
    shop.wait_for(1)
    assert (music.ready, music.says) == (True, "")
    assert (shop.begun, shop.hurried) == ([Fraction(3, 5)], [False])
    shop.let(2)
    music.close()


def test_a_drill_waits_for_the_tempo_that_it_begins_with() -> None:
    shop = HandWorkshop()
    music = Making(shop, Recorded("d", 0.5, -20.0, 60.0), Grid(FULL, Fraction(1, 2)), [FULL / 2, FULL])
    shop.wait_for(1)
    assert (music.ready, music.says) == (False, "being made ready for 50")
    shop.let(1)
    shop.wait_for(2)
    assert (music.ready, shop.begun) == (True, [Fraction(1, 2), 1])
    assert shop.hurried == [True, False]  # the second while the class dances
    shop.let()
    music.close()


def test_of_what_is_waited_for_the_part_that_is_danced_comes_first_and_the_whole_takes_its_place() -> None:
    shop = HandWorkshop(excerpts=True)
    music = making(shop)
    shop.wait_for(1)
    assert (music.ready, music.says, music.song.versions[FULL].key) == (True, "", "1 from 0")
    shop.let()
    shop.wait_for(2)
    assert music.song.versions[FULL].key == "1"
    music.want(Fraction(88), Fraction(70))
    shop.let()  # what was foreseen is given up for it
    shop.wait_for(3)
    speed = Fraction(22, 25)
    there(music, Fraction(88), f"{speed} from 70")
    shop.let()
    shop.wait_for(4)
    assert music.song.versions[Fraction(88)].key == str(speed)
    assert shop.parts == [(1, 0), (speed, 70)]  # nobody waits for what is foreseen
    shop.let(2)
    music.close()


def test_while_the_class_dances_the_whole_is_made_beside_the_part_and_never_gives_way_to_it() -> None:
    shop = HandWorkshop(excerpts=True)
    music = making(shop)
    shop.wait_for(1)
    shop.let()
    shop.wait_for(2)
    shop.held.clear()
    music.want(Fraction(88), Fraction(70))
    shop.let()
    shop.wait_for(3)  # the part isn't there yet
    assert shop.begun[-1] == Fraction(22, 25)
    assert Fraction(88) not in music.song.versions
    shop.let()  # the whole is there first
    shop.held.set()
    shop.wait_for(4)
    assert music.song.versions[Fraction(88)].key == "22/25"
    shop.let(2)
    music.close()


def test_a_tempo_that_was_left_before_it_was_whole_is_begun_again_where_the_class_has_come_to() -> None:
    shop = HandWorkshop(excerpts=True)
    music = making(shop)
    shop.wait_for(1)
    shop.let()
    shop.wait_for(2)
    speed = Fraction(22, 25)
    for begun, (tempo, at) in enumerate(((88, 30), (92, 34), (88, 80)), start=3):
        music.want(Fraction(tempo), Fraction(at))
        shop.let()
        shop.wait_for(begun)
        there(music, Fraction(tempo), f"{Fraction(tempo, 100)} from {at}")
    assert shop.parts == [(1, 0), (speed, 30), (Fraction(23, 25), 34), (speed, 80)]
    shop.let(3)
    music.close()


@pytest.mark.parametrize(("at", "parts", "next_begun"), [(20, [0], SPEEDS[1]), (120, [0, 120], SPEEDS[0])])
def test_a_jump_beyond_what_there_is_does_not_wait_for_the_whole(
    at: int, parts: list[int], next_begun: Fraction
) -> None:
    """Within the half minute that is there, the whole is gone on with."""
    shop = HandWorkshop(excerpts=True)
    music = making(shop)
    shop.wait_for(1)
    music.want(FULL, Fraction(at))
    shop.let()
    shop.wait_for(2)
    until(lambda: len(shop.parts) >= len(parts), LIMIT_SECONDS, "the parts")
    assert shop.parts == [(1, part) for part in parts]
    assert shop.begun == [1, next_begun]
    shop.let()
    shop.wait_for(3)
    assert music.song.versions[FULL].key == "1"
    shop.let(3)
    music.close()
