"""``python -m caller``."""

from caller.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
