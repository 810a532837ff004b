"""``caller calls`` and ``caller record`` with the real synthesiser: what is planned is what sounds, on exact frames."""

from __future__ import annotations

import json
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from caller.cli import main

pytestmark = pytest.mark.parts


def document(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    assert main(words) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("tempo", ["97", "132.5"])
def test_every_call_is_over_before_its_beat_and_none_overlaps(tempo: str, capsys: pytest.CaptureFixture[str]) -> None:
    plan = document(capsys, "calls", "Lantern Row", "--tempo", tempo, "--json")
    calls = plan["calls"]
    assert len(calls) > 60
    assert all(c["ends"] <= c["due"] - plan["margin_seconds"] + 1e-6 for c in calls if c["kind"] not in ("count-in",))
    assert all(a["ends"] <= b["starts"] for a, b in pairwise(calls))
    assert {"tag", "restart", "change", "wall"} <= {c["kind"] for c in calls}


def test_a_recording_has_a_click_on_the_exact_frame_of_every_count(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Outside reference: the frame of count n is the nearest to n * 60 / tempo * rate, in Python's own fractions."""
    import soundfile

    file = tmp_path / "chalk.wav"
    made = document(
        capsys, "record", "Chalk Line", "--tempo", "101", "--manner", "quiet", "-o", str(file), "--walls", "2", "--json"
    )
    samples, rate = soundfile.read(file, dtype="float32")
    counts = [onset["frame"] for onset in made["onsets"] if onset["kind"] == "count"]
    assert (rate, len(counts)) == (48_000, 32)
    first = round(Fraction(8 * 60 * 48_000, 101))  # after a count-in of two bars
    assert counts[0] == first
    origin = Fraction(8 * 60 * 48_000, 101)
    assert all(abs(f - origin - Fraction(n * 60 * 48_000, 101)) <= 1 for n, f in enumerate(counts))
    for frame in counts:
        assert not samples[frame - 400 : frame].any()
        assert np.abs(samples[frame : frame + 200]).max() > 0.01


@pytest.mark.parametrize("suffix", ["wav", "flac", "ogg", "mp3"])
def test_each_kind_of_file_reads_back_at_its_length(
    suffix: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import soundfile

    file = tmp_path / f"chalk.{suffix}"
    made = document(capsys, "record", "Chalk Line", "-o", str(file), "--json")
    found = soundfile.info(file)
    assert abs(found.frames / found.samplerate - made["seconds"]) < 0.05
    assert any(onset["kind"] == "call" for onset in made["onsets"])


def test_a_suffix_that_is_none_is_refused_before_anything_is_rendered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["record", "Chalk Line", "-o", str(tmp_path / "chalk.xyz")]) == 1
    assert "wav" in capsys.readouterr().err
    assert list(tmp_path.glob("chalk*")) == []
