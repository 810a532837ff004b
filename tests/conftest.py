"""For all tests: no property has a time limit, as how long one takes is the machine's matter; and nothing is kept among
this user's own data."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import settings

settings.register_profile("house", deadline=None)
settings.load_profile("house")


@pytest.fixture(autouse=True, scope="session")
def own_data(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
        yield
