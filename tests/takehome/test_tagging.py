"""Tags and chapters, read back from each kind of file; ID3 also by its bytes."""

from __future__ import annotations

import struct
from itertools import pairwise
from pathlib import Path

import mutagen
import pytest
from mutagen.flac import FLAC
from mutagen.id3 import ID3
from mutagen.oggvorbis import OggVorbis

from caller.cli.takehome import KINDS as OFFERED
from caller.sound.score import RATE
from caller.takehome.chapters import MOST_CHAPTERS, Chapter, chapters_of
from caller.takehome.recording import KINDS, record
from caller.takehome.tagging import Tags, can_tag, is_made, write_tags
from tests.takehome.packets import a_take

TAGS = Tags("Née & co, half speed", "Née & co", 2, 6, 54, "64 counts", "m" * 64)
CHAPTERS = (Chapter("Count-in", 0, 4_000), Chapter("Wall 1, 12:00: 1 Walks – née", 4_000, 8_123))


@pytest.fixture
def recording(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    path = tmp_path / f"take.{request.param}"
    record(a_take("chalk-line", walls=1).score, path, channels=1, finish=lambda part: write_tags(part, TAGS, CHAPTERS))
    return path


@pytest.mark.parametrize("recording", ["mp3"], indirect=True)
def test_an_mp3_tells_its_chapters_in_milliseconds(recording: Path) -> None:
    tags = ID3(recording)
    assert (str(tags["TIT2"]), str(tags["TALB"]), str(tags["TRCK"]), str(tags["TBPM"])) == (
        TAGS.title,
        TAGS.album,
        "2/6",
        "54",
    )
    (toc,) = tags.getall("CTOC")
    assert toc.flags == 3  # top level, ordered
    chapters = [tags[f"CHAP:{name}"] for name in toc.child_element_ids]
    assert [(str(c.sub_frames["TIT2"]), c.start_time, c.end_time) for c in chapters] == [
        (c.title, c.starts_ms, c.ends_ms) for c in CHAPTERS
    ]


@pytest.mark.parametrize("recording", ["mp3"], indirect=True)
def test_a_chapter_frame_is_laid_out_as_its_standard_says(recording: Path) -> None:
    """ID3v2 Chapter Frame Addendum 1.0, 3.1: element id, 0, start and end in ms, start and end offset (FFFFFFFF =
    ignored), four bytes each, big end first."""
    content = recording.read_bytes()
    assert content.startswith(b"ID3\x04")
    wanted = b"chp001\x00" + struct.pack(">IIII", 4_000, 8_123, 0xFFFFFFFF, 0xFFFFFFFF) + b"TIT2"
    assert wanted in content


def test_chapters_are_written_in_their_turn_whatever_their_titles(tmp_path: Path) -> None:
    """Players show them as they are written."""
    path = tmp_path / "take.mp3"
    titles = ["a long title for the first of all", "b", "c, somewhat longer", *(f"d{n}" for n in range(9))]
    chapters = [Chapter(title, 1_000 * n, 1_000 * (n + 1)) for n, title in enumerate(titles)]
    record(a_take("chalk-line", walls=1).score, path, channels=1, finish=lambda part: write_tags(part, TAGS, chapters))
    content = path.read_bytes()
    places = [content.index(b"\x03" + title.encode()) for title in titles]
    assert places == sorted(places)


@pytest.mark.parametrize("recording", ["flac", "ogg"], indirect=True)
def test_flac_and_ogg_tell_the_same_in_comments(recording: Path) -> None:
    tags = (FLAC if recording.suffix == ".flac" else OggVorbis)(recording)
    assert (tags["title"], tags["album"], tags["tracknumber"], tags["bpm"]) == (
        [TAGS.title],
        [TAGS.album],
        ["2"],
        ["54"],
    )
    assert (tags["chapter001"], tags["chapter001name"]) == (["00:00:00.000"], ["Count-in"])
    assert (tags["chapter002"], tags["chapter002name"]) == (["00:00:04.000"], [CHAPTERS[1].title])


@pytest.mark.parametrize("recording", ["mp3", "flac", "ogg"], indirect=True)
def test_a_whole_recording_is_known_again_and_any_other_is_not(recording: Path) -> None:
    seconds = a_take("chalk-line", walls=1).score.frames / RATE
    assert abs(mutagen.File(recording).info.length - seconds) < 0.1
    assert is_made(recording, TAGS.mark, seconds)
    assert not is_made(recording, "n" * 64, seconds)
    assert not is_made(recording, TAGS.mark, seconds + 1)
    assert not is_made(recording.with_name("other.mp3"), TAGS.mark, seconds)
    recording.write_bytes(b"no sound at all")
    assert not is_made(recording, TAGS.mark, seconds)


def test_every_section_of_every_wall_is_a_chapter_that_begins_on_its_first_count() -> None:
    take = a_take("lantern-row")
    chapters = chapters_of(take)
    stretches = [(w, s) for w in take.dance.walls for s in w.stretches]
    assert len(chapters) == len(stretches) + 1
    assert (chapters[0].title, chapters[0].starts_ms) == ("Count-in", 0)
    assert chapters[1].title == "Wall 1, 12:00: 1 Walks, right shuffle, rock, back shuffle"
    assert "Wall 3: tag" in [c.title for c in chapters]
    for chapter, (_, stretch) in zip(chapters[1:], stretches, strict=True):
        assert abs(chapter.starts_ms - 1_000 * take.timeline.seconds_of(stretch.at)) <= 0.52
    assert all(one.ends_ms == following.starts_ms for one, following in pairwise(chapters))
    assert abs(chapters[-1].ends_ms - 1_000 * take.score.frames / RATE) <= 0.5


def test_a_dance_too_long_for_a_table_of_contents_has_a_chapter_for_each_wall() -> None:
    take = a_take("tin-roof-swing", "full-counts", 90)
    chapters = chapters_of(take)
    assert sum(len(w.stretches) for w in take.dance.walls) > MOST_CHAPTERS >= len(chapters)
    assert [c.title for c in chapters[1:3]] == ["Wall 1, 12:00", "Wall 2, 3:00"]
    assert len(chapters) == 91


def test_what_the_command_offers_is_what_bears_tags_and_can_be_recorded() -> None:
    assert {f".{kind}" for kind in OFFERED} == {suffix for suffix in KINDS if can_tag(Path(f"take{suffix}"))}
