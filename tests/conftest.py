"""For all tests: no property has a time limit, nor its examples one to be drawn in, as how long they take is the
machine's matter; and nothing is kept among this user's own data, nor in this user's cache."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.fakes.kept_speech import with_speech

settings.register_profile("house", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("house")


@pytest.fixture(scope="session")
def speech(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where speech is kept for a whole run, by all its processes; a test of rendering has a folder of its own."""
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "speech"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(autouse=True, scope="session")
def own_data(tmp_path_factory: pytest.TempPathFactory, speech: Path) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
        patch.setenv("XDG_CACHE_HOME", str(with_speech(tmp_path_factory.mktemp("cache"), speech)))
        yield
