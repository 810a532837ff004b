"""Songs that were set after the beat finder was written, and heard by it once before anything was mended for them.

Conventions: as in :mod:`tests.bench.scored_songs`. A song is a row of sections: so many bars in a style, at a share of
its tempo that runs evenly from one value to another. What each is for stands in its name. The melodies are drawn by
lot over the chords.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import cycle, islice, pairwise

import mido
import numpy as np
import numpy.typing as npt

from tests.bench.scored_songs import FONTS, RATE, STYLES, Note, Table, bar_of, rendered

_SIXTEENTHS = tuple(n / 4 for n in range(16))
_OFF = (0.5, 1.5, 2.5, 3.5)
_ALL = (0, 1, 2, 3)
_THIRDS = tuple(n / 3 for n in range(12))

TABLES: dict[str, Table] = STYLES | {
    "waltz band": (
        ((0,), 0.9, "root", 95),
        ((1, 2), 0.4, "chord", 75),
        ((1, 2), 0.2, "snare", 45),
        ((0, 1, 2), 0.2, "hat", 55),
        ((2.5,), 0.3, "fifth", 70),
    ),
    "shuffle": (
        ((0,), 0.9, "root", 92),
        ((1,), 0.9, "third", 88),
        ((2,), 0.9, "fifth", 92),
        ((3,), 0.9, "walk", 88),
        ((0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5), 0.2, "hat", 65),
        ((1, 3), 0.2, "snare", 95),
        ((0, 2, 2.5), 0.2, "kick", 90),
        (_OFF, 0.3, "chord", 70),
    ),
    "train": (
        ((0, 2), 0.9, "root", 95),
        (_SIXTEENTHS, 0.1, "snare", 42),
        (_OFF, 0.1, "snare", 88),
        (_OFF, 0.3, "chord", 72),
        ((0, 2), 0.2, "kick", 75),
    ),
    "alone": (((0, 2), 1.9, "held", 75), ((0, 1, 2, 3), 0.9, "arpeggio", 75)),
    "half time": (
        ((0,), 2.0, "root", 95),
        ((0, 2.5), 0.2, "kick", 100),
        ((2,), 0.2, "snare", 105),
        ((0, 1, 2, 3), 0.2, "ride", 65),
        ((0,), 3.8, "held", 75),
    ),
    "pad": (((0,), 3.9, "held", 75),),
    "sticks slow": (((0, 2), 0.2, "stick", 100),),
    "sticks": (((0, 1, 2, 3), 0.2, "stick", 105),),
    "six eight": (
        ((0, 3), 2.0, "root", 90),
        ((0,), 0.2, "kick", 95),
        ((3,), 0.2, "snare", 90),
        ((0, 1, 2, 3, 4, 5), 0.2, "hat", 55),
        ((0, 1, 2, 3, 4, 5), 0.9, "pick", 65),
    ),
    "jig": (
        ((0, 2), 0.9, "root", 90),
        ((1, 3), 0.9, "fifth", 85),
        ((2 / 3, 5 / 3, 8 / 3, 11 / 3), 0.2, "chord", 75),
        (_ALL, 0.2, "chord", 60),
        (_THIRDS, 0.1, "tap", 50),
    ),
    "two step": (
        ((0,), 0.8, "root", 95),
        ((2,), 0.8, "fifth", 95),
        ((1, 3), 0.3, "chord", 85),
        ((1, 3), 0.2, "snare", 85),
        ((0, 2), 0.2, "kick", 85),
        (_ALL, 0.1, "hat", 55),
    ),
    "one drop": (
        ((2,), 0.2, "kick", 105),
        ((2,), 0.2, "side", 95),
        (_OFF, 0.2, "chord", 90),
        ((0, 1.5, 2.75), 0.6, "root", 95),
        ((3.25,), 0.5, "fifth", 85),
        (tuple(n / 2 for n in range(8)), 0.1, "hat", 50),
    ),
    "chop": (
        ((0, 2), 0.8, "root", 90),
        ((1, 3), 0.8, "fifth", 80),
        (_OFF, 0.15, "chord", 95),
        (_SIXTEENTHS, 0.2, "roll", 65),
    ),
    "cha": (
        ((0, 1, 2, 3), 0.2, "bell", 85),
        ((0, 0.5, 1, 2, 2.5, 3), 0.1, "shaker", 65),
        ((1, 3, 3.5), 0.2, "conga", 95),
        ((0, 1.5), 0.6, "root", 90),
        ((3,), 0.8, "fifth", 90),
        ((0.5, 1.5, 2.5, 3.5), 0.3, "chord", 80),
    ),
    "stop": (((0,), 0.4, "root", 100), ((0,), 0.2, "kick", 110), ((0,), 0.3, "chord", 95)),
    "three three two": (
        ((0, 1.5, 3), 0.8, "root", 95),
        ((0, 1.5, 3), 0.2, "kick", 95),
        ((1, 3), 0.2, "clap", 85),
        (tuple(n / 2 for n in range(8)), 0.1, "shaker", 60),
        ((0, 1.5, 3), 1.2, "chord", 70),
    ),
    "brush waltz": (((0,), 2.8, "root", 80), ((0, 0.5, 1, 1.5, 2, 2.5), 0.9, "arpeggio", 70), ((0,), 2.9, "held", 45)),
}
_PROGRAMS = {
    "waltz": (24, 32, 48, 40),
    "steel": (25, 33, 49, 110),
    "jazz": (26, 32, 48, 66),
    "pop": (27, 33, 50, 80),
    "jig": (21, 32, 48, 73),
    "banjo": (105, 32, 48, 40),
    "organ": (16, 33, 89, 65),
}
_CHORDS = {
    "I": (0, False),
    "IV": (5, False),
    "V": (7, False),
    "ii": (2, True),
    "vi": (9, True),
    "i": (0, True),
    "VII": (10, False),
}
_NEXT = "next "  # of a row that sounds what the bar after is in
_SCALE = (0, 2, 4, 5, 7, 9, 11, 12, 14, 16)


@dataclass(frozen=True, slots=True)
class Section:
    """first, last: shares of the song's tempo. plays: whether there is a melody."""

    bars: int
    style: str
    first: float = 1.0
    last: float = 1.0
    plays: bool = True


