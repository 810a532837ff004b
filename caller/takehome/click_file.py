"""The count track as a Standard MIDI File (RP-001, format 1): clicks, tempo, bars, markers for walls and sections.

Conventions: a count is the note that the meter is written in (a quarter in 4/4, an eighth in 6/8); ``TICKS`` a quarter.
Tempo is whole microseconds a quarter, as the format has it: at most half a microsecond a count from the exact one.
Clicks are General MIDI percussion on channel 10, wood blocks, with the accents that the score has. mido is imported
when first needed.
"""

from __future__ import annotations

import io
from fractions import Fraction
from itertools import pairwise
from typing import Any

from caller.calls.take import Take
from caller.clock.timeline import round_half_up
from caller.sound.clicks import ACCENT, click
from caller.takehome.chapters import stretch_title, wall_title

TICKS = 480
_PERCUSSION = 9  # channel 10, counted from 0
# General MIDI 1 (RP-003): 76 high wood block, 77 low wood block.
_ACCENT_NOTE, _COUNT_NOTE = 76, 77
_ACCENT_VELOCITY, _COUNT_VELOCITY = 112, 84
_NOTE_TICKS = TICKS // 8

# (tick, order on one tick, message)
_Timed = tuple[int, int, Any]


def click_file(take: Take, title: str) -> bytes:
    """The whole take's clicks, as the file's content."""
    import mido

    unit = take.dance.routine.header.meter.unit
    file = mido.MidiFile(type=1, ticks_per_beat=TICKS, charset="utf-8")
    file.tracks.append(_track(_conductor(take, unit, title)))
    file.tracks.append(_track(_clicks(take, unit)))
    content = io.BytesIO()
    file.save(file=content)
    return content.getvalue()


def tempo_of(counts_a_minute: Fraction, unit: int) -> int:
    """Microseconds a quarter, to the nearest."""
    return round_half_up(Fraction(60_000_000) / counts_a_minute * Fraction(unit, 4))


def _tick(take: Take, count: Fraction, unit: int) -> int:
    """Ticks from the take's first frame, which a call before the count-in may open."""
    return int((count - take.start + take.count_in + take.lead) * TICKS * 4 / unit)


def _conductor(take: Take, unit: int, title: str) -> list[_Timed]:
    """The first track of a format 1 file: tempo, bars, markers."""
    from mido import MetaMessage

    events: list[_Timed] = [(0, 0, MetaMessage("track_name", name=title))]
    for segment in take.timeline.segments:
        tick = _tick(take, segment.count, unit)
        events.append((tick, 1, MetaMessage("set_tempo", tempo=tempo_of(segment.tempo, unit))))
    events += _bars(take, unit)
    if take.count_in:
        opens = _tick(take, take.start - take.count_in, unit)
        events.append((opens, 3, MetaMessage("marker", text="Count-in")))
    for wall in take.dance.walls:
        for stretch in wall.stretches:
            if stretch.counts and take.start <= stretch.at < take.end:
                name = f"{wall_title(wall)}: " if stretch.at == wall.at else f"Wall {wall.number}: "
                text = name + stretch_title(stretch)
                events.append((_tick(take, stretch.at, unit), 3, MetaMessage("marker", text=text)))
    return events


def _bars(take: Take, unit: int) -> list[_Timed]:
    """A time signature wherever the length of the bar changes: a half-bar tag makes a bar of its own."""
    from mido import MetaMessage

    accent = click(ACCENT).key
    counts = [take.start - take.count_in + n for n in range(take.count_in + int(take.end - take.start))]
    accented = {p.frame for p in take.score.placements if p.kind == "count" and p.clip.key == accent}
    openings = [count for count in counts if take.timeline.frame_of(count) in accented]
    edges = [counts[0], *(o for o in openings if o > counts[0]), take.end]
    signatures: list[_Timed] = []
    length = None
    for opens, following in pairwise(edges):
        bar = int(following - opens)
        if bar != length:
            length = bar
            message = MetaMessage("time_signature", numerator=bar, denominator=unit)
            signatures.append((_tick(take, opens, unit), 2, message))
    return signatures


def _clicks(take: Take, unit: int) -> list[_Timed]:
    from mido import Message, MetaMessage

    accent = click(ACCENT).key
    events: list[_Timed] = [(0, 0, MetaMessage("track_name", name="Count track"))]
    for placed in take.score.placements:
        if placed.kind != "count":
            continue
        tick = _tick(take, Fraction(round_half_up(take.timeline.count_at(placed.frame))), unit)
        note, loud = (_ACCENT_NOTE, _ACCENT_VELOCITY) if placed.clip.key == accent else (_COUNT_NOTE, _COUNT_VELOCITY)
        events.append((tick, 1, Message("note_on", channel=_PERCUSSION, note=note, velocity=loud)))
        off = Message("note_off", channel=_PERCUSSION, note=note, velocity=0)
        events.append((tick + _NOTE_TICKS, 0, off))
    return events


def _track(events: list[_Timed]) -> Any:
    """Events in order, each with the ticks since the one before it, closed as the format asks."""
    from mido import MetaMessage, MidiTrack

    track = MidiTrack()
    now = 0
    for tick, _, message in sorted(events, key=lambda event: event[:2]):
        track.append(message.copy(time=tick - now))
        now = tick
    track.append(MetaMessage("end_of_track", time=0))
    return track
