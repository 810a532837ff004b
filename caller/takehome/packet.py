"""A routine's packet: all that dancers take home of it, in one folder.

Conventions: files are named by the routine's title and what they are. Every file is whole or not there; one that is
there already, made from the same, is left alone, so that a run that was broken off goes on where it stopped. A
recording's mark is a hash of all that it is made from, down to every clip and the frame it begins on.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import asdict, astuple
from fractions import Fraction
from functools import partial
from pathlib import Path

from caller.calls.music import Song, accompanied, lead_counts, straight
from caller.calls.plan import Fading, Lexicon
from caller.calls.score import Clips, make_take
from caller.calls.take import Take
from caller.clock.timeline import round_half_up
from caller.dance.walls import Dance
from caller.routine.vocabulary import Vocabulary
from caller.sound.levels import LEAST_OVER_LU
from caller.sound.score import RATE
from caller.storage.made import NotOurs, write_made_bytes, write_made_text
from caller.takehome.captions import TEXTS, captions_of
from caller.takehome.chapters import chapters_of
from caller.takehome.click_file import click_file
from caller.takehome.page import page_html, sheet_page
from caller.takehome.recording import RecordingFailed, record
from caller.takehome.tagging import Tags, is_made, write_tags
from caller.takehome.versions import VERSIONS, Version, file_stem

COUNT_IN_BARS = 2
# Changes with what is written into a recording, so that older ones are made anew.
_FORM = 1


def take_of_version(
    dance: Dance,
    version: Version,
    tempo: Fraction,
    lexicon: Lexicon,
    clips: Clips,
    song: Song | None = None,
    fading: Fading | None = None,
) -> Take:
    """The whole dance at the version's share of ``tempo`` counts a minute, in its manner. song: the music under it,
    from its beginning on, with a version for that tempo. fading: other than the version's own."""
    intro, count_in = dance.routine.header.intro or 0, COUNT_IN_BARS * dance.routine.header.meter.counts
    take = make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=tempo * version.speed,
        manner=version.manner,
        lexicon=lexicon,
        clips=clips,
        count_in=count_in,
        rate=RATE,
        fading=fading or version.fading,
        lead=lead_counts(song, intro, count_in) if song else Fraction(0),
    )
    return accompanied(take, song, straight(dance), intro, LEAST_OVER_LU) if song else take


def names_of(title: str, kind: str) -> tuple[str, ...]:
    """The names of all files there may be in a routine's packet."""
    stem = file_stem(title)
    recordings = (f"{stem}-{version.name}{suffix}" for version in VERSIONS for suffix in (f".{kind}", *TEXTS))
    return (*recordings, f"{stem}.mid", f"{stem}.html")


def write_recording(
    take: Take, version: Version, folder: Path, kind: str, over: bool = False, channels: int = 1
) -> list[Path]:
    """The recording of a version, with its captions where it is called; the files, all whole. kind: one that bears
    tags and chapters. channels: 1 serves where there is no music.

    Raises RecordingFailed.
    """
    title = take.dance.routine.header.title
    path = folder / f"{file_stem(title)}-{version.name}.{kind}"
    chapters = chapters_of(take)
    tempo = take.timeline.segments[0].tempo
    comment = f"{take.dance.counts} counts at {float(tempo):g} a minute"
    told = Tags(
        f"{title}, {version.words}",
        title,
        VERSIONS.index(version) + 1,
        len(VERSIONS),
        round_half_up(tempo),
        comment,
        "",
    )
    mark = _mark(take, kind, told, [asdict(chapter) for chapter in chapters])
    tags = Tags(**{**asdict(told), "mark": mark})
    if not is_made(path, mark, take.score.frames / take.score.rate):
        record(take.score, path, channels=channels, finish=lambda part: write_tags(part, tags, chapters), over=over)
    return [path, *_captions(take, path, tags.title, over)]


def _captions(take: Take, recording: Path, title: str, over: bool) -> list[Path]:
    captions = captions_of(take)
    if not captions:
        return []
    return [
        _written(recording.with_suffix(suffix), partial(write_made_text, text=text(captions, title), over=over))
        for suffix, text in TEXTS.items()
    ]


def write_papers(take: Take, vocabulary: Vocabulary, folder: Path, over: bool = False) -> list[Path]:
    """The click file and the page to print, from the take at full tempo. Raises RecordingFailed."""
    title = take.dance.routine.header.title
    stem = file_stem(title)
    html = page_html(sheet_page(take.dance, vocabulary))
    clicks = partial(write_made_bytes, content=click_file(take, title), over=over)
    page = partial(write_made_text, text=html, over=over)
    return [_written(folder / f"{stem}.mid", clicks), _written(folder / f"{stem}.html", page)]


def _written(path: Path, write: Callable[[Path], None]) -> Path:
    try:
        write(path)
    except NotOurs as fault:
        raise RecordingFailed(f"{fault}.") from fault
    except OSError as fault:
        raise RecordingFailed(f"{path} can't be written: {(fault.strerror or str(fault)).lower()}.") from fault
    return path


def _mark(take: Take, kind: str, tags: Tags, chapters: list[dict[str, object]]) -> str:
    score = take.score
    placed = [(p.frame, p.clip.key, p.gain, p.kind, *(astuple(p.part) if p.part else ())) for p in score.placements]
    made_from = [_FORM, kind, score.rate, score.frames, score.duck_db, placed, asdict(tags), chapters]
    return hashlib.sha256(json.dumps(made_from).encode()).hexdigest()
