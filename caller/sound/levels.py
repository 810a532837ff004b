"""How far speech stands over what is under it, and what ducking has to add.

Conventions: loudness in LUFS, differences in LU, depths in dB (0 = none), gains as factors.

At least 10 LU (Torcoli et al., JAES 67(12), 2019); 20 dB where people are hard of hearing (WCAG 2.1, 1.4.7).
"""

from __future__ import annotations

from math import log10

from caller.sound.clicks import CLICK_GAIN
from caller.sound.loudness import COUNT_TRACK_LUFS, SPEECH_LUFS

LEAST_OVER_LU, MOST_OVER_LU = 10.0, 20.0


def duck_for(over_lu: float = LEAST_OVER_LU, count_gain: float = CLICK_GAIN, music_lufs: float | None = None) -> float:
    """The depth in dB for a score's ``duck_db`` that puts speech ``over_lu`` over the fullest of what is under it.

    count_gain: of the count track (0 = none). music_lufs: how loud the music is (None: none). Raises ValueError outside
    10 to 20 LU.
    """
    if not LEAST_OVER_LU <= over_lu <= MOST_OVER_LU:
        raise ValueError(f"speech stands {LEAST_OVER_LU:g} to {MOST_OVER_LU:g} LU over the rest, not {over_lu:g}")
    under = [] if music_lufs is None else [music_lufs]
    if count_gain > 0:
        under.append(COUNT_TRACK_LUFS + 20 * log10(count_gain / CLICK_GAIN))
    if not under:
        return 0.0
    together = 10 * log10(sum(10 ** (lufs / 10) for lufs in under))
    return max(0.0, together - SPEECH_LUFS + over_lu)
