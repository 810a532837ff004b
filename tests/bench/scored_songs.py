"""Songs with known beats: tunes long out of copyright, set for a band, rendered by fluidsynth with a free sound font.

Conventions: beats in seconds of the rendered sound; a tempo curve is told beat by beat, and every note is placed on it.
The tunes are traditional or of the 19th century, written down from memory and numbered. On Debian:
``apt-get install fluidsynth fluid-soundfont-gm timgm6mb-soundfont``.
"""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import cycle, islice
from pathlib import Path

import mido
import numpy as np
import numpy.typing as npt
import soundfile

RATE = 48_000
FONTS = {"fluid": "/usr/share/sounds/sf2/FluidR3_GM.sf2", "tim": "/usr/share/sounds/sf2/TimGM6mb.sf2"}
KICK, SNARE, SIDE, HAT, OPEN_HAT, RIDE, SHAKER, CONGA = 36, 38, 37, 42, 46, 51, 70, 63
DRUMS = 9

Note = tuple[float, float, int, int, int]  # beat, beats long, channel, key, velocity
Table = tuple[tuple[tuple[float, ...], float, str, int], ...]


@dataclass(frozen=True, slots=True)
class Tune:
    """melody: (semitones over the key, beats), None for a rest. chords: one a bar, (semitones over the key, minor)."""

    meter: int
    key: int
    melody: tuple[tuple[int | None, float], ...]
    chords: tuple[tuple[int, bool], ...]


def _read(meter: int, key: int, melody: str, chords: str) -> Tune:
    notes = (word.split(":") for word in melody.split())
    major = {"I": (0, False), "IV": (5, False), "V": (7, False), "ii": (2, True), "vi": (9, True), "i": (0, True)}
    major |= {"VII": (10, False), "III": (3, False), "v": (7, True)}
    return Tune(
        meter,
        key,
        tuple((None if pitch == "r" else int(pitch), float(long)) for pitch, long in notes),
        tuple(major[word] for word in chords.split()),
    )


TUNES = {
    "first": _read(
        4,
        62,
        "4:1 7:1 7:1.5 9:.5 7:1 4:1 0:1.5 2:.5 4:1 4:1 2:1 0:1 2:3 0:.5 2:.5 4:1 7:1 7:1.5 9:.5 7:1 4:1 0:1.5 2:.5 "
        "4:1 4:1 2:1 2:1 0:4 5:2 5:2 9:1 9:2 9:1 7:1 7:1 4:1 0:1 2:3 0:.5 2:.5 4:1 7:1 7:1.5 9:.5 7:1 4:1 0:1.5 2:.5 "
        "4:1 4:1 2:1 2:1 0:4",
        "I I I V I I V I IV IV I V I I V I",
    ),
    "second": _read(
        4,
        65,
        "r:1 0:1 4:1 5:1 7:4 r:1 0:1 4:1 5:1 7:4 r:1 0:1 4:1 5:1 7:2 4:2 0:2 4:2 2:4 r:1 4:1 4:1 2:1 0:3 0:1 4:2 7:2 "
        "7:1 5:3 r:1 4:1 5:1 r:1 7:2 4:2 0:2 2:2 0:4",
        "I I I I I I V V I I IV IV I V I I",
    ),
    "third": _read(
        4,
        60,
        "7:1 7:1 4:1 7:1 9:1 7:1 4:2 r:1 4:1 2:2 r:1 4:1 2:2 7:1 7:1 4:1 7:1 9:1 7:1 4:2 2:1.5 4:.5 2:1 0:1 0:4 "
        "0:1.5 0:.5 4:1 7:1 12:4 9:1.5 9:.5 12:1 9:1 7:4",
        "I I V V I I V I I I IV I",
    ),
    "fourth": _read(
        4,
        57,
        "0:1 0:1 3:1 7:1 5:1.5 3:.5 7:2 12:1 12:1 10:1 7:1 5:1 3:1 7:2 0:.5 0:.5 0:1 3:1 7:1 12:2 10:2 7:1 3:1 "
        "2:1 0:1 0:4",
        "i III IV VII i III v i",
    ),
    "fifth": _read(
        3,
        57,
        "0:1 3:2 5:1 7:1.5 8:.5 7:1 5:2 2:1 -2:1.5 0:.5 2:1 3:2 0:1 0:1.5 -1:.5 0:1 2:2 -1:1 -5:2 0:1 3:2 5:1 "
        "7:1.5 8:.5 "
        "7:1 5:2 2:1 -2:1.5 0:.5 2:1 3:1.5 2:.5 0:1 -1:1.5 -3:.5 -1:1 0:3 0:2",
        "i i VII VII i i V V i i VII VII i V i i",
    ),
    "sixth": _read(
        3,
        55,
        "0:2 4:.5 0:.5 4:2 2:1 0:2 -3:1 -5:2 -5:1 0:2 4:.5 0:.5 4:2 2:1 7:3 r:2 4:1 7:2 4:.5 0:.5 4:2 2:1 0:2 -3:1 "
        "-5:2 -5:1 0:2 4:.5 0:.5 4:2 2:1 0:3 r:3",
        "I I IV I I I V V I I IV I I V I I",
    ),
}


