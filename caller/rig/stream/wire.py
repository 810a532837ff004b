"""Orders on their way to the player: values to bytes and back.

Conventions: a message is its length (8 bytes, little-endian) and a pickle, between two processes of one program only.
A clip crosses once, under its key; scores name their clips by key. Of a clip that lies in a file (a whole song) the
file's name crosses, and the player maps it: tens of megabytes through a pipe would keep what comes after them waiting.
"""

from __future__ import annotations

import pickle
import struct
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from mmap import mmap
from typing import BinaryIO

import numpy as np

from caller.sound.score import Clip, Placement, Samples, Score

_LENGTH = struct.Struct("<Q")


@dataclass(frozen=True, slots=True)
class SpliceOrder:
    """See ``Speaker.splice``."""

    score: Score | None
    score_frame: int
    at: int


@dataclass(frozen=True, slots=True)
class HushOrder:
    """number: counts the hushes of one speaker, from 1."""

    number: int


PlayerOrder = SpliceOrder | HushOrder


class Packer:
    """Orders to messages, for one player; knows which clips that player has."""

    def __init__(self) -> None:
        self._sent: set[str] = set()

    def messages(self, order: PlayerOrder) -> Iterator[bytes]:
        """The clips that the order needs and the player lacks, then the order."""
        if isinstance(order, HushOrder):
            yield _message(("hush", order.number))
            return
        if order.score is None:
            yield _message(("splice", None, (), order.score_frame, order.at))
            return
        for placement in order.score.placements:
            if placement.clip.key not in self._sent:
                self._sent.add(placement.clip.key)
                yield _message(_clip_message(placement.clip))
        places = tuple((p.frame, p.clip.key, p.gain, p.kind, p.part) for p in order.score.placements)
        yield _message(("splice", replace(order.score, placements=()), places, order.score_frame, order.at))


class Unpacker:
    """Messages back to orders, in the player."""

    def __init__(self) -> None:
        self._clips: dict[str, Clip] = {}
        self._lost: set[str] = set()  # clips whose file was not there

    def orders(self, pipe: BinaryIO) -> Iterator[PlayerOrder]:
        """Orders as they arrive, until the pipe is closed."""
        while len(head := pipe.read(_LENGTH.size)) == _LENGTH.size:
            (length,) = _LENGTH.unpack(head)
            payload = pipe.read(length)
            if len(payload) < length:
                return
            order = self._order(pickle.loads(payload))
            if order is not None:
                yield order

    def _order(self, message: tuple[object, ...]) -> PlayerOrder | None:
        match message:
            case ("clip", str(key), np.ndarray() as samples):
                self._clips[key] = Clip(key, _frozen(samples))
                return None
            case ("file", str(key), str(path)):
                self._map(key, path)
                return None
            case ("hush", int(number)):
                return HushOrder(number)
            case ("splice", None, _, int(score_frame), int(at)):
                return SpliceOrder(None, score_frame, at)
            case ("splice", Score() as bare, tuple(places), int(score_frame), int(stream_frame)):
                placed = tuple(
                    Placement(at, self._clips[key], gain, kind, part)
                    for at, key, gain, kind, part in places
                    if key not in self._lost
                )
                score = replace(bare, placements=placed)
                score.sounding(0, 1)  # puts its places in order, here rather than while a block is due
                return SpliceOrder(score, score_frame, stream_frame)
        raise ValueError(f"a message of an unknown kind: {message[0]!r}")

    def _map(self, key: str, path: str) -> None:
        """The samples of a file as ``numpy.save`` writes it. Without one that was thrown away meanwhile the rest goes
        on: sound that stops altogether would be worse."""
        try:
            self._clips[key] = Clip(key, np.load(path, mmap_mode="r"))
        except (OSError, ValueError) as fault:
            self._lost.add(key)
            print(f"{path}: {fault}", file=sys.stderr)


def _message(content: tuple[object, ...]) -> bytes:
    payload = pickle.dumps(content, protocol=pickle.HIGHEST_PROTOCOL)
    return _LENGTH.pack(len(payload)) + payload


def _clip_message(clip: Clip) -> tuple[object, ...]:
    samples = clip.samples
    # A stretch of a mapped file is mapped too, but doesn't tell where in the file it begins: only the whole does.
    if isinstance(samples, np.memmap) and isinstance(samples.base, mmap) and samples.filename is not None:
        return "file", clip.key, str(samples.filename)
    return "clip", clip.key, samples


def _frozen(samples: Samples) -> Samples:
    samples.flags.writeable = False
    return samples
