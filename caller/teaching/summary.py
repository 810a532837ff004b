"""What was done of a programme, as it is said at its end."""

from __future__ import annotations

from caller.calls.plan import Manner
from caller.calls.wording import spoken_number
from caller.teaching.running import Running


def summary_of(running: Running) -> tuple[str, ...]:
    """In a few spoken sentences: how much, how fast, how much of it without calls."""
    goes = [go for go in running.done if go.stage.danced]
    if not goes:
        return ("nothing was danced this time.",)
    tempos = [round(running.programme.tempo * go.speed) for go in goes]
    slow, fast = (spoken_number(min(t, 999)) for t in (min(tempos), max(tempos)))
    pace = f"at {slow}" if slow == fast else f"from {slow} up to {fast}"
    alone = sum(go.manner in (Manner.QUIET, Manner.PROMPTS) for go in goes)
    times = f"{spoken_number(min(len(goes), 999))} go{'es' if len(goes) > 1 else ''}"
    said = [f"{running.programme.title}: {times}, {pace} counts a minute."]
    if alone:
        said.append(f"{spoken_number(min(alone, 999))} of them without the steps being called.")
    slowed = sum(not go.clean for go in goes)
    said.append(
        "every one of them clean." if not slowed else f"{spoken_number(min(slowed, 999))} with a stop or slower."
    )
    return tuple(said)