def _chord(root: int, minor: bool, low: int) -> list[int]:
    base = low + (root - low % 12 + 60) % 12
    return [base, base + (3 if minor else 4), base + 7]


# What each style plays in a bar of four: (beats, how long, degree of the chord or drum, loudness); "root" and "fifth"
# are the bass's, "up" its octave, "chord" is strummed, "held" on strings, "pick" goes through the chord's notes.
_EIGHTHS = tuple(n / 2 for n in range(8))
STYLES: dict[str, Table] = {
    "rock": (
        ((0, 1.5, 3.5), 0.9, "root", 95),
        ((2,), 0.9, "fifth", 95),
        ((0, 2, 2.5), 0.2, "kick", 100),
        ((1, 3), 0.2, "snare", 95),
        ((0, 1, 2, 3), 0.2, "hat", 70),
        ((0.5, 1.5, 2.5, 3.5), 0.2, "hat", 50),
        ((0.5, 1.5, 2.5, 3.5), 0.4, "chord", 70),
    ),
    "country": (
        ((0,), 0.9, "root", 95),
        ((2,), 0.9, "fifth", 95),
        ((1, 3), 0.4, "chord", 80),
        ((1, 3), 0.2, "side", 80),
        ((1.5, 3.5), 0.3, "chord", 50),
        ((0, 1, 2, 3), 0.2, "shaker", 40),
        ((0.5, 1.5, 2.5, 3.5), 0.2, "shaker", 60),
    ),
    "disco": (
        ((0, 1, 2, 3), 0.2, "kick", 105),
        ((0.5, 1.5, 2.5, 3.5), 0.2, "open", 95),
        ((1, 3), 0.2, "snare", 90),
        ((0, 1, 2, 3), 0.4, "root", 90),
        ((0.5, 1.5, 2.5, 3.5), 0.4, "up", 90),
        ((0,), 3.8, "held", 60),
        ((0.75,), 0.3, "chord", 75),
    ),
    "swing": (
        ((0,), 0.9, "root", 90),
        ((1,), 0.9, "third", 90),
        ((2,), 0.9, "fifth", 90),
        ((3,), 0.9, "walk", 90),
        ((0, 1, 1.5, 2, 3, 3.5), 0.2, "ride", 80),
        ((1, 3), 0.2, "foot", 80),
        ((1.5,), 0.4, "chord", 60),
    ),
    "latin": (
        ((0, 2.5), 0.7, "root", 95),
        ((1.5, 3), 0.7, "fifth", 95),
        ((1, 3, 3.5), 0.2, "conga", 85),
        ((0, 1, 2, 3), 0.2, "shaker", 70),
        ((0.5, 1.5, 2.5, 3.5), 0.2, "shaker", 55),
        ((0, 1.5, 3), 0.2, "side", 80),
        ((0, 2), 0.2, "kick", 80),
        ((0, 1, 1.5, 2.5, 3.5), 0.4, "chord", 65),
    ),
    "ballad": (
        ((0,), 1.8, "root", 85),
        ((2,), 1.8, "fifth", 85),
        ((0,), 0.2, "kick", 90),
        ((2.5,), 0.2, "kick", 70),
        ((1, 3), 0.2, "snare", 75),
        ((0, 1, 2, 3), 0.2, "hat", 60),
        (tuple(n / 4 for n in range(16) if n % 4), 0.2, "hat", 38),
        ((0,), 3.8, "held", 55),
        (_EIGHTHS, 0.5, "pick", 60),
    ),
    "folk": ((_EIGHTHS, 0.6, "arpeggio", 70),),
    "waltz": (
        ((0,), 0.9, "root", 95),
        ((0,), 0.2, "kick", 80),
        ((1, 2), 0.5, "chord", 65),
        ((1, 2), 0.2, "hat", 55),
    ),
    "strings": (((0,), 3.8, "held", 70), ((0,), 3.6, "root", 80)),
}
_DRUM_KEYS = {"kick": KICK, "snare": SNARE, "side": SIDE, "hat": HAT, "open": OPEN_HAT, "ride": RIDE}
_DRUM_KEYS |= {"shaker": SHAKER, "conga": CONGA, "foot": 44, "stick": 31, "clap": 39, "bell": 56, "tap": 54}
_DRUM_KEYS |= {"slap": 62, "palm": 64, "low conga": 64, "guiro": 73, "long guiro": 74, "timbale": 66, "clave": 75}
_DRUM_KEYS |= {"bongo": 60, "low bongo": 61, "surdo": 41}
_ARPEGGIO = (0, 2, 3, 1, 2, 3, 1, 2)


