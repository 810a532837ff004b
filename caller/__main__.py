"""The process: ``python -m caller``, and the command ``caller``.

It begins with its three streams there, and ends at once, whatever threads still run. The interpreter's own end would
wait for pools of threads, and take its lock from threads that are inside a library of C++: the first of those to come
back for it ends the process by SIGABRT ("terminate called without an active exception"), as a class did that was left
while its voice was being rendered. What has to be closed is closed by whoever opened it, before this.

Conventions: nothing is imported here that takes time, so that Ctrl+C is heeded from the first moment on.
"""

import os
import sys

# Python puts the working folder first; a ``numpy.py`` beside a sheet is not what we mean to import. (What Python itself
# imports before this line it has looked for there already; ``python -P -m caller`` and the command ``caller`` don't.)
if not sys.flags.safe_path and sys.path and os.path.realpath(sys.path[0]) == os.path.realpath(os.curdir):
    home = os.path.dirname(os.path.dirname(os.path.realpath(__file__)))
    working = sys.path.pop(0)
    if os.path.realpath(working) == home:  # a checkout that isn't installed: found, but last
        sys.path.append(working)

INTERRUPTED = 130  # a shell's exit status for Ctrl+C
NO_SUCH_STREAM = 3  # the first descriptor that is none of the three


def program() -> None:
    """Runs what the command line says, and ends the process with its exit status."""
    try:
        open_streams()
        from caller.cli import main

        status = main()
    except SystemExit as left:
        status = _status(left.code)
    except KeyboardInterrupt:
        status = INTERRUPTED
    except BaseException:
        sys.excepthook(*sys.exc_info())
        status = 1
    end(status)


def open_streams() -> None:
    """Those that the program was started without lead nowhere. Otherwise the next file that is opened, a recording or
    the class book, would be in their place, and be written into by every library that prints."""
    while (descriptor := os.open(os.devnull, os.O_RDWR)) < NO_SUCH_STREAM:
        os.set_inheritable(descriptor, True)
    os.close(descriptor)
    for number, name, mode in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        if getattr(sys, name) is None:
            stream = open(number, mode, encoding="utf-8", errors="replace", closefd=False)  # noqa: SIM115 (to the end)
            setattr(sys, name, stream)


def end(status: int) -> None:
    """What has been printed goes out first."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):  # nobody reads on
            continue
    os._exit(status)


def _status(code: object) -> int:
    """As the interpreter takes what SystemExit carries."""
    if code is None:
        return 0
    if isinstance(code, int):
        return code & 0xFF
    print(code, file=sys.stderr)
    return 1


if __name__ == "__main__":
    program()
