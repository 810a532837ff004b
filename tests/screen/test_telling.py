"""What is told and walked stands in large letters, however long the section is."""

from __future__ import annotations

from pathlib import Path

import pytest

from caller.dance.unroll import unroll
from caller.routine.facing import Facing
from caller.routine.notation.read import read_bytes
from caller.routine.step import Foot
from caller.screen.app import ClassScreen
from caller.screen.letters import CUT
from caller.teaching.stage import Stage, StageKind
from caller.teaching.walkthrough import walkthrough_of
from caller.transport.state import State
from tests.fakes.room import Clock, FakeSession, telling_of
from tests.screen.seen import lines_in, words_in

ROUTINES = sorted((Path(__file__).parents[2] / "routines").glob("*.txt"))
SIZES = [(80, 24), (100, 30)]


def _walked(path: Path) -> list[Stage]:
    dance = unroll(read_bytes(path.read_bytes()).routine)
    return [stage for stage in walkthrough_of(dance).stages if stage.kind is StageKind.WALK]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("path", ROUTINES, ids=lambda path: path.stem)
async def test_the_step_that_is_walked_is_large_and_whole_beside_the_list_and_how_all_stand(
    path: Path, size: tuple[int, int]
) -> None:
    stage = max(_walked(path), key=lambda stage: len(stage.said))
    assert len(stage.said) >= 10
    session, clock = FakeSession(), Clock()
    app = ClassScreen(session, clock)
    async with app.run_test(size=size) as pilot:
        for line, sentence in enumerate(stage.said):
            session.shows = telling_of(stage.said, line, (Facing(3), Foot.LEFT), stage.name)
            clock.seconds += 2
            app.look()
            await pilot.pause()
            words, height = words_in(app, "#call")
            assert height >= 5, f"{sentence} is in ordinary letters"
            assert CUT not in words
            assert words_in(app, "#next")[1] >= 5
            assert any(text.startswith("▶") and sentence[:8] in text for text in _rows(app))


def _rows(app: ClassScreen) -> list[str]:
    return [row.strip() for row in lines_in(app, "#listed")]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("state", [State.TELLING, State.PAUSED])
async def test_how_all_stand_and_are_turned_back_is_large_where_rows_are_free(
    size: tuple[int, int], state: State
) -> None:
    sentence = "back to twelve o'clock, change weight, left foot free."
    shows = telling_of((sentence,), 0, (Facing(0), Foot.LEFT), "From the top", state)
    app = ClassScreen(FakeSession(shows))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        words, height = words_in(app, "#call" if state is State.TELLING else "#next")
    assert height >= 5
    assert words.startswith("BACK TO 12:00") or words.startswith("BACK TO TWELVE O'CLOCK")
