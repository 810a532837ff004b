"""Sheets by strangers: accepted, with the structure that their authors tell, and their faults found on their lines.

``strangers/standing.toml`` names the sheets that are read otherwise today; whatever is not named there is held.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

import pytest

from caller.dance.check import check, has_errors
from caller.routine.layout.blocks import Role
from caller.routine.layout.lines import physical
from caller.routine.notation.read import SheetRead, read_sheet
from caller.routine.notation.write import write_sheet
from tests.corpus.held_against import FOLDER, found, named, outcome, read, sheets, told

STANDING: dict[str, Any] = tomllib.loads((FOLDER / "standing.toml").read_text(encoding="utf-8"))


def _known(kind: str, batch: str, name: str) -> bool:
    return f"{batch}/{name}" in STANDING[kind]


def _accounted_for(sheet: SheetRead) -> bool:
    """Whether every line of the file has its role."""
    whole = sorted(sheet.roles) == list(range(1, len(sheet.roles) + 1))
    return whole and all(isinstance(role, Role) for role in sheet.roles.values())


# By batch, each of ten to twenty sheets: thousands of tests of a hundredth of a second would take as long again.
BATCHES = sorted({batch for kind in ("sound", "wrong") for batch, _ in sheets(kind)})


def _of(batch: str, kind: str) -> list[str]:
    return [name for own, name in sheets(kind) if own == batch]


@pytest.fixture(scope="module", params=BATCHES)
def batch(request: pytest.FixtureRequest) -> str:
    """All that is asked of a batch is asked in one go, while what was read of it is at hand."""
    return str(request.param)


def test_a_sound_sheet_is_accepted_with_the_structure_told(batch: str) -> None:
    """But for those that are listed; one that is read well by now is taken off its list."""
    for name in _of(batch, "sound"):
        sheet = read(batch, "sound", name)
        known = outcome(sheet, told(batch, "sound", name))
        assert known.accepted is not _known("refused", batch, name), name
        assert (known.differs == ()) is not _known("otherwise", batch, name), (name, known.differs)
        assert _accounted_for(sheet), name


def test_a_dance_has_the_name_that_its_author_gives(batch: str) -> None:
    for name in _of(batch, "sound"):
        right = named(read(batch, "sound", name), told(batch, "sound", name))
        assert right is not _known("named", batch, name), name


def test_a_fault_is_found_on_its_line(batch: str) -> None:
    for name in _of(batch, "wrong"):
        sheet = read(batch, "wrong", name)
        assert found(sheet, told(batch, "wrong", name)) is not _known("missed", batch, name), name
        assert _accounted_for(sheet), name


# What a heading, a header or an event says in words of the layout's own, and feet, which it may write as L and R: all
# that may be missing of an author's words.
_OF_FORM = re.compile(
    r"bpm|here|chor[eo\u00e9]\w*gra\w*|choreo|counts?|cts|beats?|temps|sequence|phras\w+|danced?|all|line|type|description|speed"
    r"|track|written|approx|about|starts?|begins?|walls?|tags?|bridge|re-?starts?|end(?:ing)?|sec|sect|sections?|set|parts?|block|bar"
    r"|page|notes?|music|song|musik|time|foot|finish|facing|clock|change|during|after|before|once|twice|again|only|both"
    r"|author|each|every|the|this|that|then|when|with|from|and|you|there|are|two|three|four|five|six|seven|eight|nine|ten|twelve|first|second"
    r"|third|fourth|fifth|sixth|seventh|eighth|one|iii|vii|viii|isn|their|your|yours|they|our|its|for|left|right"
)


@pytest.mark.parametrize("kind", ["sound", "wrong"])
def test_an_accepted_sheet_is_the_same_once_written_and_loses_no_word(kind: str, batch: str) -> None:
    """But for those that are listed, which are the same steps called in other pieces."""
    for name in _of(batch, kind):
        sheet = read(batch, kind, name)
        if has_errors(check(sheet)):
            continue
        written = write_sheet(sheet)
        again = read_sheet(written)
        assert (again.routine == sheet.routine) is not (kind == "sound" and _known("called", batch, name)), name
        assert [p.steps for p in again.routine.passages] == [p.steps for p in sheet.routine.passages], name
        assert not has_errors(check(again)), name
        assert write_sheet(again) == written, name
        lost = _words(sheet.text) - _words(written)
        assert [word for word in sorted(lost) if _OF_FORM.fullmatch(word) is None] == [], name


def _words(text: str) -> set[str]:
    """Of three letters and more, as the typography that carries no meaning leaves them."""
    return {word for line in physical(text) for word in re.findall(r"[^\W\d_]{3,}", line.text.casefold())}


@pytest.mark.parametrize("sheet", ["d/04", "zh/09", "zc/10", "zl/04"])
def test_a_sheet_is_written_again_and_keeps_its_tags(sheet: str) -> None:
    """A tag danced in part the first time, one that is steps of the dance once more, and two of the plain kind."""
    of, name = sheet.split("/")
    known = read(of, "sound", name)
    again = read_sheet(write_sheet(known))
    assert [tag.passage.counts for tag in again.routine.tags] == [tag.passage.counts for tag in known.routine.tags]
