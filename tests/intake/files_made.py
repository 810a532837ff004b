"""The files that other programs made (``files/made.sh``)."""

from __future__ import annotations

from pathlib import Path

FOLDER = Path(__file__).parent / "files"

# As slate-yard.fodt reads on the page, whatever it was saved as.
SLATE_YARD = """Slate Yard
Count: 32 Wall: 4 Level: Improver
Choreographer: the Quarry Hall Tuesday class
Intro: 16 counts
Tempo: 112
Section 1: Walks, shuffle, rock, coaster
1-2 Walk forward R, L
3&4 Right shuffle forward
5-6 Rock L forward, recover onto R
7&8 Left coaster step 12:00
Section 2: Vine right, vine left ¼ turn
1-4 Step R to side, step L behind R, step R to side, touch L beside R
5-8 Step L to side, step R behind L, turn ¼ left stepping L forward, touch R beside L 9:00
Section 3: Rocking chair, jazz box
1-4 Rock R forward, recover L, rock R back, recover L
5-8 Cross R over L, step L back, step R to side, step L forward
Section 4: Side, together, sway
1-4 Step R to side, step L beside R, step R to side, touch L beside R
5-8 Sway L, R, L, R, weight on L at the end
Tag: after wall 2
1-4 Sway R, L, R, L
• Keep the walks small.
• Have a good time!
""".splitlines()


def made(name: str) -> bytes:
    return (FOLDER / name).read_bytes()


def lines_of(text: str) -> list[str]:
    """Lines without empty ones, and with one space where there may be more."""
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]