@dataclass(frozen=True, slots=True)
class Fresh:
    """offbeat: where the second eighth of a beat falls. told: the tempo on the sheet, as a share of the song's.
    pick_up: beats of melody before the first bar. fade: seconds over which it comes in and goes out. tables: what each
    style plays."""

    name: str
    tempo: float
    band: str
    chords: str
    sections: tuple[Section, ...]
    meter: int = 4
    offbeat: float = 0.5
    wander: float = 0.0
    jitter: float = 0.008
    told: float = 1.0
    pick_up: int = 0
    fade: float = 0.0
    font: str = "fluid"
    key: int = 60
    tables: Mapping[str, Table] = field(default_factory=lambda: TABLES)


FRESH = (
    Fresh("waltz band", 126, "waltz", "I I IV IV V V I I", (Section(56, "waltz band"),), 3, wander=0.02, told=1.01),
    Fresh("shuffle", 121, "jazz", "I I I I IV IV I I V IV I V", (Section(36, "shuffle"),), offbeat=0.66, told=0.99),
    Fresh("train beat", 113, "steel", "I I IV I I V I I", (Section(36, "train"),), wander=0.01, font="tim"),
    Fresh(
        "rubato intro",
        104,
        "steel",
        "I vi IV V",
        (
            Section(2, "alone", 0.72, 0.85),
            Section(2, "alone", 0.8, 0.66),
            Section(2, "alone", 0.7, 0.9),
            Section(2, "alone", 0.85, 0.6),
            Section(28, "country"),
        ),
        told=1.0,
    ),
    Fresh(
        "half-time chorus",
        142,
        "pop",
        "vi IV I V",
        (Section(12, "rock"), Section(12, "half time"), Section(12, "rock"), Section(12, "half time")),
        told=1.01,
    ),
    Fresh(
        "long break",
        124,
        "pop",
        "i VII IV i",
        (Section(20, "disco"), Section(8, "pad", plays=False), Section(20, "disco")),
        wander=0.008,
        told=0.98,
    ),
    Fresh("fade-in", 108, "pop", "I V vi IV", (Section(36, "rock"),), fade=14, font="tim"),
    Fresh("pick-up", 98, "steel", "I IV V I", (Section(32, "country"),), pick_up=3, told=1.02),
    Fresh(
        "sticks",
        116,
        "steel",
        "I I IV V",
        (Section(1, "sticks slow", plays=False), Section(1, "sticks", plays=False), Section(36, "rock")),
        wander=0.015,
        told=0.99,
    ),
    Fresh("six eight", 186, "organ", "I vi IV V", (Section(36, "six eight"),), 6, told=1.0, wander=0.01),
    Fresh("jig", 114, "jig", "I IV I V", (Section(36, "jig"),), wander=0.02, told=1.01),
    Fresh("two-step", 188, "steel", "I I V V IV IV I I", (Section(60, "two step"),), wander=0.015, told=0.99),
    Fresh("one drop", 76, "organ", "i i VII VII", (Section(26, "one drop"),), told=1.0),
    Fresh("quickening", 96, "steel", "I IV I V", (Section(40, "country", 1.0, 1.16),), told=1.08),
    Fresh(
        "slowings",
        92,
        "steel",
        "I vi ii V",
        (
            Section(12, "ballad"),
            Section(2, "ballad", 1.0, 0.78),
            Section(12, "ballad"),
            Section(2, "ballad", 1.0, 0.7),
        ),
        told=0.99,
    ),
    Fresh("chop", 132, "banjo", "I I IV I I V I I", (Section(40, "chop"),), wander=0.02, told=1.0),
    Fresh("cha", 120, "jig", "i IV", (Section(36, "cha"),), told=1.0, font="tim"),
    Fresh("brush waltz", 84, "waltz", "I vi IV V", (Section(36, "brush waltz"),), 3, wander=0.03, told=1.0),
    Fresh(
        "stop time",
        104,
        "jazz",
        "I I I I IV IV I I V IV I I",
        (
            Section(8, "swing"),
            *(Section(1, one) for one in ("stop", "stop", "stop", "swing") * 2),
            Section(20, "swing"),
        ),
        offbeat=0.66,
        told=1.0,
    ),
    Fresh("three-three-two", 98, "pop", "vi IV I V", (Section(32, "three three two"),), told=1.0, wander=0.005),
)


