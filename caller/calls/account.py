"""What a plan shortens and leaves out, and why, in a teacher's words.

Conventions: one sentence for each thing that happens, however often it does, with the walls it happens in; times in
seconds.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from caller.calls.plan import CallKind, Lexicon
from caller.calls.sayings import BREATH_SECONDS
from caller.calls.take import Take


def account(take: Take, lexicon: Lexicon) -> tuple[str, ...]:
    """What is not said as fully as it might be: calls shortened, hurried, left out. lexicon: what it was planned by."""
    return (*_left_out(take), *_shortened(take, lexicon), *_hurried(take), *_count_in(take))


def _left_out(take: Take) -> list[str]:
    found: dict[tuple[str, str, str], list[int]] = defaultdict(list)
    said = {call.cue for call in take.plan.calls}
    for drop in take.plan.dropped:
        if drop.cue.kind is not CallKind.COUNT_IN:
            what = "late" if drop.cue in said else "not called"
            found[what, drop.cue.wordings[0], drop.why].append(drop.cue.wall)
    return [f'{what}: "{words}" ({_walls(walls)}): {why}' for (what, words, why), walls in found.items()]


def _shortened(take: Take, lexicon: Lexicon) -> list[str]:
    found: dict[tuple[str, str], list[tuple[int, float]]] = defaultdict(list)
    calls, rate = take.plan.calls, take.timeline.rate
    for before, call, after in zip((None, *calls), calls, (*calls[1:], None), strict=False):
        full = call.cue.wordings[0]
        if call.utterance.words != full:
            room = (after.starts if after else call.due) - (before.ends if before else 0)
            utterance = lexicon.utterance(full, 1.0)
            if utterance is not None and utterance.frames + 2 * BREATH_SECONDS * rate <= room:
                continue  # chosen, not forced
            found[call.utterance.words, full].append((call.cue.wall, room / rate))
    return [
        f'shortened: "{words}" for "{full}" ({_walls(wall for wall, _ in where)}): '
        f"{_length(full, lexicon, rate)}, and {min(room for _, room in where):.1f} s lie between the calls round it"
        for (words, full), where in found.items()
    ]


def _length(words: str, lexicon: Lexicon, rate: int) -> str:
    utterance = lexicon.utterance(words, 1.0)
    if utterance is None:
        return "the voice can't say that"
    return f"that takes {utterance.frames / rate:.1f} s and a breath on each side"


def _hurried(take: Take) -> list[str]:
    found: dict[tuple[str, float], list[int]] = defaultdict(list)
    for call in take.plan.calls:
        if call.utterance.speed > 1 and call.cue.kind is not CallKind.COUNT_IN:
            found[call.utterance.words, call.utterance.speed].append(call.cue.wall)
    return [
        f'hurried: "{words}" at {speed} times the voice\'s pace ({_walls(walls)}): nothing shorter tells as much'
        for (words, speed), walls in found.items()
    ]


def _count_in(take: Take) -> list[str]:
    return [f"no count-in is said: {drop.why}" for drop in take.plan.dropped if drop.cue.kind is CallKind.COUNT_IN][:1]


def _walls(numbers: Iterable[int]) -> str:
    """ "wall 2", "walls 1 to 4, 6"."""
    rows: list[list[int]] = []
    for number in sorted(set(numbers)):
        if rows and rows[-1][-1] == number - 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    told = [str(row[0]) if len(row) == 1 else f"{row[0]} to {row[-1]}" for row in rows]
    return f"wall{'' if len(rows) == 1 and len(rows[0]) == 1 else 's'} {', '.join(told)}"
