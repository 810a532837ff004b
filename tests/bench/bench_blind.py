"""Strangers' sheets danced blind from the standard voice's calls of their first walls.

Run: ``python -m tests.bench.bench_blind [BATCHES] [WORST]``. BATCHES: letters, such as "bdf"; WORST: how many
sheets are told of. Each foot on its count as the author tells it; once a dancer is on the wrong foot all is wrong up
to the next call that names one, so a sheet's share says more of where it goes wrong than of how often.
"""

from __future__ import annotations

import sys

from caller.calls.needed import phrases_needed
from caller.calls.plan import Manner
from caller.cli.running import ready_voice
from tests.calls.danced import blindly, known_sheets


def main(batches: str, worst: int) -> None:
    known = list(known_sheets(batches))
    voice = ready_voice("standard", {one for sheet in known for one in phrases_needed(sheet.dance, Manner.AHEAD)})
    found = [blindly(sheet, voice, voice.clip) for sheet in known]
    moves, right = sum(len(one.sheet.truth) for one in found), sum(one.right for one in found)
    print(f"{len(found)} sheets: {right} of {moves} movements danced right ({100 * right / moves:.1f} %)")
    print(f"without a fault: {sum(not one.missed for one in found)}")
    for one in sorted(found, key=lambda one: one.right / len(one.sheet.truth))[:worst]:
        first = ", ".join(f"{moved.foot} on {float(moved.at + 1):g}" for moved in one.missed[:4])
        print(f"  {one.sheet.name} {one.right} of {len(one.sheet.truth)}, first missed: {first}")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "", int(sys.argv[2]) if len(sys.argv) > 2 else 10)
