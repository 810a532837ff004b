"""The board: readings cross between processes whole, or not at all."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.rig.stream.board import DEVICE_BYTES, BoardReading, SharedBoard, _packed, _unpacked

FRAMES = st.integers(0, 2**62)
READINGS = st.builds(
    BoardReading,
    written=FRAMES,
    heard=FRAMES,
    at_seconds=st.floats(allow_nan=False),
    underruns=FRAMES,
    late=FRAMES,
    hush=FRAMES,
    hushed_at=FRAMES,
    begun=st.booleans(),
    device=st.text(st.characters(exclude_characters="\0", codec="utf-8"), max_size=DEVICE_BYTES // 4),
    fault=st.text(st.characters(exclude_characters="\0", codec="utf-8"), max_size=100),
)


@pytest.fixture
def board() -> Iterator[SharedBoard]:
    made = SharedBoard.create()
    yield made
    made.discard()


@given(READINGS)
def test_a_reading_comes_back_as_it_was_written(reading: BoardReading) -> None:
    assert _unpacked(_packed(reading)) == reading


def test_what_one_board_writes_another_on_the_same_file_reads(board: SharedBoard) -> None:
    other = SharedBoard(board.path)
    other.write(BoardReading(written=480, begun=True, device="pulse", fault="gone"))
    assert board.read() == BoardReading(written=480, begun=True, device="pulse", fault="gone")
    other.close()


def test_another_process_reads_it_too(board: SharedBoard) -> None:
    board.write(BoardReading(written=12_345))
    program = (
        "import sys; from pathlib import Path; from caller.rig.stream.board import SharedBoard;"
        "print(SharedBoard(Path(sys.argv[1])).read().written)"
    )
    said = subprocess.run([sys.executable, "-c", program, str(board.path)], capture_output=True, check=True)
    assert int(said.stdout) == 12_345


@pytest.mark.parametrize("cut", [1, 8, 40, 200])
def test_a_reading_met_half_written_is_not_believed(board: SharedBoard, cut: int) -> None:
    old, new = (
        BoardReading(written=1, heard=1, device="old"),
        BoardReading(written=2**40, heard=2**40, device="new" * 9),
    )
    board.write(old)
    reader = SharedBoard(board.path)
    assert reader.read() == old
    with board.path.open("r+b") as file:
        file.write(_packed(new)[:cut])
    assert reader.read() == old
    reader.close()


def test_a_sentence_too_long_for_the_board_is_cut_and_stays_readable(board: SharedBoard) -> None:
    board.write(BoardReading(fault="é" * 1_000))
    assert set(board.read().fault) == {"é"}


def test_by_the_clock_a_stream_that_has_not_begun_stays_where_it_is() -> None:
    assert BoardReading(heard=7, at_seconds=1.0).heard_by(9.0, 48_000) == 7
    assert BoardReading(heard=7, at_seconds=1.0, begun=True).heard_by(1.5, 48_000) == 24_007


@given(READINGS, st.integers(0, 2**62))
def test_a_hush_is_asked_beside_the_reading_and_neither_touches_the_other(reading: BoardReading, number: int) -> None:
    board = SharedBoard.create()
    other = SharedBoard(board.path)
    assert other.hush_asked() == 0
    board.ask_hush(number)
    other.write(reading)
    assert (other.hush_asked(), board.read()) == (number, reading)
    other.close()
    board.discard()


def test_a_discarded_board_leaves_no_file(board: SharedBoard) -> None:
    spare = SharedBoard.create()
    spare.discard()
    assert not spare.path.exists()
