"""Songs with known beats: tunes long out of copyright, set for a band and rendered by fluidsynth with a free sound font.

Conventions: beats in seconds of the rendered sound; a tempo curve is told beat by beat, and every note is placed on it.
The tunes are traditional or of the 19th century (Stephen Foster), written down from memory. On Debian:
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
    "susanna": _read(
        4,
        62,
        "4:1 7:1 7:1.5 9:.5 7:1 4:1 0:1.5 2:.5 4:1 4:1 2:1 0:1 2:3 0:.5 2:.5 4:1 7:1 7:1.5 9:.5 7:1 4:1 0:1.5 2:.5 "
        "4:1 4:1 2:1 2:1 0:4 5:2 5:2 9:1 9:2 9:1 7:1 7:1 4:1 0:1 2:3 0:.5 2:.5 4:1 7:1 7:1.5 9:.5 7:1 4:1 0:1.5 2:.5 "
        "4:1 4:1 2:1 2:1 0:4",
        "I I I V I I V I IV IV I V I I V I",
    ),
    "saints": _read(
        4,
        65,
        "r:1 0:1 4:1 5:1 7:4 r:1 0:1 4:1 5:1 7:4 r:1 0:1 4:1 5:1 7:2 4:2 0:2 4:2 2:4 r:1 4:1 4:1 2:1 0:3 0:1 4:2 7:2 "
        "7:1 5:3 r:1 4:1 5:1 r:1 7:2 4:2 0:2 2:2 0:4",
        "I I I I I I V V I I IV IV I V I I",
    ),
    "races": _read(
        4,
        60,
        "7:1 7:1 4:1 7:1 9:1 7:1 4:2 r:1 4:1 2:2 r:1 4:1 2:2 7:1 7:1 4:1 7:1 9:1 7:1 4:2 2:1.5 4:.5 2:1 0:1 0:4 "
        "0:1.5 0:.5 4:1 7:1 12:4 9:1.5 9:.5 12:1 9:1 7:4",
        "I I V V I I V I I I IV I",
    ),
    "house": _read(
        4,
        57,
        "0:1 0:1 3:1 7:1 5:1.5 3:.5 7:2 12:1 12:1 10:1 7:1 5:1 3:1 7:2 0:.5 0:.5 0:1 3:1 7:1 12:2 10:2 7:1 3:1 2:1 0:1 0:4",
        "i III IV VII i III v i",
    ),
    "sleeves": _read(
        3,
        57,
        "0:1 3:2 5:1 7:1.5 8:.5 7:1 5:2 2:1 -2:1.5 0:.5 2:1 3:2 0:1 0:1.5 -1:.5 0:1 2:2 -1:1 -5:2 0:1 3:2 5:1 7:1.5 8:.5 "
        "7:1 5:2 2:1 -2:1.5 0:.5 2:1 3:1.5 2:.5 0:1 -1:1.5 -3:.5 -1:1 0:3 0:2",
        "i i VII VII i i V V i i VII VII i V i i",
    ),
    "grace": _read(
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


def _bar(style: str, root: int, minor: bool, key: int, meter: int, draw: np.random.Generator) -> Iterator[Note]:
    """A bar of accompaniment, its eighths straight."""
    bass, third, fifth = ((key + root) % 12 + 36 + up for up in (0, 3 if minor else 4, 7))
    chord = _chord((key + root) % 12, minor, 52)

    def strum(at: float, long: float, velocity: int, channel: int = 1) -> Iterator[Note]:
        for n, pitch in enumerate(chord):
            yield at + 0.01 * n, long, channel, pitch, velocity

    def drum(at: float, key_: int, velocity: int) -> Note:
        return at, 0.2, DRUMS, key_, velocity

    beats = range(meter)
    if style == "rock":
        yield from ((at, 0.9, 2, pitch, 95) for at, pitch in ((0, bass), (1.5, bass), (2, fifth), (3.5, bass)))
        yield from (drum(at, KICK, 100) for at in (0, 2, 2.5))
        yield from (drum(at, SNARE, 95) for at in (1, 3))
        yield from (drum(n / 2, HAT, 70 if n % 2 == 0 else 50) for n in range(8))
        for at in (0.5, 1.5, 2.5, 3.5):
            yield from strum(at, 0.4, 70)
    elif style == "country":
        yield from ((at, 0.9, 2, pitch, 95) for at, pitch in ((0, bass), (2, fifth)))
        for at in (1, 3):
            yield from strum(at, 0.4, 80)
            yield drum(at, SIDE, 80)
        yield from strum(1.5, 0.3, 50)
        yield from strum(3.5, 0.3, 50)
        yield from (drum(n / 2, SHAKER, 60 if n % 2 else 40) for n in range(8))
    elif style == "disco":
        yield from (drum(at, KICK, 105) for at in beats)
        yield from (drum(at + 0.5, OPEN_HAT, 95) for at in beats)
        yield from (drum(at, SNARE, 90) for at in (1, 3))
        yield from ((n / 2, 0.4, 2, bass + 12 * (n % 2), 90) for n in range(8))
        yield from strum(0, 3.8, 60, 3)
        yield from strum(0.75, 0.3, 75)
    elif style == "swing":
        walk = (bass, third, fifth, int(draw.choice([third, fifth + 2, bass + 12])))
        yield from ((at, 0.9, 2, pitch, 90) for at, pitch in enumerate(walk))
        yield from (drum(at, RIDE, 80) for at in (0, 1, 1.5, 2, 3, 3.5))
        yield from (drum(at, 44, 80) for at in (1, 3))
        yield from strum(1.5, 0.4, 60)
    elif style == "latin":
        yield from ((at, 0.7, 2, pitch, 95) for at, pitch in ((0, bass), (1.5, fifth), (2.5, bass), (3, fifth)))
        yield from (drum(at, CONGA, 85) for at in (1, 3, 3.5))
        yield from (drum(n / 2, SHAKER, 70 if n % 2 == 0 else 55) for n in range(8))
        yield from (drum(at, SIDE, 80) for at in (0, 1.5, 3))
        yield from (drum(at, KICK, 80) for at in (0, 2))
        for at in (0, 1, 1.5, 2.5, 3.5):
            yield from strum(at, 0.4, 65)
    elif style == "ballad":
        yield from ((at, 1.8, 2, pitch, 85) for at, pitch in ((0, bass), (2, fifth)))
        yield drum(0, KICK, 90)
        yield drum(2.5, KICK, 70)
        yield from (drum(at, SNARE, 75) for at in (1, 3))
        yield from (drum(n / 4, HAT, 60 if n % 4 == 0 else 38) for n in range(16))
        yield from strum(0, 3.8, 55, 3)
        yield from ((n / 2, 0.5, 1, chord[n % 3], 60) for n in range(8))
    elif style == "folk":
        notes = [bass + 12, *chord]
        yield from ((n / 2, 0.6, 1, notes[(0, 2, 3, 1, 2, 3, 1, 2)[n]], 85 if n == 0 else 65) for n in range(2 * meter))
    elif style == "waltz":
        yield 0, 0.9, 2, bass, 95
        yield drum(0, KICK, 80)
        for at in range(1, meter):
            yield from strum(at, 0.5, 65)
            yield drum(at, HAT, 55)
    elif style == "strings":
        yield from strum(0, meter * 0.95, 70, 3)
        yield 0, meter * 0.9, 2, bass, 80


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
    Setting("susanna", "rock", 118),
    Setting("saints", "swing", 140),
    Setting("races", "country", 108),
    Setting("house", "disco", 122, font="tim"),
    Setting("saints", "latin", 104),
    Setting("susanna", "ballad", 76, font="tim"),
    Setting("races", "folk", 96),
    Setting("sleeves", "waltz", 96),
    Setting("grace", "waltz", 84, font="tim"),
    Setting("sleeves", "folk", 108),
    Setting("susanna", "country", 172),
    Setting("saints", "swing", 188, font="tim"),
    Setting("susanna", "rock", 118, wave=0.01),
    Setting("races", "country", 108, wave=0.02, jitter=0.01),
    Setting("saints", "swing", 140, wave=0.03, jitter=0.01),
    Setting("house", "disco", 122, wave=0.04, font="tim"),
    Setting("sleeves", "waltz", 96, wave=0.03),
    Setting("races", "folk", 96, wave=0.04, jitter=0.012),
    Setting("house", "ballad", 80, wave=0.04, jitter=0.01),
    Setting("saints", "latin", 104, wander=0.02, font="tim"),
    Setting("susanna", "country", 160, wander=0.04, jitter=0.012),
    Setting("house", "rock", 96, wander=0.03, jitter=0.01),
    Setting("susanna", "rock", 118, break_bars=2),
    Setting("races", "country", 108, break_bars=2, still=True),
    Setting("saints", "swing", 140, break_bars=4),
    Setting("sleeves", "waltz", 96, break_bars=2, still=True, font="tim"),
    Setting("house", "disco", 122, break_bars=4, wave=0.02),
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
        found += [(bar * tune.meter + at, *more) for at, *more in _bar(style, root, minor, tune.key, tune.meter, draw)]
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
        if swung and 0 < part:
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
    samples = _rendered(sorted(events, key=lambda event: event[0]), FONTS[setting.font])
    last = (len(beats) // TUNES[setting.tune].meter) * TUNES[setting.tune].meter
    rests = None if rest is None else (float(beats[rest[0]]), float(beats[rest[1]]))
    return Scored(setting, samples, beats[:last], rests, TUNES[setting.tune].meter)


def _rendered(events: list[tuple[float, mido.Message]], font: str) -> npt.NDArray[np.float32]:
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
