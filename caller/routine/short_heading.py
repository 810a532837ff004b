"""A section's heading, short enough to be read in passing and to be said. Pure text; no dance is known here."""

from __future__ import annotations

import re

LONGEST = 32
# What a heading's parts are parted by stays with the part before it, a word that joins them with the one after.
_BETWEEN = re.compile(r"(?<=[,;:/–—])(?=\s)|(?=\s(?:[-/–—&]|and|with)\s)")
# Sides, which no capital letter would tell any more.
_SIDES = re.compile(r"\b(?:[rl][fh]?|[rl](?:[rl])+)\b")
_BRACKETS = re.compile(r"[(\[][^)\]]*[)\]]")


def short_heading(heading: str) -> str:
    """As many of a heading's first parts as are short enough, without what stands in brackets, and not in capitals
    throughout; a first part that is too long is cut after a word. "" for a heading without letters."""
    whole = " ".join(_BRACKETS.sub(" ", heading).split())
    if whole.isupper():
        whole = _SIDES.sub(lambda found: found[0].upper(), whole.capitalize())
    short = ""
    for part in _BETWEEN.split(whole):
        if short and len(short + part) > LONGEST:
            break
        short += part
    if len(short) > LONGEST:
        short = short[: LONGEST + 1].rpartition(" ")[0] or short[:LONGEST]
    return short.strip(" ,;:/-–—&")