def bar_of(table: Table, root: int, minor: bool, key: int, meter: int, draw: np.random.Generator) -> Iterator[Note]:
    """A bar of accompaniment, its eighths straight."""
    low = (key + root) % 12 + 36
    third, fifth = low + (3 if minor else 4), low + 7
    chord = _chord((key + root) % 12, minor, 52)
    bass = {"root": low, "third": third, "fifth": fifth, "up": low + 12}
    bass["walk"] = int(draw.choice([third, fifth + 2, low + 12]))
    for places, long, what, loud in table:
        for at in (place for place in places if place < meter):
            if what in _DRUM_KEYS:
                yield at, 0.2, DRUMS, _DRUM_KEYS[what], loud
            elif what in bass:
                yield at, long, 2, bass[what], loud
            elif what == "arpeggio":
                yield at, long, 1, [low + 12, *chord][_ARPEGGIO[int(2 * at)]], loud + (15 if at == 0 else -5)
            elif what == "pick":
                yield at, long, 1, chord[int(2 * at) % 3], loud
            else:
                for n, pitch in enumerate(chord):
                    yield at + 0.01 * n, long, 3 if what == "held" else 1, pitch, loud


PROGRAMS = {
    "rock": (27, 33, 48, 65),
    "country": (25, 32, 49, 110),
    "disco": (27, 38, 48, 56),
    "swing": (0, 32, 48, 66),
    "latin": (0, 32, 48, 73),
    "ballad": (0, 33, 49, 68),
    "folk": (24, 32, 49, 40),
    "waltz": (21, 32, 49, 40),
    "strings": (0, 42, 48, 73),
}


@dataclass(frozen=True, slots=True)
class Setting:
    """wave, wander: how far the tempo drifts, as a share, to and fro (once in 40 s) and at random. break_bars: silent
    but for a held chord. still: of those, whether nothing at all sounds. jitter: of players, seconds."""

    tune: str
    style: str
    tempo: float
    wave: float = 0.0
    wander: float = 0.0
    break_bars: int = 0
    still: bool = False
    jitter: float = 0.006
    font: str = "fluid"
    lead_seconds: float = 0.8
    melody: bool = True
    seconds: float = 75.0

    @property
    def name(self) -> str:
        parts = [self.tune, self.style, f"{self.tempo:g}"]
        parts += [f"wave{100 * self.wave:g}"] if self.wave else []
        parts += [f"wander{100 * self.wander:g}"] if self.wander else []
        parts += ["still" if self.still else "break"] if self.break_bars else []
        return "-".join([*parts, self.font])


