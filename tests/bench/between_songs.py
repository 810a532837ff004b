"""Songs in which much is struck between the beats, drawn by lot: what a tracker takes for the beat half a beat off.

Conventions: as in :mod:`tests.bench.fresh_songs`. A kind is a row of parts with several ways to play each, one of which
is drawn (an empty one: nobody plays it); how loud each is, the chords, the key, the band and the tempo are drawn too.
Rows of "next root" and "next chord" sound what the bar after is in, which is how such basses and pianos go ahead of it.
"""

from __future__ import annotations

import numpy as np

from tests.bench.fresh_songs import Fresh, Section
from tests.bench.scored_songs import Table

_ALL, _OFF = (0, 1, 2, 3), (0.5, 1.5, 2.5, 3.5)
_EIGHTHS = tuple(n / 2 for n in range(8))
_SIXTEENTHS = tuple(n / 4 for n in range(16))
_NOBODY: Table = ()
SECONDS = 42

_CONGAS: tuple[Table, ...] = (
    (((1,), 0.2, "slap", 95), ((3, 3.5), 0.2, "conga", 100), (_EIGHTHS, 0.1, "palm", 50)),
    (((1,), 0.2, "slap", 90), ((3, 3.5), 0.2, "conga", 95), ((1.5,), 0.2, "low conga", 90)),
    (((3, 3.5), 0.2, "conga", 105),),
    (((3, 3.5, 0), 0.2, "conga", 95),),
    _NOBODY,
)
_GUIRO: tuple[Table, ...] = (
    (((0, 2), 0.6, "long guiro", 85), ((1, 1.5, 3, 3.5), 0.2, "guiro", 75)),
    (((1, 3), 0.6, "long guiro", 85), ((0, 0.5, 2, 2.5), 0.2, "guiro", 75)),
    _NOBODY,
)
_SHAKEN: tuple[Table, ...] = (
    ((_EIGHTHS, 0.1, "shaker", 65),),
    ((_ALL, 0.1, "shaker", 70), (_OFF, 0.1, "shaker", 50)),
    ((_ALL, 0.1, "shaker", 50), (_OFF, 0.1, "shaker", 72)),
    _NOBODY,
)
_SKANK: Table = ((_OFF, 0.3, "chord", 88),)

