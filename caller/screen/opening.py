"""A session that is being made elsewhere while the screen is up already.

Conventions: made on a thread of its own, which never touches the screen; the screen asks at each look. Whatever making
it raised is raised again by :meth:`Opening.close`.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from caller.session import Live

# How long leaving waits for a session that is still being made.
PATIENCE_SECONDS = 5.0


class Opening:
    """session: None until it is there. failed: it never will be."""

    def __init__(self, make: Callable[[], Live]) -> None:
        self.session: Live | None = None
        self._make = make
        self._fault: BaseException | None = None
        self._thread = threading.Thread(target=self._run, name="opening the session", daemon=True)

    @property
    def failed(self) -> bool:
        return self._fault is not None

    def begin(self) -> None:
        """Once, when the screen has been painted, so that the two don't share the processor before."""
        if self._thread.ident is None:
            self._thread.start()

    def close(self) -> None:
        """Closes the session, if one was made or still is. Raises what making it raised."""
        if self._thread.ident is not None:
            self._thread.join(PATIENCE_SECONDS)
        if self.session is not None:
            self.session.close()
        if self._fault is not None:
            raise self._fault

    def _run(self) -> None:
        try:
            self.session = self._make()
        except BaseException as fault:  # also SystemExit: the one who opened is told, not this thread
            self._fault = fault
