"""What went well in a practice alone, as its dancer says: noted, left, or taken back. Pure."""

from __future__ import annotations

from dataclasses import replace

from caller.teaching.running import Running, at_start, often


def went_well(running: Running) -> Running:
    """The stage is left: at once where it has been danced, else once its go under way is done. Said twice, it is noted
    once."""
    noted = _noted_well(running)
    return at_start(noted, noted.index + 1) if noted.waiting else often(noted, noted.goes + 1)


def left_well(running: Running) -> Running:
    """The stage is left, and waits with what comes next."""
    return replace(_noted_well(running), waiting=True)


def _noted_well(running: Running) -> Running:
    return running if running.index in running.well else replace(running, well=(*running.well, running.index))


def not_well(running: Running) -> Running:
    """Back at the stage that was last said to have gone well, from its start: it did not."""
    *well, index = running.well
    return at_start(replace(running, well=tuple(well)), index)
