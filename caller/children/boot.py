"""Where every child of ours begins:

    python -I boot.py OPTIONS MODULE WORD...

Conventions: ``-I`` leaves out the working folder, the environment's Python words and the user's own folder, so that a
``numpy.py`` beside a sheet is never run. This package is then loaded from its own place, and whatever else the parent
could import is looked for last. OPTIONS is JSON: ``package`` (this package's ``__init__.py``), ``paths``,
``memory_bytes`` (0 = no limit; held to by Linux), ``cpu_seconds`` (0 = no limit; not held to by Windows), ``nice``,
``ends_with_stdin``. Nothing but the standard library is imported here.
"""

from __future__ import annotations

import importlib.util
import json
import os
import runpy
import sys
import threading
from typing import Any


def own_package(init_file: str) -> None:
    """``caller`` from that file, whatever else bears its name."""
    spec = importlib.util.spec_from_file_location("caller", init_file)
    if spec is None or spec.loader is None:
        raise ImportError(f"{init_file} can't be loaded")
    package = importlib.util.module_from_spec(spec)
    sys.modules["caller"] = package
    spec.loader.exec_module(package)


def bound(options: dict[str, Any]) -> None:
    """Limits of memory and of the processor."""
    if options["memory_bytes"] and sys.platform == "linux":
        import resource

        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        most = options["memory_bytes"] if hard == resource.RLIM_INFINITY else min(options["memory_bytes"], hard)
        resource.setrlimit(resource.RLIMIT_AS, (most, hard))
    if options["cpu_seconds"] and sys.platform != "win32":
        import resource

        _, hard = resource.getrlimit(resource.RLIMIT_CPU)
        most = options["cpu_seconds"] if hard == resource.RLIM_INFINITY else min(options["cpu_seconds"], hard)
        resource.setrlimit(resource.RLIMIT_CPU, (most, hard))
    if options["nice"] and hasattr(os, "nice"):
        os.nice(options["nice"])


def end_with_parent() -> None:
    """Until standard input ends, which it does however the parent ends."""
    while os.read(0, 4096):
        pass
    os._exit(1)


def main() -> None:
    options = json.loads(sys.argv[1])
    module, *words = sys.argv[2:]
    # A boot script's own folder is left out by -I; where somebody starts it without, it would be first.
    sys.path += [path for path in options["paths"] if path not in sys.path]
    own_package(options["package"])
    # numpy's library for products of matrices keeps a thread for each core, which waits for the next one busily: of
    # ours, which are small, none is the quicker for it, and the class wants the other core.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    bound(options)
    if options["ends_with_stdin"]:
        threading.Thread(target=end_with_parent, name="parent", daemon=True).start()
    sys.argv = [module, *words]
    runpy.run_module(module, run_name="__main__", alter_sys=True)


if __name__ == "__main__":
    main()
