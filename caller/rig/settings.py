"""What the teacher has set, kept between runs in one TOML file.

Conventions: the file is ``settings.toml`` in the user's config folder. Only what was set stands in it; comments and
keys that are not known here are kept when it is written anew. Offsets are milliseconds, levels dB. This table is all
that is known; a value that doesn't fit is told and left out, so that one slip costs one setting.

    [sound]
    device = "USB Audio"            # by name; "none"
    [sound.offset_ms]
    "Radio speaker" = 180           # heard so much later than the device tells
    [pedal]
    port = "Sole MIDI 1"            # by name; "none"
    limits = [50, 100]              # of an expression pedal: % of the full tempo, heel down and toe down
    [pedal.gestures]
    double_tap = "half"             # what the first pedal's gestures order, in place of the usual; "nothing"
    [pedal.second]
    tap = "wall-again"              # the same of a unit's second one
    [calls]
    manner = "ahead"
    count_in = "level"              # how the count-in ends: level (by the sheet's), numbers, or call
    voice = "standard"              # by the name that `caller voices` shows
    go_on = "bar"                   # after a pause: bar, section or wall
    [levels]
    count_db = -2.0
    call_db = 0.0
    music_db = 0.0
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.calls.plan import CountIn, Manner
from caller.outside import documents, numbers
from caller.storage.locks import alone
from caller.storage.whole import own_folder, set_aside, write_text
from caller.transport.expression import LEAST_APART_PERCENT, LEAST_PERCENT, MOST_PERCENT, USUAL_LIMITS, Limits
from caller.transport.foot import Gesture
from caller.transport.footing import PEDAL_ORDERS, Changes
from caller.transport.levels import LOUDEST_DB, SOFTEST_DB
from caller.transport.order import Order
from caller.transport.state import GoOn

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

FILE_NAME = "settings.toml"
MOST_BYTES = 200_000
SOONEST_MS, LATEST_MS = -50.0, 500.0  # as far as speakers by radio are off


@dataclass(frozen=True, slots=True)
class Settings:
    """device, port: "" = the best there is; voice: "" = the standard one. offset_ms: by device. gestures, second: what
    the pedals order in place of the usual."""

    device: str = ""
    offset_ms: Mapping[str, float] = field(default_factory=dict)
    port: str = ""
    manner: Manner = Manner.AHEAD
    go_on: GoOn = GoOn.BAR
    count_db: float = 0.0
    call_db: float = 0.0
    music_db: float = 0.0
    limits: Limits = USUAL_LIMITS
    gestures: Changes = field(default_factory=dict)
    second: Changes = field(default_factory=dict)
    voice: str = ""
    count_in: CountIn = CountIn.LEVEL

    def offset_of(self, device: str) -> float:
        return self.offset_ms.get(device, 0.0)

    def with_offset(self, device: str, ms: float) -> Settings:
        return replace(self, offset_ms={**self.offset_ms, device: min(max(ms, SOONEST_MS), LATEST_MS)})


@dataclass(frozen=True, slots=True)
class _Known:
    """Where a setting stands, how a written value is read (raises ValueError or TypeError), how it is written, and what
    it may be."""

    table: str
    read: Callable[[Any], Any]
    write: Callable[[Any], Any]
    may_be: str


class _InPart(ValueError):
    """Some of a table doesn't fit. kept: what does. left_out: the names of the rest."""

    def __init__(self, kept: dict[Any, Any], left_out: list[str]) -> None:
        super().__init__(", ".join(left_out))
        self.kept, self.left_out = kept, left_out


def _text(written: Any) -> str:
    if not isinstance(written, str):
        raise TypeError
    return str(written)


def _number(written: Any, least: float, most: float) -> float:
    if isinstance(written, str):
        raise TypeError
    return float(numbers.number(written, least, most))


def _offsets(written: Any) -> dict[str, float]:
    return {str(name): _number(ms, SOONEST_MS, LATEST_MS) for name, ms in written.items()}


def _db(written: Any) -> float:
    return _number(written, SOFTEST_DB, LOUDEST_DB)


def _limits(written: Any) -> Limits:
    heel, toe = written
    if not all(isinstance(one, int) and not isinstance(one, bool) for one in (heel, toe)):
        raise TypeError
    return Limits(int(heel), int(toe))


def _gestures(written: Any) -> dict[Gesture, Order | None]:
    rows = {str(key): str(value) for key, value in written.items()}
    fits = {key: value for key, value in rows.items() if key in _GESTURES and value in _PEDAL_ORDERS}
    kept = {_GESTURES[key]: _PEDAL_ORDERS[value] for key, value in fits.items()}
    if len(fits) < len(rows):
        raise _InPart(kept, [key for key in rows if key not in fits])
    return kept


def _written_gestures(gestures: Changes) -> dict[str, str]:
    return {_key(gesture): order.value if order else NOTHING for gesture, order in gestures.items()}


def _key(gesture: Gesture) -> str:
    return gesture.value.replace(" ", "_")


