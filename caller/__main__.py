"""``python -m caller``."""

import os
import sys

# Python puts the working folder first; a ``numpy.py`` beside a sheet is not what we mean to import. (What Python itself
# imports before this line it has looked for there already; ``python -P -m caller`` and the command ``caller`` don't.)
if not sys.flags.safe_path and sys.path and os.path.realpath(sys.path[0]) == os.path.realpath(os.curdir):
    home = os.path.dirname(os.path.dirname(os.path.realpath(__file__)))
    working = sys.path.pop(0)
    if os.path.realpath(working) == home:  # a checkout that isn't installed: found, but last
        sys.path.append(working)

from caller.cli.ending import program

if __name__ == "__main__":
    program()