SETTINGS = (
    Setting("first", "rock", 118),
    Setting("second", "swing", 140),
    Setting("third", "country", 108),
    Setting("fourth", "disco", 122, font="tim"),
    Setting("second", "latin", 104),
    Setting("first", "ballad", 76, font="tim"),
    Setting("third", "folk", 96),
    Setting("fifth", "waltz", 96),
    Setting("sixth", "waltz", 84, font="tim"),
    Setting("fifth", "folk", 108),
    Setting("first", "country", 172),
    Setting("second", "swing", 188, font="tim"),
    Setting("first", "rock", 118, wave=0.01),
    Setting("third", "country", 108, wave=0.02, jitter=0.01),
    Setting("second", "swing", 140, wave=0.03, jitter=0.01),
    Setting("fourth", "disco", 122, wave=0.04, font="tim"),
    Setting("fifth", "waltz", 96, wave=0.03),
    Setting("third", "folk", 96, wave=0.04, jitter=0.012),
    Setting("fourth", "ballad", 80, wave=0.04, jitter=0.01),
    Setting("second", "latin", 104, wander=0.02, font="tim"),
    Setting("first", "country", 160, wander=0.04, jitter=0.012),
    Setting("fourth", "rock", 96, wander=0.03, jitter=0.01),
    Setting("first", "rock", 118, break_bars=2),
    Setting("third", "country", 108, break_bars=2, still=True),
    Setting("second", "swing", 140, break_bars=4),
    Setting("fifth", "waltz", 96, break_bars=2, still=True, font="tim"),
    Setting("fourth", "disco", 122, break_bars=4, wave=0.02),
)


@dataclass(frozen=True, slots=True)
class Scored:
    """samples: mono. beats: of each count of it, seconds. rests: between which of them nobody plays a beat. first_bar:
    the index of the first beat of a bar."""

    setting: Setting
    samples: npt.NDArray[np.float32]
    beats: npt.NDArray[np.float64]
    rests: tuple[float, float] | None
    meter: int


def beat_times(setting: Setting, draw: np.random.Generator) -> npt.NDArray[np.float64]:
    times, now, walk = [], setting.lead_seconds, 0.0
    for _ in range(int(setting.seconds * setting.tempo / 60)):
        times.append(now)
        walk = float(np.clip(0.97 * walk + draw.normal(0, setting.wander / 4), -setting.wander, setting.wander))
        bent = 1 + setting.wave * np.sin(2 * np.pi * now / 40) + walk
        now += 60 / (setting.tempo * bent)
    return np.array(times)


