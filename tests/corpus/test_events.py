"""Events in the words of other hands, read as they are told.

``events/standing.toml`` names those that are read otherwise today; whatever is not named there is held.
"""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from tests.corpus.events import FOLDER, EventCase, cases, read_as_told

STANDING: dict[str, Any] = tomllib.loads((FOLDER / "standing.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.name)
def test_an_event_is_read_as_it_is_told(case: EventCase) -> None:
    """But for those that are listed; one that is read well by now is taken off its list."""
    assert read_as_told(case) is (case.name not in STANDING["otherwise"])
