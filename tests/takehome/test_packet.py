"""A packet: whole, and gone on with where it stopped."""

from __future__ import annotations

import os
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
import soundfile

from caller.calls.plan import Fading
from caller.routine.vocabulary import shipped
from caller.sound.mix import render
from caller.takehome import packet
from caller.takehome.library import each_made
from caller.takehome.packet import names_of, take_of_version, write_papers, write_recording
from caller.takehome.recording import RecordingFailed, sixteen_bits
from caller.takehome.versions import VERSIONS, file_stem
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import a_take, shipped_dance, version


def stamps(folder: Path) -> dict[str, int]:
    return {file.name: file.stat().st_mtime_ns for file in folder.iterdir()}


def test_a_recording_comes_with_its_captions_and_one_without_calls_has_none(tmp_path: Path) -> None:
    called = write_recording(a_take("chalk-line"), version("full-called"), tmp_path, "flac")
    plain = write_recording(a_take("chalk-line", "full-counts"), version("full-counts"), tmp_path, "flac")
    assert [p.name for p in called] == [f"chalk-line-full-called.{s}" for s in ("flac", "vtt", "srt")]
    assert [p.name for p in plain] == ["chalk-line-full-counts.flac"]
    assert sorted(stamps(tmp_path)) == sorted(p.name for p in called + plain)


def test_below_full_speed_everything_is_called_in_all_walls() -> None:
    """Who practises slowly may have missed the class."""

    def called(name: str, fading: Fading | None = None) -> list[int]:
        dance, voice = shipped_dance("chalk-line", 5), MeasuredVoice()
        take = take_of_version(dance, version(name), Fraction(96), voice, voice.clip, fading=fading)
        told = [call.cue.at for call in take.plan.calls if call.cue.steps and call.cue.heard_counts == 0]
        return [sum(wall.at <= at < wall.end for at in told) for wall in dance.walls[1:]]

    for slow in ("half-called", "three-quarters-called"):
        assert len(set(called(slow))) == 1
        assert called(slow) == called("full-called", Fading.ALL)
        assert called(slow, Fading.USUAL) == called("full-called")
    assert called("full-called")[-1] < called("full-called")[0]


def test_a_flac_holds_the_renderers_own_samples(tmp_path: Path) -> None:
    take = a_take("chalk-line", "three-quarters-called")
    path = write_recording(take, version("three-quarters-called"), tmp_path, "flac")[0]
    samples, rate = soundfile.read(path, dtype="int16")
    assert rate == take.score.rate
    assert (samples == sixteen_bits(render(take.score, 0, take.score.frames))[:, 0]).all()


def test_what_is_there_already_is_left_alone_and_what_is_missing_or_other_is_made(tmp_path: Path) -> None:
    take, how = a_take("chalk-line"), version("full-called")
    files = write_recording(take, how, tmp_path, "flac")
    before = stamps(tmp_path)
    assert write_recording(take, how, tmp_path, "flac") == files
    assert stamps(tmp_path) == before
    files[1].unlink()
    write_recording(take, how, tmp_path, "flac")
    again = stamps(tmp_path)
    assert again[files[0].name] == before[files[0].name]
    assert files[1].is_file()
    quicker = take_of_version(shipped_dance("chalk-line"), how, Fraction(97), MeasuredVoice(), MeasuredVoice().clip)
    write_recording(quicker, how, tmp_path, "flac")
    assert stamps(tmp_path)[files[0].name] != again[files[0].name]


def test_a_run_that_breaks_off_leaves_only_whole_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_tags(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(packet, "write_tags", no_tags)
    with pytest.raises(RecordingFailed, match="no space left on device"):
        write_recording(a_take("chalk-line"), version("full-called"), tmp_path, "flac")
    assert list(tmp_path.iterdir()) == []


def test_the_papers_are_the_page_and_the_clicks(tmp_path: Path) -> None:
    take = a_take("chalk-line")
    files = write_papers(take, shipped(), tmp_path)
    assert [p.name for p in files] == ["chalk-line.mid", "chalk-line.html"]
    assert files[0].read_bytes()[:4] == b"MThd"
    assert files[1].read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_whatever_is_written_is_among_the_files_that_are_told_beforehand(tmp_path: Path) -> None:
    """What is told is what no sheet is written over by."""
    take = a_take("chalk-line")
    written = [
        *write_recording(take, version("full-called"), tmp_path, "flac"),
        *write_papers(take, shipped(), tmp_path),
    ]
    told = names_of(take.dance.routine.header.title, "flac")
    assert {path.name for path in written} <= set(told)
    assert len(told) == len(set(told)) == len(VERSIONS) * (len(written) - 2) + 2


def test_titles_become_plain_file_names() -> None:
    assert file_stem("Lantern Row") == "lantern-row"
    assert file_stem("../Née & Co: 2/4") == "née-co-2-4"
    assert file_stem("...") == "routine"
    assert len({v.name for v in VERSIONS}) == len(VERSIONS) == 6


def half(number: int) -> int:
    if number % 2:
        raise RecordingFailed(f"{number} is odd")
    return number // 2


@pytest.mark.parametrize("workers", [1, 2])
def test_one_job_that_fails_is_told_and_the_others_go_on(workers: int) -> None:
    outcomes: Iterator = each_made([2, 3, 8], half, workers, (RecordingFailed,))
    told = sorted((o.job, o.made, o.why) for o in outcomes)
    assert told == [(2, 1, ""), (3, None, "3 is odd"), (8, 4, "")]


def die(number: int) -> int:
    """As a process does that is killed for want of memory."""
    os._exit(9)


def test_a_process_that_dies_is_told_and_nothing_hangs() -> None:
    told = [outcome.why for outcome in each_made([1, 2], die, 2)]
    assert len(told) == 2
    assert all("goes on where it stopped" in why for why in told)
