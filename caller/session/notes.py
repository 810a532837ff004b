"""What is told beside the dance: notices, and how sound, voice and pedal are.

Conventions: sentences end with a full stop; what is missing is told once, however often it is looked at.
"""

from __future__ import annotations

from caller.session.desk import Desk
from caller.sound.speaker import Health, Heard
from caller.transport.context import Effect

MOST_NOTICES = 60


class Notes:
    """notices: oldest first, the last ones only; answers: those of the last order."""

    def __init__(self, desk: Desk) -> None:
        self.notices: tuple[str, ...] = ()
        self.answers: tuple[str, ...] = ()
        self._desk = desk
        self._missing: set[str] = set()

    def say(self, sentence: str) -> None:
        self.notices = (*self.notices, sentence)[-MOST_NOTICES:]

    def answer(self, *sentences: str) -> None:
        """What is said to an order."""
        self.answers = sentences
        for sentence in sentences:
            self.say(sentence)

    def tell(self, heard: Heard) -> None:
        """What is missing, or being made ready, each sentence once."""
        fault = heard.fault if heard.health is Health.LOST else ""
        pedal = self._desk.pedal.says
        missing = f"Pedal: {pedal}." if pedal.startswith("none") else ""
        music = "".join(f"{words.capitalize()}." for words in music_words(self._desk))
        for sentence in (fault, self._desk.voice.why, self._desk.voice.note, missing, music):
            if sentence and sentence not in self._missing:
                self._missing.add(sentence)
                self.say(sentence)


def sound_words(heard: Heard) -> str:
    """How the sound is, as a short phrase."""
    return heard.fault or f"on {heard.device}"


def music_words(desk: Desk) -> tuple[str, ...]:
    """How the music is, where that is worth a phrase."""
    return (f"music: {desk.music.says}",) if desk.music is not None and desk.music.says else ()


def late_voice_words(desk: Desk, effect: Effect) -> tuple[str, ...]:
    """What a start has to say where the first calls are not made yet: the count track waits for no voice."""
    starts = effect in (Effect.START, Effect.WHEN_READY)
    late = starts and not (desk.voice.why or desk.preparing.done or desk.preparing.batches)
    return ("The voice is still getting ready: until it is, calls are shown, not said.",) if late else ()


def voice_words(desk: Desk) -> str:
    """How the voice is, as a short phrase."""
    if desk.voice.why:
        return desk.voice.why
    done, of = desk.preparing.progress
    if desk.preparing.done:
        return "ready"
    return f"getting ready, {done} of {of}" if done < of else "getting ready"  # what else there is, isn't known yet
