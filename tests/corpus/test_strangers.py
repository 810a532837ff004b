"""Sheets by strangers: accepted, with the structure that their authors tell, and their faults found on their lines.

``strangers/standing.toml`` names the sheets that are read otherwise today; whatever is not named there is held.
"""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from caller.routine.layout.blocks import Role
from tests.corpus.held_against import FOLDER, found, outcome, read, sheets, told

STANDING: dict[str, Any] = tomllib.loads((FOLDER / "standing.toml").read_text(encoding="utf-8"))


def _known(kind: str, batch: str, name: str) -> bool:
    return f"{batch}/{name}" in STANDING[kind]


def _listed(kind: str) -> list[tuple[str, str]]:
    """(batch, name) of each sheet of that list."""
    return [(batch, name) for batch, _, name in (key.partition("/") for key in STANDING[kind])]


@pytest.mark.parametrize(("batch", "name"), list(sheets("sound")))
def test_a_sound_sheet_is_accepted(batch: str, name: str) -> None:
    assert outcome(read(batch, "sound", name), told(batch, "sound", name)).accepted or _known("refused", batch, name)


@pytest.mark.parametrize(("batch", "name"), list(sheets("sound")))
def test_its_structure_is_the_one_told(batch: str, name: str) -> None:
    differs = outcome(read(batch, "sound", name), told(batch, "sound", name)).differs
    assert differs == () or _known("otherwise", batch, name)


@pytest.mark.parametrize(("batch", "name"), list(sheets("wrong")))
def test_a_fault_is_found_on_its_line(batch: str, name: str) -> None:
    assert found(read(batch, "wrong", name), told(batch, "wrong", name)) or _known("missed", batch, name)


@pytest.mark.parametrize(("batch", "name"), [*sheets("sound"), *sheets("wrong")])
def test_every_line_is_accounted_for(batch: str, name: str) -> None:
    for kind in ("sound", "wrong"):
        if (FOLDER / batch / kind / f"{name}.json").exists():
            sheet = read(batch, kind, name)
            assert sorted(sheet.roles) == list(range(1, len(sheet.roles) + 1))
            assert all(isinstance(role, Role) for role in sheet.roles.values())


def test_what_is_known_to_be_read_otherwise_is_still_read_so() -> None:
    """A sheet that is read well by now is taken off the list."""
    refused, otherwise, missed = (_listed(kind) for kind in ("refused", "otherwise", "missed"))
    better = [(b, n) for b, n in refused if outcome(read(b, "sound", n), told(b, "sound", n)).accepted]
    better += [(b, n) for b, n in otherwise if not outcome(read(b, "sound", n), told(b, "sound", n)).differs]
    better += [(b, n) for b, n in missed if found(read(b, "wrong", n), told(b, "wrong", n))]
    assert better == []