def drawn(lot: int) -> tuple[Fresh, ...]:
    """Each of them at another tempo, in another key, by other players and another band."""
    draw, found = np.random.default_rng(lot), []
    for song in FRESH:
        band = ("waltz", "steel", "jazz", "pop", "jig", "banjo", "organ")[int(draw.integers(0, 7))]
        other = "tim" if song.font == "fluid" else "fluid"
        tempo, told = song.tempo * draw.uniform(0.88, 1.12), song.told * draw.uniform(0.985, 1.015)
        key, wander = song.key + int(draw.integers(-4, 5)), song.wander + draw.choice([0, 0.01])
        found.append(replace(song, band=band, font=other, tempo=tempo, told=told, key=key, wander=wander))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Heard:
    """samples: mono. beats: of each count, seconds. first: which of them is the first of a bar."""

    samples: npt.NDArray[np.float32]
    beats: npt.NDArray[np.float64]
    first: int


def made(song: Fresh, seed: int) -> Heard:
    draw = np.random.default_rng(seed)
    times, notes = _beats(song, draw), list(_notes(song, draw))
    places = np.arange(-song.pick_up, len(times) - song.pick_up)

    def seconds(beat: float) -> float:
        whole, part = divmod(beat + 1e-9, 1)
        if song.offbeat != 0.5:
            part = part * 2 * song.offbeat if part <= 0.5 else song.offbeat + (part - 0.5) * 2 * (1 - song.offbeat)
        return float(np.interp(whole + part, places, times))

    events: list[tuple[float, mido.Message]] = [
        (0.0, mido.Message("program_change", channel=channel, program=program))
        for channel, program in enumerate(_PROGRAMS[song.band], start=1)
    ]
    for beat, long, channel, pitch, velocity in notes:
        start = max(seconds(beat) + draw.normal(0, song.jitter), 0.0)
        loud = int(np.clip(velocity + draw.normal(0, 5), 20, 127))
        events.append((start, mido.Message("note_on", channel=channel, note=pitch, velocity=loud)))
        stop = max(seconds(beat + long), start + 0.05)
        events.append((stop, mido.Message("note_off", channel=channel, note=pitch)))
    samples = rendered(sorted(events, key=lambda event: event[0]), FONTS[song.font])
    return Heard(_faded(samples, song.fade), times[:-1], song.pick_up)