def notes_of(setting: Setting, count: int, draw: np.random.Generator) -> tuple[list[Note], tuple[int, int] | None]:
    """All notes, on beats; and the beats of the break."""
    tune = TUNES[setting.tune]
    bars = count // tune.meter
    rest = (bars // 2 // 4 * 4, bars // 2 // 4 * 4 + setting.break_bars) if setting.break_bars else None
    found: list[Note] = []
    for bar, (root, minor) in enumerate(islice(cycle(tune.chords), bars)):
        resting = rest is not None and rest[0] <= bar < rest[1]
        style = "strings" if resting else setting.style
        if resting and setting.still:
            continue
        found += [
            (bar * tune.meter + at, *more)
            for at, *more in bar_of(STYLES[style], root, minor, tune.key, tune.meter, draw)
        ]
    at = 0.0
    for pitch, long in cycle(tune.melody):
        if at >= bars * tune.meter or not setting.melody:
            break
        resting = rest is not None and rest[0] * tune.meter <= at < rest[1] * tune.meter
        if pitch is not None and at >= 4 * tune.meter and not resting:
            found.append((at, long * 0.9, 4, tune.key + 12 + pitch, 90))
        at += long
    return found, None if rest is None else (rest[0] * tune.meter, rest[1] * tune.meter)


def scored(setting: Setting, seed: int = 7) -> Scored:
    draw = np.random.default_rng(seed)
    beats = beat_times(setting, draw)
    notes, rest = notes_of(setting, len(beats), draw)
    swung = setting.style == "swing"

    def seconds(beat: float) -> float:
        whole, part = divmod(beat, 1)
        if swung and part > 0:
            part = part * 4 / 3 if part <= 0.5 else 2 / 3 + (part - 0.5) * 2 / 3
        return float(np.interp(whole + part, np.arange(len(beats)), beats))

    events: list[tuple[float, mido.Message]] = []
    for channel, program in enumerate(PROGRAMS[setting.style], start=1):
        events.append((0.0, mido.Message("program_change", channel=channel, program=program)))
    for beat, long, channel, pitch, velocity in notes:
        start = max(seconds(beat) + draw.normal(0, setting.jitter), 0.0)
        loud = int(np.clip(velocity + draw.normal(0, 5), 20, 127))
        events.append((start, mido.Message("note_on", channel=channel, note=pitch, velocity=loud)))
        stop = max(seconds(beat + long), start + 0.05)
        events.append((stop, mido.Message("note_off", channel=channel, note=pitch)))
    samples = rendered(sorted(events, key=lambda event: event[0]), FONTS[setting.font])
    last = (len(beats) // TUNES[setting.tune].meter) * TUNES[setting.tune].meter
    rests = None if rest is None else (float(beats[rest[0]]), float(beats[rest[1]]))
    return Scored(setting, samples, beats[:last], rests, TUNES[setting.tune].meter)


def heard_after_ms(style: str, font: str) -> float:
    """How long after their beat the notes are heard that a style begins a bar with: a sampled string is silent for some
    milliseconds after the note that asks for it. From the beat to the first frame within 20 dB of what it comes to in
    a fifth of a second; the middle of four keys."""
    draw, found = np.random.default_rng(0), []
    for key in (57, 60, 62, 65):
        stops: list[tuple[float, mido.Message]] = []
        events = [
            (0.0, mido.Message("program_change", channel=channel, program=program))
            for channel, program in enumerate(PROGRAMS[style], start=1)
        ]
        for at, _, channel, pitch, loud in bar_of(STYLES[style], 0, False, key, 4, draw):
            if at == 0:
                events.append((1.0, mido.Message("note_on", channel=channel, note=pitch, velocity=loud)))
                # A note that is held for ever is rendered for ever.
                stops.append((2.0, mido.Message("note_off", channel=channel, note=pitch)))
        events += stops
        loud_at = np.abs(rendered(events, FONTS[font])[RATE : RATE + RATE // 5])
        found.append(1000 * int(np.argmax(loud_at > 0.1 * loud_at.max())) / RATE)
    return float(np.median(found))


def rendered(events: list[tuple[float, mido.Message]], font: str) -> npt.NDArray[np.float32]:
    ticks = 1000  # a tick is half a millisecond
    track = mido.MidiTrack([mido.MetaMessage("set_tempo", tempo=500_000)])
    before = 0
    for at, message in events:
        now = round(at * 2 * ticks)
        track.append(message.copy(time=now - before))
        before = now
    with tempfile.TemporaryDirectory() as folder:
        midi, sound = Path(folder) / "song.mid", Path(folder) / "song.wav"
        mido.MidiFile(ticks_per_beat=ticks, tracks=[track]).save(midi)
        words = ["fluidsynth", "-ni", "-q", "-g", "0.6", "-r", str(RATE), "-F", str(sound), font, str(midi)]
        subprocess.run(words, check=True, capture_output=True, timeout=120)
        samples, _ = soundfile.read(sound, dtype="float32", always_2d=True)
    return np.ascontiguousarray(samples.mean(axis=1))
