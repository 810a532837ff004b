"""A session that is being made elsewhere while the screen is up already.

Conventions: made on a thread of its own, which never touches the screen; the screen asks at each look. Whatever making
it raised by then is raised again by :meth:`SessionLoader.close`, which waits for nothing: a class that is left before
it is there is closed by the thread that makes it, or ends with the program.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from caller.session import Live


class SessionLoader:
    """session: None until it is there. failed: it never will be."""

    def __init__(self, make: Callable[[], Live]) -> None:
        self.session: Live | None = None
        self._make = make
        self._fault: BaseException | None = None
        self._left = False
        self._handing_over = threading.Lock()
        self._thread = threading.Thread(target=self._run, name="opening the session", daemon=True)

    @property
    def failed(self) -> bool:
        return self._fault is not None

    def begin(self) -> None:
        """Once, when the screen has been painted, so that the two don't share the processor before."""
        if self._thread.ident is None:
            self._thread.start()

    def close(self) -> None:
        """Closes the session, if one is there. Raises what making it raised."""
        with self._handing_over:
            self._left = True
        if self.session is not None:
            self.session.close()
        if self._fault is not None:
            raise self._fault

    def _run(self) -> None:
        try:
            made = self._make()
        except BaseException as fault:  # also SystemExit: the one who opened is told, not this thread
            self._fault = fault
            return
        with self._handing_over:
            if not self._left:
                self.session = made
                return
        made.close()
