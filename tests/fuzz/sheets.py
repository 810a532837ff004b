"""Coverage-guided fuzzing of the reader, the check, the unroller and the writer.

    python -m tests.fuzz.sheets -runs=100000 -max_len=600 CORPUS

Needs ``atheris`` (Linux, macOS). CORPUS is a folder that grows as new paths are found; :func:`seed` fills a new one
with the sheets of the test corpus. Any exception, and any input that takes over a second, stops it and is written
down.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

MOST_SECONDS = 1.0
FRONT = b"Title: T\nTempo: 100\nSection 1\n"


def one_input(raw: bytes, most_seconds: float = MOST_SECONDS) -> None:
    """One run: raises what goes wrong."""
    from caller.dance.check import check, has_errors
    from caller.dance.unroll import unroll
    from caller.routine.notation.read import read_bytes, read_sheet
    from caller.routine.notation.write import write_sheet

    begun = time.process_time()
    for text in (raw, FRONT + raw):
        sheet = read_bytes(text)
        findings = check(sheet)
        routine = sheet.routine
        if not has_errors(findings):
            unroll(routine, 4)
            try:
                written = write_sheet(sheet)
            except ValueError:
                continue  # what it says where a part of the sheet could not be read
            steps = [passage.steps for passage in routine.passages]
            again = [passage.steps for passage in read_sheet(written).routine.passages]
            assert again == steps, "a sheet that passes is not danced the same after writing"
    assert time.process_time() - begun < most_seconds, "too slow"


def seed(folder: Path) -> None:
    """The corpus's sheets, and each of their lines, as first inputs."""
    from tests.corpus.sheets import sheet_text, sound_sheets

    folder.mkdir(parents=True, exist_ok=True)
    lines: set[str] = set()
    for half, name in sound_sheets():
        text = sheet_text(half, name)
        (folder / f"{name}.txt").write_bytes(text.encode())
        lines |= set(text.splitlines())
    for n, line in enumerate(sorted(lines)):
        (folder / f"line-{n}").write_bytes(line.encode())


def main(arguments: list[str]) -> None:
    import atheris  # type: ignore[import-untyped]

    with atheris.instrument_imports(include=["caller"]):
        import caller.dance.check
        import caller.dance.unroll
        import caller.routine.notation.write  # noqa: F401
    for argument in arguments[1:]:
        if not argument.startswith("-"):
            seed(Path(argument))
    atheris.Setup(arguments, one_input)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv)