# Of each kind: its tempos, and its parts with the ways to play them.
KINDS: dict[str, tuple[tuple[float, float], tuple[tuple[Table, ...], ...]]] = {
    "cha": (
        (100, 132),
        (
            (((_ALL, 0.2, "bell", 85),), ((_ALL, 0.2, "timbale", 70),), (((0, 2), 0.2, "bell", 85),), _NOBODY),
            _CONGAS,
            _GUIRO,
            _SHAKEN,
            (
                (((0, 1.5), 0.6, "root", 92), ((3,), 0.8, "fifth", 90)),
                (((0,), 1.4, "root", 92), ((1.5,), 1.4, "fifth", 88), ((3,), 0.9, "next root", 90)),
                (((0, 3), 0.9, "root", 92), ((2,), 0.9, "fifth", 88)),
                (((0, 2), 0.5, "root", 92), ((3, 3.5), 0.4, "fifth", 90)),
            ),
            (
                _SKANK,
                (((3, 3.5, 0), 0.3, "chord", 92),),
                (((0.5, 1.5, 2, 3, 3.5), 0.3, "chord", 85),),
                (((0, 1.5, 2.5, 3.5), 0.3, "chord", 85),),
                (((1, 1.5), 0.3, "chord", 80), ((3, 3.5, 0), 0.3, "chord", 90)),
            ),
            (((_ALL, 0.2, "kick", 95),), (((0, 2), 0.2, "kick", 90),), _NOBODY, _NOBODY),
        ),
    ),
    "son": (
        (84, 112),
        (
            (_NOBODY, (((0, 2), 0.2, "bell", 80),)),
            _CONGAS,
            _SHAKEN,
            ((((1, 2, 3.5), 0.2, "clave", 80),), (((0, 1.5, 3), 0.2, "clave", 80),), _NOBODY),
            (
                (((1.5,), 1.4, "fifth", 92), ((3,), 1.4, "next root", 95)),
                (((0,), 1.4, "root", 92), ((1.5,), 1.4, "fifth", 92), ((3,), 0.9, "next root", 95)),
            ),
            ((((0, 1, 1.5, 2.5), 0.4, "chord", 80), ((3.5,), 0.4, "next chord", 85)), _SKANK),
        ),
    ),
    "bachata": (
        (116, 140),
        (
            ((((0, 1, 2), 0.2, "bongo", 70), ((3,), 0.2, "low bongo", 95), (_OFF, 0.1, "bongo", 50)),),
            _GUIRO,
            ((((0, 2, 3), 0.8, "root", 95),), (((0, 2), 0.8, "root", 95), ((3,), 0.8, "fifth", 90))),
            (((_EIGHTHS, 0.5, "pick", 80),), ((_EIGHTHS, 0.5, "arpeggio", 80),)),
            ((((0, 2), 0.2, "kick", 80),), _NOBODY),
        ),
    ),
    "ska": (
        (112, 160),
        (
            (_SKANK,),
            (
                (((0,), 0.9, "root", 92), ((1,), 0.9, "third", 88), ((2,), 0.9, "fifth", 92), ((3,), 0.9, "walk", 88)),
                (((0, 1, 2, 3), 0.8, "root", 92),),
            ),
            ((((1, 3), 0.2, "snare", 85), ((0, 2), 0.2, "kick", 85)), (((1, 3), 0.2, "kick", 90),)),
            (((_ALL, 0.1, "hat", 60),), ((_EIGHTHS, 0.1, "hat", 55),), ((_OFF, 0.1, "hat", 70),)),
        ),
    ),
    "skank": (
        (68, 92),
        (
            (_SKANK, (((0.5, 0.75, 1.5, 2.5, 2.75, 3.5), 0.2, "chord", 80),)),
            ((((0, 1.5, 2.75), 0.6, "root", 95),), (((0, 0.75, 2), 0.6, "root", 95), ((3.25,), 0.5, "fifth", 90))),
            (((_ALL, 0.2, "kick", 95),), (((2,), 0.2, "kick", 105), ((2,), 0.2, "side", 90))),
            (((_EIGHTHS, 0.1, "hat", 55),), ((_OFF, 0.1, "open", 60),)),
        ),
    ),
    "house": (
        (116, 130),
        (
            (((_ALL, 0.2, "kick", 105),),),
            (((_OFF, 0.2, "open", 95),),),
            ((((1, 3), 0.2, "clap", 90),), _NOBODY),
            (((_OFF, 0.4, "root", 95),), (((0, 0.75, 1.5, 2.5, 3.25), 0.3, "root", 92),)),
            (_SKANK, (((0.5, 1.25, 2, 2.75, 3.5), 0.3, "chord", 85),), (((0,), 3.8, "held", 70),)),
        ),
    ),
    "polka": (
        (96, 124),
        (
            ((((0, 2), 0.4, "root", 95), ((1, 3), 0.4, "fifth", 92)),),
            ((((0.5, 1.5, 2.5, 3.5), 0.3, "chord", 88),),),
            (((_OFF, 0.2, "snare", 80),), (((0.5, 0.75, 1.5, 2.5, 2.75, 3.5), 0.2, "snare", 75),)),
            (((_ALL, 0.2, "kick", 80),), _NOBODY),
        ),
    ),
    "bossa": (
        (110, 140),
        (
            ((((0, 1.5, 2, 3.5), 0.2, "kick", 80),),),
            ((((0, 1.5, 3), 0.2, "side", 80),), (((1, 2.5), 0.2, "side", 80),)),
            (((_EIGHTHS, 0.1, "hat", 55),), _SHAKEN[0]),
            ((((0,), 1.4, "root", 92), ((1.5, 2), 0.5, "fifth", 85), ((3.5,), 0.5, "next root", 85)),),
            ((((0, 1, 2.5), 0.4, "chord", 75),), (((0.5, 1.5, 3), 0.4, "chord", 78),)),
        ),
    ),
    "samba": (
        (88, 108),
        (
            ((((1, 3), 0.4, "surdo", 105), ((0, 2), 0.2, "surdo", 75)), (((1, 3), 0.4, "surdo", 105),)),
            (((_SIXTEENTHS, 0.1, "shaker", 60),), ((_SIXTEENTHS, 0.1, "tap", 50),)),
            ((((0, 0.75, 2, 2.75), 0.4, "root", 90),), (((0, 2), 0.6, "root", 90), ((0.75, 2.75), 0.4, "fifth", 85))),
            ((((0, 0.5, 1.25, 1.75, 2.5, 3.25), 0.2, "chord", 80),), _SKANK),
        ),
    ),
    "backbeat": (
        (84, 128),
        (
            ((((0, 2), 0.2, "kick", 95),), (((0, 1.5, 2), 0.2, "kick", 95),), (((0, 2.5), 0.2, "kick", 95),)),
            ((((1, 3), 0.2, "snare", 95),), ((_ALL, 0.2, "snare", 85),)),
            (((_OFF, 0.2, "tap", 80),), ((_EIGHTHS, 0.2, "hat", 60),)),
            ((((0, 1.5, 2.5, 3.5), 0.5, "root", 92),), (((0, 0.5, 1.5, 2, 3.5), 0.4, "root", 92),)),
            (_SKANK, (((0.5, 1.5, 2.75), 0.4, "chord", 80),), (((0,), 3.8, "held", 70),)),
        ),
    ),
}
# Written after the beat finder had learnt from those above.
LATER: dict[str, tuple[tuple[float, float], tuple[tuple[Table, ...], ...]]] = {
    "salsa": (
        (88, 104),
        (
            ((((0, 0.5, 1, 2, 2.5, 3), 0.2, "bell", 80),), (((0, 1.5, 2, 3), 0.2, "timbale", 70),)),
            (((_EIGHTHS, 0.1, "palm", 55), ((1.5, 3, 3.5), 0.2, "conga", 95)),),
            ((((1.5,), 1.4, "fifth", 95), ((3,), 0.9, "next root", 95)),),
            ((((0, 0.5, 1.5, 2, 2.5, 3.5), 0.3, "chord", 85),), (((0, 1, 1.5, 2.5, 3.5), 0.3, "chord", 85),)),
        ),
    ),
    "horns cha": (
        (108, 128),
        (
            (((_ALL, 0.2, "timbale", 75),), (((0, 1, 2, 3, 3.5), 0.2, "bell", 80),)),
            ((((1, 3, 3.5), 0.2, "conga", 95), ((0.5, 2.5), 0.2, "palm", 60)),),
            ((((0,), 0.9, "root", 95), ((1, 2), 0.5, "fifth", 85), ((3, 3.5), 0.4, "root", 90)),),
            (
                (((3, 3.5, 0), 0.2, "chord", 100), ((1.5, 2.5), 0.2, "chord", 70)),
                (((0.5, 1.5, 3.5), 0.3, "chord", 92),),
            ),
        ),
    ),
    "merengue": (
        (116, 150),
        (
            (((_SIXTEENTHS, 0.1, "guiro", 55), (_ALL, 0.2, "long guiro", 75)),),
            ((((0, 1, 2, 2.5, 3, 3.5), 0.2, "low bongo", 85),), (((3, 3.25, 3.5, 3.75, 0), 0.2, "bongo", 90),)),
            ((((0, 2), 0.5, "root", 95), ((1, 3), 0.5, "fifth", 90)), (((0, 1.5, 2, 3.5), 0.4, "root", 92),)),
            ((((0.5, 1, 1.5, 2.5, 3, 3.5), 0.2, "chord", 85),), _SKANK),
        ),
    ),
    "tresillo": (
        (88, 104),
        (
            (((_ALL, 0.2, "kick", 105),),),
            ((((0.75, 1.5, 2.75, 3.5), 0.2, "snare", 95),),),
            ((((0, 0.75, 1.5, 2, 2.75, 3.5), 0.3, "root", 92),), (((0, 2), 0.9, "root", 95),)),
            (_SKANK, (((0,), 3.8, "held", 70),)),
        ),
    ),
    "slap": (
        (100, 122),
        (
            ((((0, 2), 0.2, "kick", 100),), (((0, 1.75, 2.5), 0.2, "kick", 100),)),
            ((((1, 3), 0.2, "snare", 95),),),
            (((_SIXTEENTHS, 0.1, "hat", 50), (_OFF, 0.1, "open", 75)),),
            ((((0,), 0.4, "root", 95), (_OFF, 0.3, "up", 95)),),
            ((((0.25, 1.75, 2.25), 0.2, "chord", 80),), (((1.5, 3.5), 0.2, "chord", 85),)),
        ),
    ),
    "tango": (
        (104, 128),
        (
            ((((0, 1, 2, 3), 0.3, "root", 92),), (((0, 1.5, 2, 3), 0.3, "root", 92),)),
            (((_ALL, 0.2, "chord", 85), ((3.5,), 0.2, "chord", 90)), (((0.5, 1, 2, 3), 0.2, "chord", 88),)),
            ((((3.5, 0), 0.2, "snare", 60),), _NOBODY),
        ),
    ),
    "march": (
        (108, 122),
        (
            ((((0, 2), 0.4, "root", 95), ((1, 3), 0.4, "fifth", 92)),),
            (_SKANK, (((0.5, 1.5, 2.5, 3.5), 0.2, "chord", 75), (_ALL, 0.2, "chord", 70))),
            ((((0, 0.5, 1, 2, 2.5, 2.75, 3), 0.1, "snare", 75),), ((_OFF, 0.1, "snare", 70),)),
            (((_ALL, 0.2, "kick", 90),), (((0, 2), 0.2, "kick", 90),)),
        ),
    ),
    "synths": (
        (112, 132),
        (
            (((_ALL, 0.2, "kick", 105),), (((0, 2), 0.2, "kick", 105),)),
            (
                ((_EIGHTHS, 0.4, "root", 92),),
                ((_OFF, 0.4, "root", 95),),
                (
                    ((0.25, 0.5, 0.75, 1.25, 1.5, 1.75), 0.2, "root", 92),
                    ((2.25, 2.5, 2.75, 3.25, 3.5, 3.75), 0.2, "root", 92),
                ),
            ),
            ((((1, 3), 0.2, "clap", 95),),),
            (((_SIXTEENTHS, 0.2, "pick", 70),), (((0, 1.5, 3), 0.6, "chord", 80),)),
        ),
    ),
    "off-beat waltz": (
        (90, 150),
        (
            ((((0,), 0.9, "root", 95),),),
            ((((0.5, 1, 1.5, 2, 2.5), 0.3, "chord", 75),), (((0.5, 1.5, 2.5), 0.3, "chord", 82),)),
            ((((0, 1, 2), 0.1, "hat", 60),), (((0.5, 1.5, 2.5), 0.1, "hat", 65),)),
        ),
    ),
    "jump": (
        (140, 176),
        (
            ((((0,), 0.9, "root", 92), ((1,), 0.9, "third", 88), ((2,), 0.9, "fifth", 92), ((3,), 0.9, "walk", 88)),),
            ((((0, 1, 1.5, 2, 3, 3.5), 0.2, "ride", 75),), (((0.5, 1.5, 2.5, 3.5), 0.2, "clap", 60),)),
            ((((1, 3), 0.2, "snare", 85),),),
            (_SKANK, (((1.5, 3.5), 0.3, "chord", 85),)),
        ),
    ),
}
_CHORDS = (
    "i IV",
    "I V vi IV",
    "I IV V I",
    "i VII",
    "I I IV V",
    "vi IV I V",
    "i i IV IV",
    "I IV",
    "ii V I I",
    "I I I I",
)
_BANDS = ("waltz", "steel", "jazz", "pop", "jig", "banjo", "organ")


