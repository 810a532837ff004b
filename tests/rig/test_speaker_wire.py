"""Orders on the wire: what arrives plays the same as what was sent."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest

from caller.rig.stream.wire import HushOrder, Packer, PlayerOrder, SpliceOrder, Unpacker
from caller.sound.score import Clip, ClipSpan, Placement, Score
from tests.rig.scores import score_of, tone


def across(orders: Sequence[PlayerOrder], packer: Packer | None = None) -> tuple[list[PlayerOrder], int]:
    """What arrives, and how many bytes it took."""
    sender = packer or Packer()
    sent = b"".join(message for order in orders for message in sender.messages(order))
    return list(Unpacker().orders(io.BytesIO(sent))), len(sent)


def test_a_score_arrives_with_all_its_places_and_samples() -> None:
    click, word = tone(960, 1), tone(5_000, 2)
    score = score_of((0, click), (24_000, click), (30_001, word))
    [arrived], _ = across([SpliceOrder(score, 77, 480)])
    assert isinstance(arrived, SpliceOrder)
    assert (arrived.score_frame, arrived.at) == (77, 480)
    assert arrived.score is not None
    assert (arrived.score.frames, arrived.score.rate) == (score.frames, score.rate)
    for ours, theirs in zip(score.placements, arrived.score.placements, strict=True):
        assert (ours.frame, ours.gain, ours.kind, ours.clip.key) == (
            theirs.frame,
            theirs.gain,
            theirs.kind,
            theirs.clip.key,
        )
        np.testing.assert_array_equal(ours.clip.samples, theirs.clip.samples)
        assert theirs.clip.samples.dtype == np.float32


def test_silence_and_hush_arrive_in_the_order_given() -> None:
    orders = [SpliceOrder(None, 0, 480), HushOrder(3), SpliceOrder(None, 0, 960)]
    assert across(orders)[0] == orders


def test_a_clip_crosses_once_however_often_it_is_placed() -> None:
    long = tone(48_000)
    once = across([SpliceOrder(score_of((0, long)), 0, 0)])[1]
    often = across([SpliceOrder(score_of(*((n * 100, long) for n in range(50))), 0, 0)] * 20)[1]
    assert once > long.samples.nbytes
    assert often < 1.5 * once


def test_a_fresh_packer_sends_the_clips_again() -> None:
    order = SpliceOrder(score_of((0, tone(48_000))), 0, 0)
    packer = Packer()
    first, again, fresh = across([order], packer)[1], b"".join(packer.messages(order)), across([order])[1]
    assert fresh == first
    assert len(again) < first / 10


@pytest.mark.parametrize("kept", [0, 3, 8, 9, 500])
def test_a_pipe_that_breaks_anywhere_ends_the_orders_quietly(kept: int) -> None:
    sent = b"".join(Packer().messages(SpliceOrder(score_of((0, tone(960))), 0, 0)))
    assert list(Unpacker().orders(io.BytesIO(sent[:kept]))) == []


def test_an_empty_score_arrives() -> None:
    [arrived], _ = across([SpliceOrder(Score((), 48_000), 0, 0)])
    assert arrived == SpliceOrder(Score((), 48_000), 0, 0)


def on_disk(folder: Path, seconds: int = 30) -> Clip:
    """A clip as long as music is, in a file that is mapped."""
    np.save(folder / "song.npy", tone(seconds * 48_000).samples)
    return Clip("song", np.load(folder / "song.npy", mmap_mode="r"))


def test_of_a_clip_that_lies_in_a_file_the_name_alone_crosses(tmp_path: Path) -> None:
    clip = on_disk(tmp_path)
    placed = Placement(-100, clip, 0.5, "music", ClipSpan(4_000, 900_000, 480, 960))
    [arrived], sent = across([SpliceOrder(Score.holding([placed]), 0, 0)])
    assert isinstance(arrived, SpliceOrder)
    assert arrived.score is not None
    assert sent < 2_000
    [here] = arrived.score.placements
    assert (here.frame, here.gain, here.kind, here.part) == (placed.frame, 0.5, "music", placed.part)
    np.testing.assert_array_equal(here.sound(5_000, 9_000), placed.sound(5_000, 9_000))


def test_a_stretch_of_a_mapped_clip_crosses_as_what_it_is(tmp_path: Path) -> None:
    stretch = Clip("stretch", on_disk(tmp_path, 1).samples[1_000:2_000])
    [arrived], _ = across([SpliceOrder(score_of((0, stretch)), 0, 0)])
    assert isinstance(arrived, SpliceOrder)
    assert arrived.score is not None
    np.testing.assert_array_equal(arrived.score.placements[0].clip.samples, stretch.samples)


def test_a_file_that_was_thrown_away_meanwhile_is_left_out_and_the_rest_sounds(tmp_path: Path) -> None:
    clip = on_disk(tmp_path, 1)
    order = SpliceOrder(Score.holding([Placement(0, clip, 1.0, "music"), Placement(9, tone(50), 1.0, "count")]), 0, 0)
    sent = b"".join(Packer().messages(order))
    (tmp_path / "song.npy").unlink()
    [arrived] = Unpacker().orders(io.BytesIO(sent))
    assert isinstance(arrived, SpliceOrder)
    assert arrived.score is not None
    assert [place.kind for place in arrived.score.placements] == ["count"]
