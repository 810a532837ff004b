"""Sheets of the corpus, saved as documents by other programs, against what comes out of them:

    python -m tests.bench.bench_intake [SHEETS]

Each sheet is laid out three ways (paragraphs, a table for each section, two columns), printed by Chromium, and saved as
Word, OpenDocument, RTF and PDF by LibreOffice and pandoc, as far as those are installed. Told is how many come out line
for line as they were typed (white space and typographic quotes apart), and how long a file takes.
"""

from __future__ import annotations

import html
import shutil
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from caller.intake.found import UnreadableFile
from caller.intake.take import take_in
from caller.routine.count import read_counts
from tests.corpus.sheets import sheet_text, sound_sheets

STYLE = """@page { size: A4; margin: 18mm } body { font: 11pt serif } p { margin: 0 }
td { vertical-align: top; padding: 0 8pt 0 0 } .columns { columns: 2; column-gap: 10mm; font-size: 9pt }"""
TYPOGRAPHIC = str.maketrans(
    {"\u2019": "'", "\u2018": "'", "\u201c": '"', "\u201d": '"', "\u2013": "-", "\u2026": "..."}
)


def paragraph(line: str) -> str:
    return f"<p>{html.escape(line) or '&nbsp;'}</p>"


def in_paragraphs(lines: list[str]) -> Iterator[str]:
    yield from map(paragraph, lines)


def in_columns(lines: list[str]) -> Iterator[str]:
    head = lines.index("") if "" in lines else 0
    yield from map(paragraph, lines[:head])
    yield f'<div class="columns">{"".join(map(paragraph, lines[head:]))}</div>'


def in_tables(lines: list[str]) -> Iterator[str]:
    """Counts in one cell and their steps in the next."""
    rows: list[str] = []
    for line in [*lines, ""]:
        counts = read_counts(line)
        if counts is not None and line[counts.end :].strip() and not line[:1].isalpha():
            cells = line[: counts.end].strip(), line[counts.end :].strip()
            rows.append("".join(f"<td>{html.escape(cell)}</td>" for cell in cells))
            continue
        if rows:
            yield f"<table>{''.join(f'<tr>{row}</tr>' for row in rows)}</table>"
            rows = []
        yield paragraph(line)


LAYOUTS: dict[str, Callable[[list[str]], Iterable[str]]] = {
    "paragraphs": in_paragraphs,
    "tables": in_tables,
    "columns": in_columns,
}


def pages(folder: Path, most: int) -> dict[str, list[str]]:
    """The sheets as web pages; the lines of each, by the name of its file."""
    typed: dict[str, list[str]] = {}
    for half, name in list(sound_sheets())[:most]:
        lines = sheet_text(half, name).removeprefix("\ufeff").split("\n")
        for layout, laid in LAYOUTS.items():
            stem = f"{half}-{name}.{layout}"
            body = f"<style>{STYLE}</style></head><body>{''.join(laid(lines))}</body></html>"
            (folder / f"{stem}.html").write_text(f'<!DOCTYPE html><html><head><meta charset="utf-8">{body}', "utf-8")
            typed[stem] = plain_lines("\n".join(lines))
    return typed


def plain_lines(text: str) -> list[str]:
    return [" ".join(line.translate(TYPOGRAPHIC).split()) for line in text.split("\n") if line.strip()]


def quietly(*command: str) -> None:
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=600)


def documents(folder: Path) -> Iterator[tuple[str, list[Path]]]:
    """What each program made of the pages."""
    made = sorted(folder.glob("*.html"))
    flowing = [path for path in made if ".columns" not in path.name]
    yield "web pages", made
    if shutil.which("chromium"):
        for page in made:
            target = f"--print-to-pdf={page.with_suffix('.pdf')}"
            quietly(
                "chromium",
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--no-pdf-header-footer",
                target,
                page.as_uri(),
            )
        yield "Chromium, PDF", sorted(folder.glob("*.pdf"))
    if shutil.which("soffice"):
        for kind in ("docx:MS Word 2007 XML", "odt:writer8", "rtf:Rich Text Format", "pdf:writer_pdf_Export"):
            out = folder / f"office-{kind[:3]}"
            source = "--infilter=HTML (StarWriter)"
            quietly("soffice", "--headless", source, "--convert-to", kind, "--outdir", str(out), *map(str, flowing))
            yield f"LibreOffice, {kind.partition(':')[0]}", sorted(out.iterdir())
    if shutil.which("pandoc"):
        for kind in ("docx", "odt", "rtf"):
            out = folder / f"pandoc-{kind}"
            out.mkdir()
            for page in flowing:
                quietly("pandoc", "-s", "-t", kind, "-o", str(out / f"{page.stem}.{kind}"), str(page))
            yield f"pandoc, {kind}", sorted(out.iterdir())


def main(most: int = 24) -> None:
    with tempfile.TemporaryDirectory() as name:
        typed = pages(Path(name), most)
        for maker, files in documents(Path(name)):
            right: dict[str, int] = defaultdict(int)
            total: dict[str, int] = defaultdict(int)
            begun = time.process_time()
            for file in files:
                layout = file.stem.rpartition(".")[2]
                total[layout] += 1
                try:
                    right[layout] += plain_lines(take_in(file.read_bytes()).text) == typed[file.stem]
                except UnreadableFile as fault:
                    print(f"{file.name}: {fault}")
            took = 1000 * (time.process_time() - begun) / len(files)
            told = ", ".join(f"{layout} {right[layout]} of {n}" for layout, n in total.items())
            print(f"{maker:18} {told}; {took:.0f} ms a file")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
