"""What a recording tells of itself: title, tempo, chapters, and what it was made from.

Conventions: MP3 has ID3v2.4 with CHAP and CTOC frames (ID3v2 Chapter Frame Addendum 1.0: times in ms, byte offsets
FFFFFFFF = ignored); FLAC and OGG have Vorbis comments, chapters as CHAPTER001 and CHAPTER001NAME (common practice).
The mark of what a recording was made from stands in the file itself, so that no list beside it can be out of step.
mutagen is imported when first needed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

from caller.clock.timeline import round_half_up
from caller.sound.reel import Tape
from caller.sound.score import Score
from caller.takehome.chapters import MOST_CHAPTERS, Chapter, milliseconds

_IGNORED = 0xFFFFFFFF
_MARK = "CALLER_MADE_FROM"
# The encoder's padding, at most, between a score's length and the file's.
_PADDING_SECONDS = 0.2


@dataclass(frozen=True, slots=True)
class Tags:
    """album: the routine's title. number, of: its place among the recordings. tempo: counts a minute, to the nearest.
    mark: of all that it was made from."""

    title: str
    album: str
    number: int
    of: int
    tempo: int
    comment: str
    mark: str


def write_tags(path: Path, tags: Tags, chapters: Sequence[Chapter]) -> None:
    """Into a file that is there, by its suffix. Raises OSError."""
    from mutagen import MutagenError

    try:
        _WRITERS[path.suffix.lower()](path, tags, chapters)
    except MutagenError as fault:
        raise OSError(str(fault)) from fault


def is_made(path: Path, mark: str, seconds: float) -> bool:
    """Whether a whole recording bearing that mark is there already."""
    import mutagen

    try:
        file = mutagen.File(path)
    except (mutagen.MutagenError, OSError):
        return False
    if file is None or file.tags is None or abs(file.info.length - seconds) > _PADDING_SECONDS:
        return False
    found = file.tags.get(f"TXXX:{_MARK}") if path.suffix.lower() == ".mp3" else file.tags.get(_MARK)
    return found is not None and list(getattr(found, "text", found)) == [mark]


def _write_id3(path: Path, tags: Tags, chapters: Sequence[Chapter]) -> None:
    import mutagen.id3

    id3: Any = mutagen.id3  # its classes are made at run time and ship no type hints
    frames: list[Any] = [
        id3.TIT2(encoding=3, text=tags.title),
        id3.TALB(encoding=3, text=tags.album),
        id3.TRCK(encoding=3, text=f"{tags.number}/{tags.of}"),
        id3.TBPM(encoding=3, text=str(tags.tempo)),
        id3.COMM(encoding=3, lang="eng", desc="", text=tags.comment),
        id3.TXXX(encoding=3, desc=_MARK, text=tags.mark),
    ]
    # Frames of a kind are written shortest first, then by name, and many players show chapters as they are written: all
    # of one length, and their names in order, they stand in time.
    names = [f"chp{n:03}" for n in range(len(chapters))]
    longest = max((len(chapter.title.encode()) for chapter in chapters), default=0)
    for name, chapter in zip(names, chapters, strict=True):
        padding = bytes(longest - len(chapter.title.encode()))
        heading = [id3.TIT2(encoding=3, text=chapter.title), id3.PRIV(owner="padding", data=padding)]
        frames.append(
            id3.CHAP(
                element_id=name,
                start_time=chapter.starts_ms,
                end_time=chapter.ends_ms,
                start_offset=_IGNORED,
                end_offset=_IGNORED,
                sub_frames=heading,
            )
        )
    if names:
        flags = id3.CTOCFlags.TOP_LEVEL | id3.CTOCFlags.ORDERED
        heading = [id3.TIT2(encoding=3, text=tags.album)]
        frames.append(id3.CTOC(element_id="toc", flags=flags, child_element_ids=names, sub_frames=heading))
    written = id3.ID3()
    for frame in frames:
        written.add(frame)
    written.save(path, v1=0)


def _write_vorbis(path: Path, tags: Tags, chapters: Sequence[Chapter]) -> None:
    import mutagen

    file = mutagen.File(path)
    if file is None:
        raise OSError(f"{path} is no recording that can be tagged")
    if file.tags is None:
        file.add_tags()
    told = {
        "TITLE": tags.title,
        "ALBUM": tags.album,
        "TRACKNUMBER": str(tags.number),
        "TRACKTOTAL": str(tags.of),
        "BPM": str(tags.tempo),
        "COMMENT": tags.comment,
        _MARK: tags.mark,
    }
    for n, chapter in enumerate(chapters, 1):
        told[f"CHAPTER{n:03}"] = _clock(chapter.starts_ms)
        told[f"CHAPTER{n:03}NAME"] = chapter.title
    file.update(told)
    file.save()


def _clock(ms: int) -> str:
    return f"{ms // 3_600_000:02}:{ms // 60_000 % 60:02}:{ms // 1_000 % 60:02}.{ms % 1_000:03}"


_WRITERS: dict[str, Callable[[Path, Tags, Sequence[Chapter]], None]] = {
    ".mp3": _write_id3,
    ".flac": _write_vorbis,
    ".ogg": _write_vorbis,
}


def can_tag(path: Path) -> bool:
    return path.suffix.lower() in _WRITERS


def stage_chapters(begins: Sequence[tuple[str, int]], sound: Score | Tape) -> tuple[Chapter, ...]:
    """Of a recording of a programme, no more than a table of contents holds. begins: each stage's name and first frame,
    in order."""
    kept = begins[:MOST_CHAPTERS]
    edges = [milliseconds(frame, sound.rate) for _, frame in kept] + [milliseconds(sound.frames, sound.rate)]
    return tuple(Chapter(name, *times) for (name, _), times in zip(kept, pairwise(edges), strict=True))


def stage_tags(title: str, way: str, tempo: Fraction, pieces: int) -> Tags:
    return Tags(f"{title}, {way}", title, 1, 1, round_half_up(tempo), f"{pieces} pieces", "")
