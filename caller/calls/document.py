"""The call plan as a document for ``caller calls --json``.

Conventions: times are seconds since the first step of wall 1, so the count-in is negative; tempo is counts a minute.
``due`` is when a call must have been heard; for a word on the count, the count it falls on.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from caller.calls.plan import Call, CallKind, Dropped
from caller.calls.take import Take

_DIGITS = 6
_EVENTS = (CallKind.TAG, CallKind.RESTART, CallKind.CHANGE, CallKind.ENDING)


def calls_document(take: Take, highest_tempo: int | None) -> dict[str, Any]:
    """tempo, manner, margin_seconds, highest_tempo, calls, announcements and dropped, ready for :func:`json.dumps`.
    highest_tempo: at which every step is still called (None: at none)."""
    origin = take.timeline.frame_of(Fraction(0))
    rate = take.timeline.rate
    return {
        "tempo": _plain(take.timeline.tempo_at(take.timeline.frame_of(take.start))),
        "manner": take.plan.manner.value,
        "margin_seconds": take.plan.margin_seconds,
        "highest_tempo": highest_tempo,
        "calls": [_call(call, origin, rate) for call in take.plan.calls],
        "announcements": announced(take),
        "dropped": [_dropped(drop) for drop in take.plan.dropped],
    }


def announced(take: Take) -> list[dict[str, Any]]:
    """Walls, tags, restarts, changes and endings with what is said of each, in order of time; not a step that is called
    at the place of one without the word for it."""
    origin, rate = take.timeline.frame_of(Fraction(0)), take.timeline.rate
    found: dict[tuple[CallKind, Fraction], list[Call]] = {}
    for call in take.plan.calls:
        if _announces(call):
            found.setdefault((call.cue.kind, call.cue.at), []).append(call)
    return [
        {
            "kind": kind.value,
            "wall": calls[0].cue.wall,
            "count": calls[0].cue.count,
            "comes": round((take.timeline.frame_of(at) - origin) / rate, _DIGITS),
            "notices": [
                {"words": call.utterance.words, "starts": round((call.starts - origin) / rate, _DIGITS)}
                for call in calls
            ],
        }
        for (kind, at), calls in sorted(found.items(), key=lambda one: one[0][1])
    ]


def _announces(call: Call) -> bool:
    kind = call.cue.kind
    return kind is CallKind.WALL or (kind in _EVENTS and kind.value in re.findall(r"\w+", call.utterance.words))


def _call(call: Call, origin: int, rate: int) -> dict[str, Any]:
    def seconds(frame: int) -> float:
        return round((frame - origin) / rate, _DIGITS)

    return {
        "wall": call.cue.wall,
        "count": call.cue.count,
        "kind": call.cue.kind.value,
        "words": call.utterance.words,
        "full_words": call.cue.wordings[0],
        "starts": seconds(call.starts),
        "ends": seconds(call.ends),
        "due": seconds(call.due),
        "speed": call.utterance.speed,
    }


def _dropped(drop: Dropped) -> dict[str, Any]:
    return {
        "wall": drop.cue.wall,
        "count": drop.cue.count,
        "kind": drop.cue.kind.value,
        "words": drop.cue.wordings[0],
        "why": drop.why,
    }


def _plain(tempo: Fraction) -> int | float:
    """A whole number where it is one."""
    return tempo.numerator if tempo.denominator == 1 else float(tempo)
