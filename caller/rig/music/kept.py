"""Recordings as files of samples, written and read block by block, so that no more of one is in memory than is needed.

Conventions: files as ``numpy.save`` writes them: float32 at ``RATE``, mono, shape (n,), or stereo, shape (n, 2). Blocks
are of a few seconds.
"""

from __future__ import annotations

import hashlib
import mmap
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import numpy as np
import numpy.typing as npt

from caller.sound.channels import mixed, opposed
from caller.sound.loudness import Weighing
from caller.sound.score import Samples

BLOCK_FRAMES = 1 << 18
_TYPE = np.dtype("<f4")
# What numpy writes before the samples of such an array, whatever its length.
_HEAD_BYTES = 128


class Keeping:
    """Writes blocks of shape (n, 1) or (n, 2), all alike, into a file: as one channel for as long as both are the same.
    Learns meanwhile what the whole comes to."""

    def __init__(self, file: IO[bytes]) -> None:
        self._file, self._frames, self._channels = file, 0, 1
        self._digest = hashlib.sha256()
        self._weighing = Weighing()
        self.peak = 0.0
        file.write(bytes(_HEAD_BYTES))

    def add(self, block: Samples) -> None:
        if self._channels == 1 and not (block == block[:, :1]).all():
            self._widen()
        kept = np.ascontiguousarray(block[:, : self._channels], _TYPE)
        self._digest.update(kept.data)
        self._weighing.add(block[:, 0] if block.shape[1] == 1 else block)
        self._file.write(kept.data)
        self._frames += len(block)
        self.peak = max(self.peak, peak_of(block))

    def done(self) -> tuple[str, float, float]:
        """The digest of the samples; how loud the whole is, and its fullest three seconds (LUFS)."""
        shape = (self._frames,) if self._channels == 1 else (self._frames, 2)
        self._file.seek(0)
        np.lib.format.write_array_header_1_0(self._file, {"descr": _TYPE.str, "fortran_order": False, "shape": shape})
        if self._file.tell() != _HEAD_BYTES:
            raise ValueError("numpy writes another head than it did")
        whole, fullest = self._weighing.programme()
        return self._digest.hexdigest()[:40], whole, fullest

    @property
    def frames(self) -> int:
        return self._frames

    def _widen(self) -> None:
        """What was kept of one channel is of both: moved from its end on, to where there is room; and its digest."""
        for last in range(self._frames, 0, -BLOCK_FRAMES):
            first = max(last - BLOCK_FRAMES, 0)
            self._file.seek(_HEAD_BYTES + first * _TYPE.itemsize)
            one = np.frombuffer(self._file.read((last - first) * _TYPE.itemsize), _TYPE)
            self._file.seek(_HEAD_BYTES + 2 * first * _TYPE.itemsize)
            self._file.write(np.repeat(one, 2).data)
        self._digest = hashlib.sha256()
        self._file.seek(_HEAD_BYTES)
        while both := self._file.read(2 * BLOCK_FRAMES * _TYPE.itemsize):
            self._digest.update(both)
        self._channels = 2


def peak_of(samples: Samples) -> float:
    """The largest of them, whatever its sign; nan or inf where one is."""
    return max(float(samples.max(initial=0)), -float(samples.min(initial=0)))


def blocks_of(path: Path) -> Iterator[Samples]:
    """The samples of a file, read and not mapped: mapped ones count as memory of whoever has looked at them."""
    samples = np.load(path, mmap_mode="r")
    across = samples.shape[1] if samples.ndim == 2 else 1
    with path.open("rb") as file:
        file.seek(samples.offset)
        while len(block := np.fromfile(file, _TYPE, BLOCK_FRAMES * across)):
            yield block.reshape(-1, *samples.shape[1:])


def one_channel_of(path: Path) -> Samples:
    """See :func:`caller.sound.channels.one_channel`."""
    kept = np.load(path, mmap_mode="r")
    if kept.ndim == 1:
        return np.asarray(np.fromfile(path, _TYPE, offset=kept.offset))
    made, at, differ = np.empty(len(kept), np.float32), 0, opposed(blocks_of(path))
    for block in blocks_of(path):
        made[at : at + len(block)] = mixed(block, differ)
        at += len(block)
    return made


def let_go(samples: npt.NDArray[np.float32]) -> None:
    """What was looked at or written of a mapped file needs no more memory of ours; it is read anew when needed. Nothing
    happens where the system doesn't know of that, nor to samples that aren't mapped."""
    mapped = getattr(samples, "_mmap", None)
    if isinstance(mapped, mmap.mmap) and hasattr(mmap, "MADV_DONTNEED"):
        mapped.madvise(mmap.MADV_DONTNEED)
