"""Captions of a recording: what is called, when it is heard, as WebVTT and as SubRip.

Conventions: times in whole milliseconds from the recording's start; captions in order, none over another. One stays
long enough to be read, but not into the next. WebVTT: W3C Candidate Recommendation 4 April 2019; SubRip has no
standard, its form is common practice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

from caller.calls.take import Take
from caller.takehome.chapters import milliseconds

READ_MS = 1_200
_LOOK_ALIKE = str.maketrans("<>{}\\", "‹›()/")


@dataclass(frozen=True, slots=True)
class TimedCaption:
    starts_ms: int
    ends_ms: int
    words: str


def captions_of(take: Take) -> tuple[TimedCaption, ...]:
    """A caption for each call of the take's plan."""
    rate = take.timeline.rate
    calls = take.plan.calls
    edges = [milliseconds(frame, rate) for frame in (*(call.starts for call in calls), take.score.frames)]
    made = []
    for call, (starts, following) in zip(calls, pairwise(edges), strict=True):
        ends = min(max(milliseconds(call.ends, rate), starts + READ_MS), following)
        made.append(TimedCaption(starts, ends, _one_line(call.utterance.words)))
    return tuple(made)


def web_vtt(captions: Iterable[TimedCaption], title: str = "") -> str:
    """The file's text. title: kept as a note."""
    head = ["WEBVTT", *(["", f"NOTE {_one_line(title).replace('-->', '→')}"] if title else [])]
    blocks = [
        f"{number}\n{_clock(one.starts_ms, '.')} --> {_clock(one.ends_ms, '.')}\n{_escaped(one.words)}"
        for number, one in enumerate(captions, 1)
    ]
    return "\n\n".join(["\n".join(head), *blocks]) + "\n"


def sub_rip(captions: Iterable[TimedCaption], title: str = "") -> str:
    """The file's text. It has no place for a title."""
    blocks = [
        f"{number}\n{_clock(one.starts_ms, ',')} --> {_clock(one.ends_ms, ',')}\n{_plain(one.words)}"
        for number, one in enumerate(captions, 1)
    ]
    return "\n\n".join(blocks) + "\n"


def _clock(ms: int, point: str) -> str:
    """Hours always shown: both kinds may have them, and SubRip must."""
    seconds, ms = divmod(ms, 1_000)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{seconds:02}{point}{ms:03}"


def _one_line(words: str) -> str:
    return " ".join(words.split())


def _plain(words: str) -> str:
    """SubRip has no way to escape anything, and players take <b>, {\\an8} and a line of figures for orders: signs that
    look much the same stand in their place."""
    return words.replace("-->", "→").translate(_LOOK_ALIKE)


def _escaped(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


# What is written beside each recording, by suffix: the file's text from its captions and the recording's title.
TEXTS: dict[str, Callable[[Iterable[TimedCaption], str], str]] = {".vtt": web_vtt, ".srt": sub_rip}
