"""The two looks, dark and light: inks and papers, every pair of them at least 7 : 1 (WCAG 1.4.6; the tests measure it
on the running screen, in full colour and in 16).

Conventions: names tell what an ink is for, and stand in class_screen.tcss as ``$name``; none is a name of Textual's
own. Meaning never rests on colour alone.
"""

from __future__ import annotations

from enum import Enum


class Look(Enum):
    DARK = "dark"
    LIGHT = "light"

    @property
    def other(self) -> Look:
        return Look.LIGHT if self is Look.DARK else Look.DARK


INKS: dict[Look, dict[str, str]] = {
    Look.DARK: {
        "paper": "#11161d",
        "side-paper": "#18202a",
        "ink": "#f4efe4",
        "soft-ink": "#c9d3dd",
        "next-ink": "#b9cbdc",
        "count-ink": "#f2d48a",
        "room-ink": "#b8e0cb",
        "alert-paper": "#f2d48a",
        "alert-ink": "#11161d",
    },
    Look.LIGHT: {
        "paper": "#fbf8f1",
        "side-paper": "#fffdf8",
        "ink": "#14110c",
        "soft-ink": "#20262d",
        "next-ink": "#00106b",
        "count-ink": "#5c1a00",
        "room-ink": "#003d2b",
        "alert-paper": "#4a1500",
        "alert-ink": "#fffdf8",
    },
}