def between(lot: int, kinds: tuple[str, ...] = tuple(KINDS), each: int = 2) -> tuple[Fresh, ...]:
    """So many of each kind."""
    draw = np.random.default_rng((lot, 17))
    return tuple(_drawn(kind, draw) for kind in kinds for _ in range(each))


def _drawn(kind: str, draw: np.random.Generator) -> Fresh:
    tempos, parts = (KINDS | LATER)[kind]
    tempo = float(draw.uniform(*tempos))
    played = [part[int(draw.integers(len(part)))] for part in parts]
    table = tuple((at, long, what, _loud(loud, draw)) for rows in played for at, long, what, loud in rows)
    meter = 3 if "waltz" in kind else 4
    bars = round(SECONDS * tempo / (60 * meter))
    return Fresh(
        f"{kind} {tempo:.0f}",
        tempo,
        _one(_BANDS, draw),
        _one(_CHORDS, draw),
        (Section(bars, kind),),
        meter,
        told=float(draw.uniform(0.985, 1.015)),
        wander=float(draw.choice([0, 0.01])),
        key=56 + int(draw.integers(0, 10)),
        font=_one(("fluid", "tim"), draw),
        tables={kind: table},
    )


def _loud(loud: int, draw: np.random.Generator) -> int:
    return int(np.clip(loud + draw.normal(0, 9), 30, 120))


def _one(words: tuple[str, ...], draw: np.random.Generator) -> str:
    return words[int(draw.integers(len(words)))]
