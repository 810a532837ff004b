"""Walls that are danced as the sheet stands: those that a lesson may teach its sections by."""

from __future__ import annotations

from fractions import Fraction

from caller.dance.walls import Dance, Stretch, Wall


def is_plain(wall: Wall) -> bool:
    """Whether nothing but its sections is danced in a wall, as the sheet has them."""
    return not wall.events


def plain_end(wall: Wall) -> Fraction:
    """Where a wall's first event begins, or the wall ends."""
    return min((wall.at + event.after for event in wall.events), default=wall.end)


def model_walls(dance: Dance) -> tuple[Wall, ...]:
    """The wall on which each part is taught, in the order danced: the first of that part whose sections are as the
    sheet has them, else its first."""
    models: dict[str, Wall] = {}
    for wall in dance.walls:
        known = models.get(wall.part)
        if known is None or (not sections_whole(known) and sections_whole(wall)):
            models[wall.part] = wall
    return tuple(models.values())


def sections_whole(wall: Wall) -> bool:
    """Whether nothing happens in a wall before its sections are over."""
    return is_plain(wall) or (all(event.kind == "tag" for event in wall.events) and after_sections(wall))


def sections_of(wall: Wall) -> tuple[Stretch, ...]:
    return tuple(stretch for stretch in wall.stretches if stretch.section and stretch.counts)


def plain_runs(dance: Dance) -> tuple[tuple[Wall, Wall, Fraction], ...]:
    """Runs of walls that nothing comes between: first wall, last wall, and where the run ends (a tag after the last
    wall's sections is left out). They go on until every facing the routine has has come once."""
    runs: list[tuple[Wall, Wall, Fraction]] = []
    faced: set[int] = set()
    opened: Wall | None = None
    for wall in dance.walls:
        whole = is_plain(wall) or (wall.events[0].kind == "tag" and after_sections(wall))
        if whole:
            opened = opened or wall
            faced.add(wall.starts.eighths)
        if opened and not (whole and is_plain(wall)):
            before = wall if whole else dance.walls[wall.number - 2]
            runs.append((opened, before, plain_end(before)))
            opened = None
        if len(faced) >= (dance.routine.header.walls or 4) and opened:
            break
    if opened:
        last = wall if is_plain(wall) else opened
        runs.append((opened, last, last.end))
    return tuple(runs)


def after_sections(wall: Wall) -> bool:
    """Whether the first event comes once all sections are danced."""
    at = plain_end(wall)
    return all(s.at + s.counts <= at for s in sections_of(wall))
