"""One word in block letters: all that is painted before there is a class to show."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget

from caller.screen.letters import fit


class Splash(Widget):
    def render(self) -> Content:
        return Content("\n".join(fit("getting ready", *self.size, tallest=14).lines))
