"""Events in other authors' words, each in one of three dances: see ``edited.py``."""

from __future__ import annotations

import pytest

from tests.corpus.edited import STANDING, EditedCase, cases, read_as_told


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.name)
def test_events_are_read_as_they_are_told(case: EditedCase) -> None:
    """But for those that are listed; one that is read well by now is taken off its list."""
    assert read_as_told(case) is (case.name not in STANDING["otherwise"])
