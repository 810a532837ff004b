"""A phrased order names only what is there."""

from __future__ import annotations

from collections.abc import Iterator

from caller.routine.findings import Finding
from caller.routine.parts import OrderItem, Routine


def order(routine: Routine) -> Iterator[Finding]:
    """``order``: an item without its part or tag, a part too short, parts without an order."""
    parts: dict[str, int] = {}
    for section in routine.sections:
        parts[section.part] = parts.get(section.part, 0) + section.passage.counts
    tags = {t.name for t in routine.tags}
    for item in routine.order:
        message = _no_tag(item.tag, tags) if item.tag is not None else _no_part(item, parts)
        if message:
            yield Finding(item.place, "order", message)
    if not routine.order and any(parts):
        first = next(s for s in routine.sections if s.part)
        yield Finding(first.place, "order", "there are parts but no Order line; add one, such as 'Order: A A B A'")


def _no_tag(name: str, tags: set[str]) -> str:
    if name in tags:
        return ""
    listed = ", ".join(sorted(f"Tag {t}".strip() for t in tags)) or "none"
    return f"there is no {f'Tag {name}'.strip()} below; the tags are: {listed}"


def _no_part(item: OrderItem, parts: dict[str, int]) -> str:
    if item.part not in parts:
        listed = " ".join(sorted(p for p in parts if p)) or "none"
        return f"there is no part {item.part}; the parts are: {listed}"
    if item.counts is not None and not 0 < item.counts <= parts[item.part]:
        return f"part {item.part} has {parts[item.part]} counts, so {item.part}{item.counts} is not in it"
    return ""
