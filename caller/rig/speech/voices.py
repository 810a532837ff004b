"""Voices as written down: one TOML file a voice, shipped or the teacher's own.

Conventions: rate is words a minute, pitch 0 to 99 (50 = the voice's own), gain dB. A file is read without raising: a
voice, or None and the complaints, each with its place. A voice of the teacher's own hides a shipped one of the same
name.

    title = "Hall"
    like = "standard"       # what is not told here is as it is there
    engine = "pyttsx3"
    rate = 160
    pitch = 58
    gain_db = 0.0
    over_noise = true       # made to carry over noise, no louder; false = as the synthesiser speaks

    otherwise = "standard"  # who speaks where this voice can't

    # By platform ("any" = the rest): an id that `caller voices --ids` shows, a language ("en"), or "" for the system's
    # own. A voice like another takes over its ids only where the engine is the same.
    [voice]
    linux = "gmw/en-us"

    [says]                  # as written = as spoken
    "1/4" = "quarter"

A voice whose engine is "recorded" speaks from the folder beside its file that has its name.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from caller.outside import documents
from caller.outside.numbers import shown
from caller.rig.speech.sources import RECORDED, SOURCES
from caller.rig.speech.speakable import speakable
from caller.routine.findings import NOWHERE, Place

ENGINES = (*SOURCES, RECORDED)
PLATFORMS = {"linux": "linux", "darwin": "macos", "win32": "windows"}
ANY = "any"
STANDARD = "standard"
MOST_BYTES = 200_000
MOST_LIKE = 20

# Key, kind wanted, least, most.
_NUMBERS: tuple[tuple[str, type[int] | type[float], float, float], ...] = (
    ("rate", int, 80, 260),
    ("pitch", int, 0, 99),
    ("gain_db", float, -12.0, 12.0),
)
_WORDS = ("title", "like", "otherwise")
_KEYS = ("title", "like", "engine", "otherwise", "rate", "pitch", "gain_db", "over_noise", "voice", "says")


class NoSuchVoice(LookupError):
    """One sentence: the voice asked for, and those on hand; or why its file can't be read."""


@dataclass(frozen=True, slots=True)
class Voice:
    """name: its file's stem. ids: platform ("linux", "macos", "windows", "any") to the synthesiser's own name for it.
    otherwise: the voice that speaks where it can't, or "". recordings: the folder of a recorded voice. over_noise: made
    to carry over noise, no louder."""

    name: str
    title: str
    engine: str = "pyttsx3"
    rate: int = 175
    pitch: int = 50
    gain_db: float = 0.0
    ids: Mapping[str, str] = field(default_factory=dict)
    says: Mapping[str, str] = field(default_factory=dict)
    otherwise: str = ""
    recordings: Path | None = None
    over_noise: bool = True

    def id_on(self, platform: str = sys.platform) -> str:
        """The synthesiser's name for it on a ``sys.platform``; "" = the system's own voice."""
        return self.ids.get(PLATFORMS.get(platform, "linux"), self.ids.get(ANY, ""))

    def spoken(self, words: str) -> str:
        """The words as they go to the synthesiser: those in ``says`` replaced (whole words, any case, the longest
        first, once), then plain. "" where nothing can be said."""
        if not self.says:
            return speakable(words)
        spoken_of = {written.casefold(): spoken for written, spoken in self.says.items()}
        longest_first = sorted(self.says, key=lambda written: (-len(written), written))
        written = "|".join(re.escape(word) for word in longest_first)
        # A figure inside a longer one ("1/4" in "11/4", "7:30" in "17:30") is not that word.
        pattern = rf"(?<![\w/:])(?:{written})(?![\w/:])"
        # "ı" and "İ" count as "i" for the pattern, not for casefold: such a word stays as written.
        found = re.compile(pattern, re.IGNORECASE)
        return speakable(found.sub(lambda met: spoken_of.get(met[0].casefold(), met[0]), words))


@dataclass(frozen=True, slots=True)
class Complaint:
    """What is wrong with a voice's file. place.line 0 = nowhere in particular."""

    file: str
    place: Place
    message: str

    def __str__(self) -> str:
        where = f", line {self.place.line}" if self.place.line else ""
        return f"{self.file}{where}: {self.message}"


@dataclass(frozen=True, slots=True)
class VoiceFile:
    """A voice's file as read. voice: None where the complaints leave none."""

    path: Path
    voice: Voice | None
    complaints: tuple[Complaint, ...]


def parse_voice(
    text: str, name: str, file: str = "", find: Callable[[str], Voice | None] = lambda name: None
) -> tuple[Voice | None, tuple[Complaint, ...]]:
    """A voice from a TOML text; never raises. None, and at least one complaint, where it can't be used.

    find: the voice of a name that it may be ``like``.
    """
    file = file or f"{name}.toml"
    try:
        table = documents.toml(text)
    except documents.Unreadable as fault:
        return None, (Complaint(file, _place_told(str(fault)), f"{fault}."),)
    like = find(str(table["like"])) if "like" in table else Voice(name, name)
    met = [found for check in _CHECKS for found in check(table)]
    if like is None:
        met.append(("like", f"there is no sound voice {shown(table['like'])} to be like."))
    lines = text.splitlines()
    complaints = tuple(Complaint(file, _place_of(key, lines), message) for key, message in met)
    return (None if complaints or like is None else _voice(name, table, like)), complaints


def _why(fault: Exception) -> str:
    return getattr(fault, "strerror", None) or str(fault)


