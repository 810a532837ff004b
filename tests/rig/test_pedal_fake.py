"""The pedal driven by hand makes the gestures that a real one makes of the same presses."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from caller.rig.pedal import open_pedal
from tests.fakes.pedal import DOWN, UP, HandPedal, HandPorts


@given(st.lists(st.tuples(st.floats(0.001, 1.5), st.sampled_from(["press", "release", "look"])), max_size=40))
def test_the_fake_and_the_real_one_agree(steps: list[tuple[float, str]]) -> None:
    ports = HandPorts(["Sole"])
    real, fake = open_pedal(make=lambda: ports), HandPedal()
    real.poll(0.0)
    now = 0.0
    for gap, step in steps:
        now += gap
        if step == "look":
            assert fake.poll(now) == real.poll(now)
            continue
        ports.send("Sole", DOWN if step == "press" else UP, now)
        (fake.press if step == "press" else fake.release)(now)
    assert fake.poll(now + 1) == real.poll(now + 1)