def _beats(song: Fresh, draw: np.random.Generator) -> npt.NDArray[np.float64]:
    """One beat beyond the last."""
    shares = [np.ones(song.pick_up)]
    shares += [np.linspace(one.first, one.last, one.bars * song.meter) for one in song.sections]
    share, walk = np.concatenate(shares), 0.0
    for n in range(len(share)):
        walk = float(np.clip(0.97 * walk + draw.normal(0, song.wander / 4), -song.wander, song.wander))
        share[n] *= 1 + walk
    return np.concatenate([[0.9], 0.9 + np.cumsum(60 / (song.tempo * share))])


def _notes(song: Fresh, draw: np.random.Generator) -> Iterator[Note]:
    words = [_CHORDS[word] for word in song.chords.split()]
    chords, bar = pairwise(cycle(words)), 0
    for at in range(song.pick_up):
        yield at - song.pick_up, 0.8, 4, song.key + 12 + _SCALE[2 + at], 90
    for section in song.sections:
        rows = song.tables[section.style]
        table = tuple(row for row in rows if row[2] != "roll" and not row[2].startswith(_NEXT))
        ahead = tuple((*row[:2], row[2].removeprefix(_NEXT), row[3]) for row in rows if row[2].startswith(_NEXT))
        for (root, minor), following in islice(chords, section.bars):
            here = bar * song.meter
            if any(what == "roll" for _, _, what, _ in rows):
                yield from _roll(here, song.key + root, minor)
            for at, *more in bar_of(table, root, minor, song.key, song.meter, draw):
                yield (here + at, *more)
            # What nobody plays draws nothing either, so that the lots of before stay what they were.
            for at, *more in bar_of(ahead, *following, song.key, song.meter, draw) if ahead else ():
                yield (here + at, *more)
            if section.plays and bar % 8 < 7:
                yield from _melody(here, song, root, draw)
            bar += 1


def _roll(here: int, key: int, minor: bool) -> Iterator[Note]:
    """Sixteenths in groups of three, across the beats."""
    pitches = (key + 7, key + (15 if minor else 16), key + 12)
    for n in range(16):
        yield here + n / 4, 0.2, 1, pitches[n % 3], 88 if n % 8 in (0, 3, 6) else 66


def _melody(here: int, song: Fresh, root: int, draw: np.random.Generator) -> Iterator[Note]:
    at, place = 0.0, int(draw.integers(0, 5))
    while at < song.meter:
        long = float(draw.choice([0.5, 1, 1, 1.5, 2]))
        long = min(long, song.meter - at)
        if draw.random() < 0.85:
            pitch = song.key + 12 + (root if at == 0 else _SCALE[place])
            yield here + at, long * 0.9, 4, pitch, 88
        place = int(np.clip(place + draw.integers(-2, 3), 0, len(_SCALE) - 1))
        at += long


def _faded(samples: npt.NDArray[np.float32], seconds: float) -> npt.NDArray[np.float32]:
    if not seconds:
        return samples
    size = round(seconds * RATE)
    rise = np.linspace(0.02, 1, size, dtype=np.float32) ** 2
    samples = samples.copy()
    samples[:size] *= rise
    samples[-size:] *= rise[::-1]
    return samples
