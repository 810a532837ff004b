"""What was learnt of pedals, kept between runs.

Conventions: one JSON file, an object from a port's stable name to its first switch, with the unit's other parts inside:

    {"Sole MIDI 1": {"switches": [{"kind": "control", "number": 80}], "latching": false, "inverted": false,
                     "second": {"switches": [{"kind": "control", "number": 81}], "latching": false, "inverted": false},
                     "expression": {"number": 11, "heel": 0, "toe": 127}}}

``kind`` is control, note or program; ``number`` null is any; ``latching`` null is found out; ``heel`` and ``toe`` are
the values sent there. A part that isn't there has not been learnt. What can't be read is learnt anew, so nothing here
raises for a file that is missing or spoilt.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import msgspec

from caller.outside import documents
from caller.storage.whole import own_folder, write_bytes
from caller.transport.expression import Expression
from caller.transport.switch import Setting, Switch, SwitchKind
from caller.transport.unit import Unit

Value = Annotated[int, msgspec.Meta(ge=0, le=127)]


class _Switch(msgspec.Struct):
    kind: SwitchKind
    number: Value | None


class _Setting(msgspec.Struct):
    switches: Annotated[list[_Switch], msgspec.Meta(min_length=1)]
    latching: bool | None
    inverted: bool

    def setting(self) -> Setting:
        return Setting(tuple(Switch(one.kind, one.number) for one in self.switches), self.latching, self.inverted)


class _Lever(msgspec.Struct):
    number: Value
    heel: Value
    toe: Value


class _Unit(_Setting, omit_defaults=True):
    second: _Setting | None = None
    expression: _Lever | None = None

    def unit(self) -> Unit:
        """Raises ValueError for a lever that goes nowhere."""
        lever = self.expression
        expression = None if lever is None else Expression(lever.number, lever.heel, lever.toe)
        return Unit(self.setting(), None if self.second is None else self.second.setting(), expression)


def kept_settings(file: Path) -> tuple[dict[str, Unit], str]:
    """The units by port name, and one sentence on what couldn't be read, or ""."""
    try:
        written = documents.json(documents.read_bytes(file), dict[str, _Unit])
        return {name: row.unit() for name, row in written.items()}, ""
    except FileNotFoundError:
        return {}, ""
    except (OSError, ValueError):
        return {}, f"What was learnt of pedals can't be read ({file}): teach yours again with 'caller pedal'."


def keep_settings(file: Path, settings: Mapping[str, Unit]) -> None:
    """Writes the whole file, in one step. Raises OSError where it can't be written."""
    rows = {name: _row(unit) for name, unit in settings.items()}
    own_folder(file.parent)
    write_bytes(file, msgspec.json.format(msgspec.json.encode(rows), indent=1), private=True)


def _row(unit: Unit) -> _Unit:
    lever = unit.expression
    return _Unit(
        *_parts(unit.first),
        second=None if unit.second is None else _Setting(*_parts(unit.second)),
        expression=None if lever is None else _Lever(lever.number, lever.heel, lever.toe),
    )


def _parts(setting: Setting) -> tuple[list[_Switch], bool | None, bool]:
    return [_Switch(one.kind, one.number) for one in setting.switches], setting.latching, setting.inverted
