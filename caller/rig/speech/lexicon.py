"""What the voice can say, with measured lengths: the lexicon the call plan asks, and the clips the score is made of.

Conventions: frames at ``caller.sound.score.RATE``; speeds are factors on the voice's rate in words a minute.
``prepare`` makes, in one go, all that will be asked for; from then on :meth:`SpokenLexicon.utterance` and
:meth:`SpokenLexicon.clip` only look up, and never wait.

A quicker phrase is spoken quicker by the synthesiser, not squeezed afterwards: a synthesiser shortens vowels and
pauses as a speaker does and leaves the consonants, which carry the words, alone; squeezing shortens all alike and
blurs them. It also leaves the pitch as it is, and costs nothing.

Threads: ``prepare`` may run in a background thread while another thread looks up. Finished phrases are published as a
whole new dict put in the place of the old one, which nobody changes any more: a reader sees the one or the other,
never half of one, and needs no lock.
"""

from __future__ import annotations

import contextlib
import json
import sys
import threading
from collections import deque
from collections.abc import Callable, Generator, Iterable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from caller.calls.plan import Utterance
from caller.rig.shelf import Shelf
from caller.rig.speech.polish import FORMAT, Polished, packed, polish, unpacked
from caller.rig.speech.recording import Recording
from caller.rig.speech.stand_ins import cast_of
from caller.rig.speech.synthesiser import Request, Synthesiser
from caller.rig.speech.voices import Voice
from caller.rig.speech.voicing import Unspoken, Voiceless
from caller.sound.score import Clip

Phrase = tuple[str, float]
# The sound of a phrase to come, and the identity that it is made under.
Rendering = Future[tuple[Recording, str]]
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Spoken:
    """A phrase, said: its measures for the plan, its sound for the score."""

    utterance: Utterance
    clip: Clip


@dataclass(frozen=True, slots=True)
class Prepared:
    """What one ``prepare`` did. rendered: by the synthesiser; kept: found on the shelf. unsaid: words that can't be
    said, each once, with the reason. why: "" or one sentence on why there is no more speech. note: "" or one sentence
    on who speaks in the voice's place."""

    rendered: int
    kept: int
    unsaid: Mapping[str, str]
    why: str = ""
    note: str = ""


class SilentLexicon:
    """No voice: whatever is asked, it can't be said. why: one sentence."""

    note = ""
    shelf_fault = ""

    def __init__(self, why: str) -> None:
        self.why = why

    def utterance(self, words: str, speed: float) -> Utterance | None:
        return None

    def clip(self, words: str, speed: float) -> Clip | None:
        return None

    def prepare(self, phrases: Iterable[Phrase], progress: Progress | None = None) -> Prepared:
        return Prepared(0, 0, {}, self.why)

    def wake(self) -> None: ...

    def close(self) -> None: ...


