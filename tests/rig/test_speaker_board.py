"""The board: readings cross between processes whole, or not at all."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.rig.stream.board import DEVICE_BYTES, Board, Reading, _packed, _unpacked

FRAMES = st.integers(0, 2**62)
READINGS = st.builds(
    Reading,
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
def board() -> Iterator[Board]:
    made = Board.create()
    yield made
    made.discard()


@given(READINGS)
def test_a_reading_comes_back_as_it_was_written(reading: Reading) -> None:
    assert _unpacked(_packed(reading)) == reading


def test_what_one_board_writes_another_on_the_same_file_reads(board: Board) -> None:
    other = Board(board.path)
    other.write(Reading(written=480, begun=True, device="pulse", fault="gone"))
    assert board.read() == Reading(written=480, begun=True, device="pulse", fault="gone")
    other.close()


def test_another_process_reads_it_too(board: Board) -> None:
    board.write(Reading(written=12_345))
    program = (
        "import sys; from pathlib import Path; from caller.rig.stream.board import Board;"
        "print(Board(Path(sys.argv[1])).read().written)"
    )
    said = subprocess.run([sys.executable, "-c", program, str(board.path)], capture_output=True, check=True)
    assert int(said.stdout) == 12_345


@pytest.mark.parametrize("cut", [1, 8, 40, 200])
def test_a_reading_met_half_written_is_not_believed(board: Board, cut: int) -> None:
    old, new = Reading(written=1, heard=1, device="old"), Reading(written=2**40, heard=2**40, device="new" * 9)
    board.write(old)
    reader = Board(board.path)
    assert reader.read() == old
    with board.path.open("r+b") as file:
        file.write(_packed(new)[:cut])
    assert reader.read() == old
    reader.close()


def test_a_sentence_too_long_for_the_board_is_cut_and_stays_readable(board: Board) -> None:
    board.write(Reading(fault="é" * 1_000))
    assert set(board.read().fault) == {"é"}


def test_by_the_clock_a_stream_that_has_not_begun_stays_where_it_is() -> None:
    assert Reading(heard=7, at_seconds=1.0).heard_by(9.0, 48_000) == 7
    assert Reading(heard=7, at_seconds=1.0, begun=True).heard_by(1.5, 48_000) == 24_007


@given(READINGS, st.integers(0, 2**62))
def test_a_hush_is_asked_beside_the_reading_and_neither_touches_the_other(reading: Reading, number: int) -> None:
    board = Board.create()
    other = Board(board.path)
    assert other.hush_asked() == 0
    board.ask_hush(number)
    other.write(reading)
    assert (other.hush_asked(), board.read()) == (number, reading)
    other.close()
    board.discard()


def test_a_discarded_board_leaves_no_file(board: Board) -> None:
    spare = Board.create()
    spare.discard()
    assert not spare.path.exists()
