"""How far what has been taught is put together, and when it is first danced at full speed. Common practice.

Conventions: sections are told by their places in the wall, from 0. A short dance is put together from the top each
time. A long one is learnt by so many sections at a time: within those, from the first of them; at their end, from the
top. What comes first is danced up to full speed there, so that a class doesn't wait for that until it knows all. Pure.
"""

from __future__ import annotations

from math import ceil

# So many sections at a time, at most; from how many on a dance has a first half, and from how many on it is too long to
# be danced from the top each time.
_AT_A_TIME, _HALVED, _LONG = 4, 3, 6


def first_part(sections: int) -> int:
    """How many sections are danced up to speed before the next one is taught; 0 where the dance is too short for
    that."""
    if sections < _HALVED:
        return 0
    return ceil(sections / max(2, ceil(sections / _AT_A_TIME)))


def put_onto(section: int, sections: int) -> int | None:
    """The section from which a new one is danced with those before it; None where it has none before it there."""
    many = first_part(sections)
    if sections < _LONG or section == sections - 1 or (section + 1) % many == 0:
        return 0 if section else None
    begins = section - section % many
    return begins if begins < section else None


def soon_quicker(section: int, sections: int) -> bool:
    """Whether all that is danced from the top to a section comes again at once, quicker: then it is danced slowly but
    once."""
    return section == sections - 1 or section + 1 == first_part(sections)
