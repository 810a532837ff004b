"""``caller takehome`` with the real synthesiser, on real processes; its page printed by a real browser."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import mutagen
import pytest
import srt
import webvtt

from caller.cli import main
from caller.cli.sheets import load, shipped_folder
from caller.dance.unroll import unroll
from caller.routine.vocabulary import shipped
from caller.takehome.page import page_html, sheet_page
from tests.parts.conftest import need
from tests.parts.waiting import until

pytestmark = pytest.mark.parts

BROWSERS = ("chromium", "chromium-browser", "google-chrome")


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CALLER_ROUTINES", str(tmp_path / "none"))


def part(name: str, *others: str) -> str:
    """Where a program is; without it the test is skipped, or fails where real parts are required."""
    found = next((where for one in (name, *others) if (where := shutil.which(one))), "")
    need("" if found else f"{name} is not installed here")
    return found


def takehome(capsys: pytest.CaptureFixture[str], *words: str) -> list[Path]:
    assert main(["takehome", *words, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert list(found) == ["files"]
    return [Path(file) for file in found["files"]]


def test_a_folder_to_take_home_is_whole_and_a_second_run_makes_nothing_anew(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ("Chalk Line", "-o", str(tmp_path / "home"), "--walls", "1", "--kind", "flac")
    files = takehome(capsys, *words)
    assert sorted(files) == sorted((tmp_path / "home").iterdir())
    assert [sum(f.suffix == s for f in files) for s in (".flac", ".vtt", ".srt", ".mid", ".html")] == [6, 3, 3, 1, 1]
    lengths = {f.stem.removeprefix("chalk-line-"): mutagen.File(f).info.length for f in files if f.suffix == ".flac"}
    assert lengths["half-called"] == pytest.approx(2 * lengths["full-called"], rel=0.05)
    called = next(f for f in files if f.name.endswith("half-called.vtt"))
    heard = [caption.text for caption in webvtt.read(str(called))]
    assert "right foot, walk, two, three" in heard
    assert heard == [one.content for one in srt.parse(called.with_suffix(".srt").read_text(encoding="utf-8"))]
    stamps = {file: file.stat().st_mtime_ns for file in files if file.suffix == ".flac"}
    assert takehome(capsys, *words) == files
    assert {file: file.stat().st_mtime_ns for file in stamps} == stamps


def test_a_run_that_is_killed_leaves_whole_files_and_the_next_one_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """kill -9 as soon as the first recording is there, of a run that had to render its speech."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    words = [sys.executable, "-m", "caller", "takehome", "Chalk Line", "-o", str(tmp_path / "home"), "--cores", "1"]
    with subprocess.Popen(words, stdout=subprocess.DEVNULL) as run:
        until(lambda: run.poll() is not None or list((tmp_path / "home").glob("*.mp3")) != [], 120, "a first recording")
        run.kill()
    made = list((tmp_path / "home").glob("*.mp3"))
    assert 1 <= len(made) < 6
    stamps = {file: file.stat().st_mtime_ns for file in made}
    assert all(mutagen.File(file).tags["TXXX:CALLER_MADE_FROM"] for file in made)
    assert subprocess.run(words, stdout=subprocess.DEVNULL, check=False).returncode == 0
    assert len(list((tmp_path / "home").glob("*.mp3"))) == 6
    assert {file: file.stat().st_mtime_ns for file in made} == stamps


def test_the_page_prints_with_every_word_on_it_and_nothing_cut_off(tmp_path: Path) -> None:
    browser, to_text, to_boxes = part("chromium", *BROWSERS), part("pdftotext"), part("pdfinfo")
    read = load(shipped_folder("routines") / "lantern-row.txt").read
    page = tmp_path / "page.html"
    page.write_text(page_html(sheet_page(unroll(read.routine, 7), shipped())), encoding="utf-8")
    pdf = tmp_path / "page.pdf"
    subprocess.run(
        [
            browser,
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            f"--user-data-dir={tmp_path / 'browser'}",
            "--no-pdf-header-footer",
            f"--print-to-pdf={pdf}",
            page.as_uri(),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    told = subprocess.run([to_boxes, str(pdf)], check=True, capture_output=True, text=True).stdout
    assert "A4" in told
    pages = int(next(line.split()[1] for line in told.splitlines() if line.startswith("Pages:")))
    assert 2 <= pages <= 4
    text = " ".join(
        subprocess.run([to_text, "-layout", str(pdf), "-"], check=True, capture_output=True, text=True).stdout.split()
    )
    for words in ("Lantern Row", "Section 4: Half pivot", "Tag: after wall 3", "Right rocking chair", "12:00 (front)"):
        assert words in text, words
    # No word reaches beyond the paper's edge: the places of all words lie on the page.
    boxes = subprocess.run([to_text, "-bbox", str(pdf), "-"], check=True, capture_output=True, text=True).stdout
    places = [line for line in boxes.splitlines() if "<word" in line]
    assert len(places) > 100
    wide = float(boxes.split('<page width="')[1].split('"')[0])
    assert all(float(p.split('xMin="')[1].split('"')[0]) >= 0 for p in places)
    assert all(float(p.split('xMax="')[1].split('"')[0]) <= wide for p in places)


def test_a_whole_library_has_a_folder_for_each_routine(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    files = takehome(capsys, "--all", "-o", str(tmp_path / "home"), "--walls", "1", "--kind", "flac")
    folders = {file.parent.name for file in files}
    assert folders == {"chalk-line", "lantern-row", "slow-water", "tin-roof-swing"}
    assert len(files) == 4 * 14
    assert all(file.stat().st_size for file in files)


@pytest.mark.parametrize("words", [(), ("Chalk Line", "--all")])
def test_one_sheet_or_all_must_be_said(
    words: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["takehome", *words, "-o", str(tmp_path)]) == 2
    assert "--all" in capsys.readouterr().err


def test_a_drill_is_recorded_with_its_stages_as_chapters(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "drill.mp3"
    assert main(["drill", "Chalk Line", "--section", "1", "--times", "2", "--record", str(file), "--json"]) == 0
    made = json.loads(capsys.readouterr().out)
    tags = mutagen.File(file)
    assert [str(tags[f"CHAP:chp{n:03}"].sub_frames["TIT2"]) for n in range(1)] == ["Section 1"]
    assert [stage["name"] for stage in made["stages"]] == ["Section 1"]
    assert abs(tags.info.length - made["seconds"]) < 0.1
    # The announcement, and twice 8 counts counted in by 4 at half of 96 a minute.
    assert made["seconds"] > 2 * 12 * 60 / 48