class SpokenLexicon:
    """One voice. why: "" or one sentence on why it has fallen silent (what it has is still said).

    note: "" or one sentence on who spoke in its place from the start.
    """

    def __init__(
        self, voice: Voice, synthesiser: Synthesiser, shelf: Shelf, platform: str = sys.platform, note: str = ""
    ) -> None:
        self.voice = voice
        self.why = ""
        self._note = note
        self._synthesiser = synthesiser
        self._shelf = shelf
        self._id = voice.id_on(platform)
        self._spoken: Mapping[Phrase, Spoken] = {}
        self._unsaid: dict[Phrase, str] = {}
        self._preparing = threading.Lock()

    @property
    def phrases(self) -> Mapping[Phrase, Spoken]:
        """All that is prepared so far; never changed once taken. Any thread."""
        return self._spoken

    @property
    def note(self) -> str:
        """Empty, or one sentence on who speaks in the voice's place. Any thread."""
        return self._note or self._synthesiser.note

    @property
    def shelf_fault(self) -> str:
        """Empty, or one sentence on why speech is not kept between runs."""
        return self._shelf.fault

    def utterance(self, words: str, speed: float) -> Utterance | None:
        """The measures of words at a speed. None where they were not prepared or can't be said. Any thread; never
        waits."""
        spoken = self._spoken.get((words, speed))
        return spoken.utterance if spoken else None

    def clip(self, words: str, speed: float) -> Clip | None:
        """The sound of words; None exactly where there is no utterance. Any thread; never waits."""
        spoken = self._spoken.get((words, speed))
        return spoken.clip if spoken else None

    def prepare(self, phrases: Iterable[Phrase], progress: Progress | None = None) -> Prepared:
        """Make all of ``phrases`` (words, speed) that are not there yet, from the shelf or else the synthesiser.

        progress: told (done, of how many) after each, in the calling thread. Waits for the synthesiser, some 20 ms a
        phrase on Linux; a second caller waits for the first. Never raises for want of speech: see :class:`Prepared`.
        """
        with self._preparing:
            missing = [phrase for phrase in dict.fromkeys(phrases) if self._is_new(phrase)]
            kept = {phrase: spoken for phrase in missing if (spoken := self._from_shelf(phrase))}
            self._publish(kept)
            tell = progress or (lambda done, total: None)
            if kept:
                tell(len(kept), len(missing))
            rendered = 0
            with contextlib.closing(self._renderings([phrase for phrase in missing if phrase not in kept])) as left:
                for done, (phrase, recording) in enumerate(left, len(kept) + 1):
                    if not self._make(phrase, recording):
                        break
                    rendered += phrase in self._spoken
                    tell(done, len(missing))
            return self._told(missing, rendered, len(kept))

    def wake(self) -> None:
        """Starts the synthesiser meanwhile, before it is known what is to be said. Any thread; doesn't wait."""
        threading.Thread(target=self._wake, name="speech", daemon=True).start()

    def _wake(self) -> None:
        with self._preparing:
            self._synthesiser.wake()

    def key_of(self, phrase: Phrase) -> str:
        """The phrase's key on the shelf: all that shapes its sound."""
        return self._key(self._synthesiser.identity(self._request(phrase)))

    def close(self) -> None:
        """End the synthesiser, and a ``prepare`` under way with it. What is prepared stays. Any thread."""
        self._synthesiser.close()

    def _is_new(self, phrase: Phrase) -> bool:
        return phrase not in self._spoken and phrase not in self._unsaid

    def _publish(self, fresh: Mapping[Phrase, Spoken]) -> None:
        """Put a new dict in the old one's place; see the module's head."""
        self._spoken = {**self._spoken, **fresh}

    def _renderings(self, phrases: Iterable[Phrase]) -> Generator[tuple[Phrase, Rendering], None, None]:
        """Each phrase with its recording to come: the next one is spoken while this one is polished."""
        with ThreadPoolExecutor(1, "speech") as ahead:
            waiting: deque[tuple[Phrase, Rendering]] = deque()
            for phrase in phrases:
                waiting.append((phrase, ahead.submit(self._render, phrase)))
                if len(waiting) > 1:
                    yield waiting.popleft()
            yield from waiting

    def _render(self, phrase: Phrase) -> tuple[Recording, str]:
        request = self._request(phrase)
        if not request.text:
            raise Unspoken("There is nothing in it that can be said.")
        return self._synthesiser.render(request)

    def _make(self, phrase: Phrase, rendering: Rendering) -> bool:
        """Polish, keep and publish one phrase, or note why it can't be said. False where there is no more speech."""
        try:
            recording, identity = rendering.result()
            polished = polish(recording, self.voice.gain_db, self.voice.over_noise)
        except Unspoken as fault:
            self._unsaid[phrase] = str(fault)
        except Voiceless as fault:
            self.why = str(fault)
            return False
        else:
            # Under what it was made as: by now another may be standing in.
            self._shelf.put(self._key(identity), *packed(polished))
            self._publish({phrase: _spoken(phrase, polished)})
        return True

    def _told(self, phrases: Iterable[Phrase], rendered: int, kept: int) -> Prepared:
        if rendered:
            self._shelf.tidy()
        unsaid = {phrase: self._unsaid[phrase] for phrase in phrases if phrase in self._unsaid}
        if not self._spoken and not self.why:  # a voice that can say nothing of what was asked
            refused = (why for phrase, why in unsaid.items() if self._request(phrase).text)
            self.why = next(refused, "")
        return Prepared(rendered, kept, {words: why for (words, _), why in unsaid.items()}, self.why, self.note)

    def _from_shelf(self, phrase: Phrase) -> Spoken | None:
        key = self.key_of(phrase)
        item = self._shelf.get(key)
        polished = unpacked(item) if item else None
        if item and polished is None:
            self._shelf.discard(key)
        return _spoken(phrase, polished) if polished else None

    def _request(self, phrase: Phrase) -> Request:
        words, speed = phrase
        return Request(self.voice.spoken(words), self._id, round(self.voice.rate * speed), self.voice.pitch)

    def _key(self, identity: str) -> str:
        return json.dumps(["speech", FORMAT, self.voice.gain_db, self.voice.over_noise, identity])


def open_lexicon(voice: Voice, folder: Path | None = None) -> SpokenLexicon | SilentLexicon:
    """The lexicon of a voice on this machine, kept in ``folder`` (None: the user's cache). Starts nothing yet."""
    cast = cast_of(voice)
    if cast.speaker is None:
        return SilentLexicon(cast.note)
    speaker = cast.speaker
    return SpokenLexicon(speaker.voice, speaker, Shelf(folder or cache_folder()), note=cast.note)


def cache_folder() -> Path:
    """Where speech is kept between runs."""
    import platformdirs

    return Path(platformdirs.user_cache_dir("caller"), "speech")


def _spoken(phrase: Phrase, polished: Polished) -> Spoken:
    words, speed = phrase
    utterance = Utterance(words, speed, len(polished.samples), polished.beat)
    return Spoken(utterance, Clip(polished.key, polished.samples))
