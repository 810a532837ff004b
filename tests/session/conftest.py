"""What every class that is made here works out before its start is worked out once: the highest tempo at which all is
called takes a third of a second, and hangs on the dance, the way of calling and the voice alone."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from caller.calls.plan import Fading, Lexicon, Manner
from caller.calls.planning import highest_tempo
from caller.dance.walls import Dance
from tests.fakes.lexicon import MeasuredVoice


@pytest.fixture(autouse=True, scope="session")
def fastest_once() -> Iterator[None]:
    found: dict[object, tuple[Dance, int | None]] = {}  # with the dance: its id stays its own

    def once(dance: Dance, manner: Manner, lexicon: Lexicon, *, count_in: int, fading: Fading) -> int | None:
        if not isinstance(lexicon, MeasuredVoice):
            return highest_tempo(dance, manner, lexicon, count_in=count_in, fading=fading)
        key = (id(dance), manner, lexicon.mute, lexicon.stretch, count_in, fading)
        if key not in found:
            found[key] = dance, highest_tempo(dance, manner, lexicon, count_in=count_in, fading=fading)
        return found[key][1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("caller.session.promise.highest_tempo", once)
        yield
