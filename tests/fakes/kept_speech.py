"""Speech that is rendered once for all tests: rendering and shaping a routine's phrases takes ten seconds of a core."""

from __future__ import annotations

from pathlib import Path


def with_speech(cache: Path, speech: Path) -> Path:
    """A cache folder of a test's own, to which all is new but the phrases in ``speech``."""
    (cache / "caller").mkdir(parents=True)
    (cache / "caller" / "speech").symlink_to(speech, target_is_directory=True)
    return cache
