"""A recorded voice's file in the teacher's own folder, made when it is first wanted."""

from __future__ import annotations

import re
from pathlib import Path

from caller.rig.speech.recorded import folder_of
from caller.rig.speech.sources import RECORDED
from caller.rig.speech.stand_ins import voice_or_stand_in
from caller.rig.speech.voices import STANDARD, NoSuchVoice, Voice, find_voice, voice_folders

_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")

_FILE = """# Recorded words are in the folder of this name beside it, one file each.
title = "{name}"
engine = "recorded"
like = "standard"        # how words are written out before they are said
otherwise = "standard"   # who says what is not recorded
"""


class NoOwnVoice(ValueError):
    """No voice can be recorded under that name: one sentence."""


def own_voice(name: str, folders: tuple[Path, ...] | None = None) -> Voice:
    """The recorded voice of that name; where there is none, as it would be in the last of ``folders``. Writes nothing.
    Raises NoOwnVoice."""
    shipped_and_own = folders or voice_folders()
    if not _NAME.fullmatch(name):
        raise NoOwnVoice(f'A voice is named by small letters, figures and dashes, not "{name}".')
    path = shipped_and_own[-1] / f"{name}.toml"
    try:
        voice = find_voice(name, shipped_and_own)
    except NoSuchVoice as fault:
        if path.exists():
            raise NoOwnVoice(str(fault)) from fault
        like = voice_or_stand_in(STANDARD, shipped_and_own)[0]
        return Voice(
            name, name, RECORDED, like.rate, says=like.says, otherwise=like.name, recordings=path.parent / name
        )
    if voice.engine != RECORDED:
        raise NoOwnVoice(f'There is a voice called "{name}" already, not a recorded one: choose another name.')
    return voice


def keep_own_voice(voice: Voice) -> None:
    """Write the file of a recorded voice where there is none yet. Raises NoOwnVoice where it can't be written."""
    path = folder_of(voice).with_suffix(".toml")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(_FILE.format(name=voice.name))
    except FileExistsError:
        return
    except OSError as fault:
        raise NoOwnVoice(f"{path} can't be written ({(fault.strerror or str(fault)).lower()}).") from fault