def read_voice(path: Path, others: Mapping[str, Path] | None = None, depth: int = MOST_LIKE) -> VoiceFile:
    """A voice's file; an unreadable one is a complaint too. others: files of the voices it may be like, by
    name. depth: how many may be like one another in turn."""
    try:
        text = documents.read_text(path, MOST_BYTES)
    except (OSError, documents.Unreadable) as fault:
        complaint = Complaint(path.name, NOWHERE, f"it can't be read ({_why(fault)}); save it as UTF-8 text.")
        return VoiceFile(path, None, (complaint,))
    rest = {name: other for name, other in (others or {}).items() if other != path} if depth else {}

    def find(name: str) -> Voice | None:
        return read_voice(rest[name], rest, depth - 1).voice if name in rest else None

    voice, complaints = parse_voice(text, path.stem, path.name, find)
    if voice is not None and voice.engine == RECORDED:
        voice = replace(voice, recordings=path.with_suffix(""))
    return VoiceFile(path, voice, complaints)


def voice_folders() -> tuple[Path, ...]:
    """The shipped voices' folder (in a wheel or a checkout), then the teacher's own; a folder may be missing."""
    import platformdirs

    package = Path(__file__).resolve().parents[2]
    shipped = package / "shipped" / "voices"
    own = Path(platformdirs.user_config_dir("caller"), "voices")
    return (shipped if shipped.is_dir() else package.parent / "voices", own)


def voices_on_hand(folders: Iterable[Path] | None = None) -> tuple[VoiceFile, ...]:
    """All voice files by name; where two folders have one of the same name, the later folder's."""
    paths: dict[str, Path] = {}
    for folder in voice_folders() if folders is None else folders:
        paths |= {path.stem: path for path in folder.glob("*.toml")}
    return tuple(read_voice(paths[name], paths) for name in sorted(paths))


def find_voice(name: str = STANDARD, folders: Iterable[Path] | None = None) -> Voice:
    """The voice of that name (its file's stem). Raises NoSuchVoice."""
    on_hand = {file.path.stem: file for file in voices_on_hand(folders)}
    if name not in on_hand:
        known = ", ".join(on_hand) or "none"
        raise NoSuchVoice(f'There is no voice called "{name}"; those on hand: {known}.')
    file = on_hand[name]
    if file.voice is None:
        raise NoSuchVoice(str(file.complaints[0]))
    return file.voice


def _voice(name: str, table: Mapping[str, Any], like: Voice) -> Voice:
    engine = table.get("engine", like.engine)
    return Voice(
        name,
        title=table.get("title", name),
        engine=engine,
        rate=table.get("rate", like.rate),
        pitch=table.get("pitch", like.pitch),
        gain_db=float(table.get("gain_db", like.gain_db)),
        ids=MappingProxyType({**(like.ids if like.engine == engine else {}), **table.get("voice", {})}),
        says=MappingProxyType({**like.says, **table.get("says", {})}),
        otherwise=table.get("otherwise", like.otherwise),
        over_noise=table.get("over_noise", like.over_noise),
    )


# The checks: each yields (key it is about, sentence).
def _unknown_keys(table: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    for key in table:
        if key not in _KEYS:
            yield key, f'"{key}" means nothing here; known: {", ".join(_KEYS)}.'


def _wrong_numbers(table: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    for key, kind, least, most in _NUMBERS:
        met = table.get(key, least)
        right = isinstance(met, int | float if kind is float else int) and not isinstance(met, bool)
        if not right or not least <= met <= most:
            number = "a whole number" if kind is int else "a number"
            yield key, f"{key} must be {number} from {least:g} to {most:g}, not {shown(met)}."


def _wrong_choices(table: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    if not isinstance(table.get("over_noise", True), bool):
        yield "over_noise", f"over_noise must be true or false, not {table['over_noise']!r}."


def _wrong_words(table: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    for key in _WORDS:
        if not isinstance(table.get(key, ""), str):
            yield key, f"{key} must be words in quotes, not {shown(table[key])}."
    if table.get("engine", ENGINES[0]) not in ENGINES:
        yield "engine", f"engine must be one of {', '.join(ENGINES)}, not {shown(table['engine'])}."


def _wrong_tables(table: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    platforms = (*PLATFORMS.values(), ANY)
    for name, known in (("voice", platforms), ("says", None)):
        entries = table.get(name, {})
        if not isinstance(entries, dict):
            yield name, f"{name} must be a table, [{name}], not {shown(entries)}."
            continue
        for key, met in entries.items():
            if known and key not in known:
                yield key, f'"{key}" is no platform; known: {", ".join(known)}.'
            elif not isinstance(met, str):
                yield key, f"{key} must be words in quotes, not {shown(met)}."
            elif name == "says" and not (key.strip() and speakable(met)):
                yield key, f'"{key}" needs words that can be said, not {shown(met)}.'


_CHECKS = (_unknown_keys, _wrong_numbers, _wrong_choices, _wrong_words, _wrong_tables)


def _place_told(fault: str) -> Place:
    """The place in a message of tomllib's, which ends "(at line 3, column 5)"."""
    told = re.search(r"line (\d+), column (\d+)", fault)
    return Place(int(told[1]), int(told[2])) if told else NOWHERE


def _place_of(key: str, lines: list[str]) -> Place:
    """Where a key stands: the first line that begins with it, in quotes, brackets or plain."""
    pattern = re.compile(rf"""\s*[\["']*{re.escape(key)}["'\]]*\s*(=|$|#)""")
    return next((Place(number) for number, line in enumerate(lines, 1) if pattern.match(line)), NOWHERE)
