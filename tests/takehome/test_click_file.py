"""The click file, read by pretty_midi and by its bytes."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import mido
import numpy as np
import pretty_midi
import pytest

from caller.sound.score import RATE
from caller.takehome.click_file import click_file, tempo_of
from caller.takehome.packet import take_of_version
from tests.fakes.dances import HALF_BAR, PIVOTS, SWAYS, WALKS, dance_of
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import STEMS, a_take, version


@pytest.mark.parametrize("stem", STEMS)
@pytest.mark.parametrize("name", ["half-counts", "full-called"])
def test_its_clicks_fall_where_the_recordings_fall(stem: str, name: str, tmp_path: Path) -> None:
    take = a_take(stem, name)
    (tmp_path / "clicks.mid").write_bytes(click_file(take, "a title"))
    read = pretty_midi.PrettyMIDI(str(tmp_path / "clicks.mid"))
    (drum,) = read.instruments
    assert drum.is_drum
    frames = [p.frame for p in take.score.placements if p.kind == "count"]
    heard = sorted(note.start for note in drum.notes)
    # Tempo is whole microseconds a quarter, so a click may be half a microsecond a count away, and a rounded frame.
    assert np.abs(np.array(heard) - np.array(frames) / RATE).max() < 0.5e-6 * len(frames) + 1 / RATE


def test_accents_are_high_wood_blocks_and_the_rest_low_ones(tmp_path: Path) -> None:
    """General MIDI 1 (RP-003) percussion map, by pretty_midi's own table."""
    take = a_take("slow-water")
    (tmp_path / "clicks.mid").write_bytes(click_file(take, "a title"))
    (drum,) = pretty_midi.PrettyMIDI(str(tmp_path / "clicks.mid")).instruments
    names = [pretty_midi.note_number_to_drum_name(note.pitch) for note in sorted(drum.notes, key=lambda n: n.start)]
    assert names == ["Hi Wood Block", "Low Wood Block", "Low Wood Block"] * (len(names) // 3)


@pytest.mark.parametrize(("tempo", "written"), [(120, "FF510307A120"), (100, "FF51030927C0")])
def test_the_tempo_is_written_as_the_standard_has_it(tempo: int, written: str, tmp_path: Path) -> None:
    """Standard MIDI File 1.1 (RP-001): FF 51 03 and microseconds a quarter; 4/4 is FF 58 04 04 02 18 08."""
    voice = MeasuredVoice()
    take = take_of_version(dance_of(1), version("full-counts"), Fraction(tempo), voice, voice.clip)
    (tmp_path / "clicks.mid").write_bytes(click_file(take, "a title"))
    content = (tmp_path / "clicks.mid").read_bytes()
    assert content.startswith(b"MThd" + bytes([0, 0, 0, 6, 0, 1, 0, 2, 480 >> 8, 480 & 255]))
    assert bytes.fromhex(written) in content
    assert bytes.fromhex("FF580404021808") in content


def test_in_six_eight_a_count_is_an_eighth() -> None:
    assert tempo_of(Fraction(120), 4) == 500_000
    assert tempo_of(Fraction(120), 8) == 1_000_000


def test_markers_stand_at_every_section_and_wall(tmp_path: Path) -> None:
    take = a_take("lantern-row")
    (tmp_path / "clicks.mid").write_bytes(click_file(take, "Lantern Row"))
    file = mido.MidiFile(tmp_path / "clicks.mid", charset="utf-8")
    at, markers = 0, []
    for message in file.tracks[0]:
        at += message.time
        if message.type == "marker":
            markers.append((at / 480, message.text))
    stretches = [(float(s.at) + 8, s, w) for w in take.dance.walls for s in w.stretches]
    assert markers[0] == (0, "Count-in")
    assert [beat for beat, _ in markers[1:]] == [beat for beat, _, _ in stretches]
    assert all(f"Wall {w.number}" in text for (_, text), (_, _, w) in zip(markers[1:], stretches, strict=True))
    assert "Wall 3: tag" in [text for _, text in markers]


def test_a_half_bar_tag_is_a_bar_of_its_own_so_that_bars_go_on_from_it(tmp_path: Path) -> None:
    dance = dance_of(2, (WALKS, PIVOTS), tags={1: HALF_BAR, 2: SWAYS})
    voice = MeasuredVoice()
    take = take_of_version(dance, version("full-counts"), Fraction(120), voice, voice.clip)
    (tmp_path / "clicks.mid").write_bytes(click_file(take, "a title"))
    read = pretty_midi.PrettyMIDI(str(tmp_path / "clicks.mid"))
    assert [(s.numerator, s.time) for s in read.time_signature_changes] == [(4, 0), (2, 12), (4, 13)]
    bars = read.get_downbeats()
    accents = [n.start for n in read.instruments[0].notes if n.pitch == 76]
    assert np.allclose(sorted(accents), bars[: len(accents)])
