"""A section's heading is told in words."""

from __future__ import annotations

from dataclasses import replace

from caller.teaching.telling import section_told
from tests.takehome.packets import shipped_dance


def test_a_heading_is_told_in_words_not_in_signs() -> None:
    dance = shipped_dance("lantern-row")
    wall = dance.walls[0]
    stretch = replace(wall.stretches[0], name="Walk fwd R & L, 1/4")
    opening, *_ = section_told(dance, wall, stretch)
    assert opening == "section one, Walk forward right and left, a quarter."
