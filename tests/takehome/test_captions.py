"""Captions, read by other people's parsers: webvtt-py, srt and pysrt."""

from __future__ import annotations

import io
import re
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import pysrt
import pytest
import srt
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from caller.sound.score import RATE
from caller.takehome.captions import READ_MS, TimedCaption, captions_of, sub_rip, web_vtt
from tests.takehome.packets import STEMS, a_take

# Any words a sheet could put in quotes, on one line as a call is.
WORDS = st.text(st.characters(exclude_categories=["C", "Z"]) | st.sampled_from("&<>- -"), min_size=1, max_size=30)


def parsed_vtt(text: str, folder: Path) -> webvtt.WebVTT:
    file = folder / "captions.vtt"
    file.write_text(text, encoding="utf-8")
    return webvtt.read(str(file))


@pytest.mark.parametrize("stem", STEMS)
def test_each_call_has_its_caption_at_the_moment_it_is_heard(stem: str, tmp_path: Path) -> None:
    take = a_take(stem)
    read = parsed_vtt(web_vtt(captions_of(take), "a title"), tmp_path)
    assert len(read) == len(take.plan.calls) > 8
    for caption, call in zip(read, take.plan.calls, strict=True):
        assert caption.text == call.utterance.words
        assert abs(caption.start_in_seconds * 1000 + caption.start_time.milliseconds - 1000 * call.starts / RATE) <= 0.5


@pytest.mark.parametrize("stem", STEMS)
def test_sub_rip_says_the_same_as_web_vtt(stem: str, tmp_path: Path) -> None:
    captions = captions_of(a_take(stem, "half-called"))
    read = list(srt.parse(sub_rip(captions)))
    also = pysrt.from_string(sub_rip(captions))
    told = [(one.starts_ms, one.ends_ms, one.words) for one in captions]
    milli = timedelta(milliseconds=1)
    assert [(one.start // milli, one.end // milli, one.content) for one in read] == told
    assert [(one.start.ordinal, one.end.ordinal, one.text) for one in also] == told
    assert [one.index for one in read] == list(range(1, len(told) + 1))
    assert len(parsed_vtt(web_vtt(captions), tmp_path)) == len(told)


def test_captions_stay_to_be_read_and_never_run_into_the_next() -> None:
    for name in ("half-called", "full-called"):
        captions = captions_of(a_take("lantern-row", name))
        assert all(one.ends_ms <= following.starts_ms for one, following in pairwise(captions))
        assert all(one.ends_ms > one.starts_ms for one in captions)
        for one, following in pairwise(captions):
            assert one.ends_ms == following.starts_ms or one.ends_ms >= one.starts_ms + READ_MS


def test_a_recording_without_calls_has_no_captions() -> None:
    assert captions_of(a_take("lantern-row", "full-counts")) == ()


@given(st.lists(WORDS, min_size=1, max_size=5))
def test_any_words_come_back_as_they_were(words: list[str]) -> None:
    captions = [TimedCaption(1000 * n, 1000 * n + 900, " ".join(w.split()) or "x") for n, w in enumerate(words)]
    read = webvtt.from_buffer(io.StringIO(web_vtt(captions)))
    assert [one.raw_text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&") for one in read] == [
        one.words for one in captions
    ]
    again = list(srt.parse(sub_rip(captions)))
    look_alike = str.maketrans("<>{}\\", "‹›()/")
    assert [one.content for one in again] == [one.words.replace("-->", "→").translate(look_alike) for one in captions]


def test_hours_minutes_and_milliseconds_are_written_as_the_standard_shows_them() -> None:
    """WebVTT 3.1 (W3C Candidate Recommendation, 4 April 2019): "hh:mm:ss.ttt"; SubRip has a comma there."""
    caption = TimedCaption(3_723_004, 3_724_050, "step & <turn>")
    assert "01:02:03.004 --> 01:02:04.050\nstep &amp; &lt;turn&gt;\n" in web_vtt([caption])
    assert sub_rip([caption]) == "1\n01:02:03,004 --> 01:02:04,050\nstep & ‹turn›\n"


@pytest.mark.parametrize(
    "words",
    ["<b>walk</b>", "<font color=red>", "{\\an8}walk", "{\\pos(1,1)}", "a --> b", "<script>", "walk & walk", "{b}"],
)
def test_no_player_takes_words_for_orders(words: str) -> None:
    """As players read SubRip: tags in angle brackets, and in braces after a backslash (common practice)."""
    text = sub_rip([TimedCaption(0, 1_000, words)])
    shown = text.splitlines()[2]
    assert not re.search(r"[<>{}\\]", shown)
    assert re.sub(r"[^a-z]", "", shown) == re.sub(r"[^a-z]", "", words)
    assert [cue.content for cue in srt.parse(text)] == [shown]
