"""Figures that are named and told out besides: which of the two turns, for :mod:`caller.routine.notation.dialect`."""

from __future__ import annotations

import re

from caller.routine.notation.phrases import TURN as _TURN

_TURNS = re.compile(rf"\bturn|\bpivot|{_TURN}", re.IGNORECASE)
_AMOUNT = re.compile(_TURN, re.IGNORECASE)
_PARTED = re.compile(r",\s")
_LEAST = 3  # steps that tell a figure out
_STATED = re.compile(r"\s*[(\[][^()\[\]]*[)\]]\s*$")


_TURNING_ALONE = re.compile(r"\s+turning(?=\s*(?:,|$))", re.IGNORECASE)  # told how far by the name


def name_that_turns(found: re.Match[str]) -> str:
    """ "Right sailor turning 1/4 right: R behind L, L to side, R to side": told twice, and only the name turns."""
    steps = _TURNING_ALONE.sub("", found["steps"])
    stated = _STATED.search(steps)
    if _TURNS.search(steps[: stated.start() if stated else None]):
        own, named = (_AMOUNT.findall(part) for part in (steps, found["name"]))
        return steps if len(named) == 1 and own == named and len(_PARTED.split(steps)) >= _LEAST else found[0]
    return found["name"] + (f" {stated[0].strip()}" if stated else "")


def steps_in_brackets(found: re.Match[str]) -> str:
    """ "Jazz box 1/4 turn R (cross R over L, L back, turn 1/4 R stepping R to side, L fwd)": where it turns is told."""
    own, named = (_AMOUNT.findall(found[part]) for part in ("steps", "name"))
    return f"{found['steps']}{found['rest']}" if len(named) == 1 and own == named else found[0]


def told_out(found: re.Match[str]) -> str:
    """The steps in brackets behind a figure's name, where they turn and the name does not."""
    return found["steps"] if re.search(r"turn|\u00bc|\u00bd|quarter|1/[248]", found["steps"]) else found[0]
