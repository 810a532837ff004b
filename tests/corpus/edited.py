"""Three dances as other authors would have written them with one, two or three events: ``edited/``.

``A.txt``, ``B.txt`` and ``C.txt`` have none. A case: the dance's letter, its edits ("after" a line, "add" to it, what
it "becomes"), and the events that they tell, by hand: kind, wall, after (counts danced of that wall before it), counts
(of a tag). Each file is by a hand of its own, who had seen the three dances and nothing else.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from caller.dance.check import check
from caller.routine.findings import Severity
from caller.routine.notation.read import read_sheet
from tests.corpus.held_against import events_differ

FOLDER = Path(__file__).parent / "edited"
STANDING: dict[str, Any] = tomllib.loads((FOLDER / "standing.toml").read_text(encoding="utf-8"))


@dataclass(frozen=True, slots=True)
class EditedCase:
    """name: file and number; sheet: the dance's text with the edits; truth: its events as told beside them."""

    name: str
    sheet: str
    truth: tuple[dict[str, Any], ...]


def cases() -> Iterator[EditedCase]:
    for path in sorted(FOLDER.glob("*.json")):
        for number, told in enumerate(json.loads(path.read_text(encoding="utf-8")), 1):
            yield EditedCase(f"{path.stem}/{number}", _edited(told["base"], told["edits"]), tuple(told["events"]))


def _edited(base: str, edits: list[dict[str, Any]]) -> str:
    lines = (FOLDER / f"{base}.txt").read_text(encoding="utf-8").splitlines()
    put: dict[int, list[str]] = {}
    for edit in edits:
        if "after" in edit:
            put.setdefault(edit["after"], []).append(edit["text"])
        elif "becomes" in edit:
            lines[edit["line"] - 1] = edit["becomes"]
        else:
            lines[edit["line"] - 1] += edit["add"]
    out = list(put.get(0, []))
    for number, line in enumerate(lines, 1):
        out += [line, *put.get(number, [])]
    return "\n".join(out) + "\n"


def read_as_told(case: EditedCase) -> bool:
    """Whether the events are those told, nothing is an error, and no line is left unread."""
    sheet = read_sheet(case.sheet)
    found = check(sheet)
    wrong = any(f.severity is Severity.ERROR or f.code == "unread" for f in found)
    return not wrong and not events_differ(sheet.routine, list(case.truth))