NOTHING = "nothing"
_GESTURES = {_key(gesture): gesture for gesture in Gesture}
_PEDAL_ORDERS: dict[str, Order | None] = {order.value: order for order in PEDAL_ORDERS} | {NOTHING: None}
_MAY_GESTURES = f"{', '.join(_GESTURES)}, each with one of {', '.join(_PEDAL_ORDERS)}"
_MAY_LIMITS = (
    f"two whole numbers of % from {LEAST_PERCENT} to {MOST_PERCENT}, {LEAST_APART_PERCENT} or more apart: [heel, toe]"
)
_MAY_DB = f"a number of dB from {SOFTEST_DB:g} to {LOUDEST_DB:g}"
_KNOWN: dict[str, _Known] = {
    "device": _Known("sound", _text, str, "a name in quotes"),
    "offset_ms": _Known("sound", _offsets, dict, f"milliseconds from {SOONEST_MS:g} to {LATEST_MS:g} for each device"),
    "port": _Known("pedal", _text, str, "a name in quotes"),
    "manner": _Known("calls", Manner, lambda m: m.value, ", ".join(manner.value for manner in Manner)),
    "count_in": _Known("calls", CountIn, lambda how: how.value, ", ".join(how.value for how in CountIn)),
    "voice": _Known("calls", _text, str, "a name in quotes"),
    "go_on": _Known("calls", GoOn, lambda g: g.value, ", ".join(go_on.value for go_on in GoOn)),
    "count_db": _Known("levels", _db, float, _MAY_DB),
    "call_db": _Known("levels", _db, float, _MAY_DB),
    "music_db": _Known("levels", _db, float, _MAY_DB),
    "limits": _Known("pedal", _limits, lambda limits: [limits.heel, limits.toe], _MAY_LIMITS),
    "gestures": _Known("pedal", _gestures, _written_gestures, _MAY_GESTURES),
    "second": _Known("pedal", _gestures, _written_gestures, _MAY_GESTURES),
}


def settings_file() -> Path:
    import platformdirs

    return platformdirs.user_config_path("caller") / FILE_NAME


def read_settings(file: Path) -> tuple[Settings, tuple[str, ...]]:
    """What is set, and a sentence on each thing that can't be taken. A file that is no TOML is set aside, under a name
    that is told; never raises."""
    document, sentence = _document(file)
    told = [sentence] if sentence else []
    found: dict[str, Any] = {}
    for name, known in _KNOWN.items():
        table = document.get(known.table, {})
        if not isinstance(table, Mapping):
            told.append(f"{file}: {known.table} must be a table, [{known.table}]; using the defaults.")
        elif name in table:
            try:
                found[name] = known.read(table[name])
            except _InPart as part:
                found[name] = part.kept
                told.append(
                    f"{file}: {known.table}.{name} must be {known.may_be}; ignored: {', '.join(part.left_out)}."
                )
            except (ValueError, TypeError, AttributeError):
                told.append(f"{file}: {known.table}.{name} must be {known.may_be}; using the default.")
    return Settings(**found), tuple(dict.fromkeys(told))


def write_settings(file: Path, settings: Settings, base: Settings | None = None) -> None:
    """Writes what differs from what the file says, in one step: a reader, or a power cut, meets the old file or the new
    one. base: what was read before it was changed; what differs from that is written, and nothing else. Raises OSError
    where it can't be written."""
    own_folder(file.parent)
    with alone(file):
        _write(file, settings, base)


def _write(file: Path, settings: Settings, base: Settings | None) -> None:
    import tomlkit

    if file.exists():
        documents.read_head(file, 1)  # what can't be read is not written over either
    document, _ = _document(file)
    before, _ = read_settings(file)
    if base is not None:  # what was not changed here is as somebody else may have left it meanwhile
        changed = {one.name: getattr(settings, one.name) for one in fields(Settings)}
        kept = {name: value for name, value in changed.items() if value != getattr(base, name)}
        settings = replace(before, **kept)
    usual = Settings()
    for one in fields(Settings):
        value, known = getattr(settings, one.name), _KNOWN[one.name]
        if value == getattr(before, one.name) and (
            value == getattr(usual, one.name) or one.name in _table(document, known)
        ):
            continue
        if not isinstance(document.get(known.table), Mapping):
            document[known.table] = tomlkit.table()
        _put(document[known.table], one.name, known.write(value))
    write_text(file, tomlkit.dumps(document), private=True)


def _table(document: TOMLDocument, known: _Known) -> Mapping[str, Any]:
    table = document.get(known.table, {})
    return table if isinstance(table, Mapping) else {}


def _put(table: Any, name: str, value: Any) -> None:
    """Key by key where it is a table, so that comments beside what stays are kept."""
    if not isinstance(value, Mapping) or not isinstance(table.get(name), Mapping):
        table[name] = value
        return
    for key, one in value.items():
        if table[name].get(key) != one:
            table[name][key] = one


def _document(file: Path) -> tuple[TOMLDocument, str]:
    """The file as it stands, empty where there is none; and a sentence where it was set aside or can't be read."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        text = documents.read_text(file, MOST_BYTES)
        documents.toml(text)  # the bounds of what tomlkit is given
        return tomlkit.parse(text), ""
    except FileNotFoundError:
        return tomlkit.document(), ""
    except OSError as fault:
        return tomlkit.document(), f"The settings can't be read ({file}: {fault.strerror}); the usual ones hold."
    except (TOMLKitError, documents.Unreadable) as fault:
        return tomlkit.document(), _set_aside(file, " ".join(str(fault).split()))


def _set_aside(file: Path, why: str) -> str:
    try:
        aside = set_aside(file)
    except OSError as fault:
        return (
            f"The settings are damaged ({file}: {why}) and can't be set aside ({fault.strerror}); the usual ones hold."
        )
    return f"The settings were damaged ({why}); they are set aside as {aside}, and the usual ones hold."
