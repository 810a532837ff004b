"""Every sound sheet passes; every seeded fault is found, where it stands, and nothing else is."""

from __future__ import annotations

import pytest

from caller.dance.check import check
from caller.dance.unroll import unroll
from caller.routine.findings import Finding, Severity
from caller.routine.notation.read import read_bytes
from tests.corpus.sheets import Fault, faults, sheet_text, sound_sheets
from tests.fuzz.sheets import one_input

SOUND = list(sound_sheets())
FAULTS = list(faults())


def _findings(text: str) -> tuple[Finding, ...]:
    return check(read_bytes(text.encode("utf-8")))


def _grave(text: str) -> list[Finding]:
    return [f for f in _findings(text) if f.severity is not Severity.ADVICE]


def test_the_corpus_is_as_large_as_it_claims() -> None:
    assert len(SOUND) >= 60
    assert len(FAULTS) >= 150


@pytest.mark.parametrize(("half", "name"), SOUND, ids=lambda part: str(part))
def test_a_sound_sheet_has_no_error_and_no_warning(half: str, name: str) -> None:
    assert _grave(sheet_text(half, name)) == []


@pytest.mark.parametrize(("half", "name"), SOUND, ids=lambda part: str(part))
def test_a_sound_sheet_can_be_danced(half: str, name: str) -> None:
    read = read_bytes(sheet_text(half, name).encode("utf-8"))
    dance = unroll(read.routine)
    for wall in dance.walls:
        for danced in wall.movements:
            foot = danced.step.movement.foot
            lifts = danced.step.movement.action not in ("sway", "bump", "hop", "jump", "knee pop", "swivel")
            assert foot is None or not lifts or danced.before.weight.frees(foot), danced
    for before, after in zip(dance.walls, dance.walls[1:], strict=False):
        assert before.ends == after.starts
        assert before.end == after.at


@pytest.mark.parametrize(("half", "name"), SOUND[::8], ids=lambda part: str(part))
def test_a_sound_sheet_passes_what_the_fuzz_asks_of_every_input(half: str, name: str) -> None:
    one_input(sheet_text(half, name).encode("utf-8"), most_seconds=60.0)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: f"{fault.sheet}-{fault.code}-{fault.line}")
def test_a_seeded_fault_is_found_where_it_stands_and_nothing_else_is(fault: Fault) -> None:
    found = _findings(fault.faulty)
    assert any((f.code, f.place.line) == (fault.code, fault.line) for f in found), (fault.why, found)
    others = [
        f for f in found if f.severity is not Severity.ADVICE and (f.code, f.place.line) != (fault.code, fault.line)
    ]
    assert others == [], fault.why
