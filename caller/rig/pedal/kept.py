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

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from caller.transport.expression import Expression
from caller.transport.switch import Kind, Setting, Switch
from caller.transport.unit import Unit


def kept_settings(file: Path) -> tuple[dict[str, Unit], str]:
    """The units by port name, and one sentence on what couldn't be read, or ""."""
    try:
        written: dict[str, Any] = json.loads(file.read_text("utf-8"))
        return {name: _unit(row) for name, row in written.items()}, ""
    except FileNotFoundError:
        return {}, ""
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return {}, f"What was learnt of pedals can't be read ({file}): teach yours again with 'caller pedal'."


def keep_settings(file: Path, settings: Mapping[str, Unit]) -> None:
    """Writes the whole file, in one step. Raises OSError where it can't be written."""
    file.parent.mkdir(parents=True, exist_ok=True)
    part = file.with_suffix(".part")
    part.write_text(json.dumps({name: _unit_row(unit) for name, unit in settings.items()}, indent=1), "utf-8")
    os.replace(part, file)


def _unit_row(unit: Unit) -> dict[str, Any]:
    row = _row(unit.first)
    if unit.second is not None:
        row["second"] = _row(unit.second)
    if (lever := unit.expression) is not None:
        row["expression"] = {"number": lever.number, "heel": lever.heel, "toe": lever.toe}
    return row


def _unit(row: dict[str, Any]) -> Unit:
    """Raises as ``_setting`` does."""
    second, lever = row.get("second"), row.get("expression")
    expression = None if lever is None else Expression(*(_value(lever[name]) for name in ("number", "heel", "toe")))
    return Unit(_setting(row), None if second is None else _setting(second), expression)


def _row(setting: Setting) -> dict[str, Any]:
    switches = [{"kind": switch.kind.value, "number": switch.number} for switch in setting.switches]
    return {"switches": switches, "latching": setting.latching, "inverted": setting.inverted}


def _setting(row: dict[str, Any]) -> Setting:
    """Raises ValueError, TypeError or KeyError for what is no setting."""
    switches = tuple(Switch(Kind(switch["kind"]), _number(switch["number"])) for switch in row["switches"])
    latching, inverted = row["latching"], row["inverted"]
    if not (latching is None or isinstance(latching, bool)) or not isinstance(inverted, bool) or not switches:
        raise ValueError("no setting of a pedal")
    return Setting(switches, latching, inverted)


def _number(written: object) -> int | None:
    return None if written is None else _value(written)


def _value(written: object) -> int:
    if type(written) is int and 0 <= written <= 127:
        return written
    raise ValueError(f"no MIDI number: {written!r}")
