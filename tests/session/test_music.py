"""Dancing to music: wherever the dance is gone into, and however fast, the music is at the same place."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from caller.calls.music import EDGE_FRAMES, SEAM_FRAMES
from caller.sound.score import RATE, Clip, Placement
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.music import HandMusic
from tests.fakes.songs import click, song_of
from tests.session.classroom import COUNT, TEMPO, Class, NoVoice, looked

FIRST = Fraction(3, 5)
INTRO = 16  # as the sheet of Lantern Row has it


def hand_music(*tempos: Fraction | int) -> HandMusic:
    music = HandMusic(lambda asked: song_of(TEMPO, asked, seconds=60, first_seconds=FIRST))
    if tempos:
        music.arrive(*tempos)
    return music


@pytest.fixture
def room() -> Class:
    return Class(music=hand_music(120, 90, 60))


def playing(room: Class) -> list[Placement]:
    """The music that sounds at the ear now."""
    frame = room.session.air.frame(room.speaker.now())
    found = room.session.air.playout.at(frame)
    assert found is not None
    at = found.piece_frame(frame)
    return [p for p in found.piece.score.sounding(at, at + 1) if p.kind == "music"]


def music_is_at(room: Class) -> float:
    """Which count of the sheet's dance the music at the ear belongs to: from the version's own tempo alone."""
    frame = room.session.air.frame(room.speaker.now())
    found = room.session.air.playout.at(frame)
    [placed] = playing(room)
    assert found is not None
    assert placed.part is not None
    tempo = Fraction(placed.clip.key.removeprefix("clicks "))
    seconds = (placed.part.first + found.piece_frame(frame) - placed.frame) / RATE
    return float((seconds - FIRST * TEMPO / tempo) * tempo / 60 - INTRO)


def dance_is_at(room: Class) -> float:
    """The count of the sheet's dance at the ear, by the take's own timeline."""
    frame = room.session.air.frame(room.speaker.now())
    found = room.session.air.playout.at(frame)
    assert found is not None
    count = found.piece.timeline.count_at(found.piece_frame(frame))
    return float(room.session.programme.route.sheet_count(count))


def in_step(room: Class) -> bool:
    return abs(music_is_at(room) - dance_is_at(room)) < 0.001


def test_the_music_begins_at_its_beginning_and_the_dance_after_the_intro(room: Class) -> None:
    assert looked(room.session).state is State.READY
    room.order(Order.GO)
    room.danced(1)
    assert looked(room.session).glance is not None
    view = room.danced(INTRO - 1)  # the pick-up is 1.2 counts
    assert (view.state, in_step(room)) == (State.COUNT_IN, True)
    clicks = room.clicks()
    take = room.session.air.playout.parts[-1].piece
    assert clicks[0] == take.timeline.frame_of(Fraction(-8))
    assert clicks[0] == round((INTRO - 8 + FIRST * 2) * COUNT)
    assert room.danced(2).state is State.RUNNING
    assert in_step(room)


def test_what_comes_out_of_the_loudspeaker_has_the_musics_clicks_on_the_counts() -> None:
    room = Class(voice=NoVoice(), music=hand_music(120))
    looked(room.session)
    room.order(Order.GO)
    room.danced(INTRO + 24)
    [playing] = room.session.air.playout.parts
    expected = [playing.origin + playing.piece.timeline.frame_of(Fraction(n)) for n in range(-16, 20)]
    heard, shape = room.speaker.sound[:, 0], click()
    for frame in expected:
        fit = np.correlate(heard[frame - 300 : frame + 300 + len(shape) - 1], shape, "valid")
        assert abs(int(fit.argmax()) - 300) <= 1


def test_after_a_pause_the_music_comes_in_at_the_bar_that_is_danced(room: Class) -> None:
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 21.5)
    assert room.order(Order.GO).state is State.PAUSED
    silent = room.speaker.advance(3 * COUNT)
    assert not silent[RATE // 20 :].any()
    room.order(Order.GO)
    room.danced(1)
    assert looked(room.session).state is State.COUNT_IN
    assert in_step(room)
    room.danced(6)
    assert in_step(room)
    assert dance_is_at(room) == pytest.approx(22.9, abs=0.3)


@pytest.mark.parametrize("order", [Order.SECTION_AGAIN, Order.WALL_AGAIN, Order.NEXT, Order.PREVIOUS, Order.EASIER])
def test_wherever_an_order_leads_the_music_goes_along(room: Class, order: Order) -> None:
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 13.5)
    room.order(order)
    room.danced(7)
    assert in_step(room)


def test_in_a_loop_the_music_goes_back_with_the_dance(room: Class) -> None:
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 10)
    room.order(Order.LOOP)
    places = []
    for _ in range(4):
        room.danced(8)
        assert in_step(room)
        places.append(round(dance_is_at(room) % 8, 1))
        assert 8 <= dance_is_at(room) < 16
    assert len(set(places)) == 1


@pytest.mark.parametrize(("order", "tempo"), [(Order.HALF, 60), (Order.SLOW_ON, 90)])
def test_slowed_down_the_music_keeps_its_place_and_its_pitch(room: Class, order: Order, tempo: int) -> None:
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 13.5)
    room.order(order)
    room.danced(3)
    assert in_step(room)
    assert room.music is not None
    assert room.music.song is not None
    [now] = playing(room)
    assert now.clip is room.music.song.versions[Fraction(tempo)]
    room.order(order if order is Order.HALF else Order.SLOW_OFF)
    room.danced(2)
    assert in_step(room)
    assert playing(room)[0].clip.key == "clicks 120"


@pytest.mark.parametrize("place", [13.5, 13.02, 13.9])
def test_a_new_tempo_holds_from_a_beat_on_and_each_beat_is_struck_once(place: float) -> None:
    room = Class(voice=NoVoice(), music=hand_music(120, 90, 60))
    looked(room.session)
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + place)
    for order in (Order.HALF, Order.HALF, Order.SLOW_ON, Order.SLOW_OFF):
        room.order(order)
        room.danced(5)
    [*_, last] = room.session.air.playout.parts
    timeline = last.piece.timeline
    assert [part.tempo for part in timeline.segments] == [120, 60, 120, 90, 120]
    assert all(part.count.denominator == 1 for part in timeline.segments[1:])
    heard, shape = room.speaker.sound[:, 0], click()
    frames = [last.origin + timeline.frame_of(Fraction(n)) for n in range(8, 30)]
    for at, then in pairwise(frames):
        fit = np.correlate(heard[at - 1_000 : at + 1_000 + len(shape) - 1], shape, "valid")
        assert abs(int(fit.argmax()) - 1_000) <= 1
        assert np.abs(heard[at + RATE // 8 : then - 10]).max() < 0.01


def test_a_longer_piece_of_the_same_music_takes_its_place_on_a_beat(room: Class) -> None:
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 13.5)
    assert room.music is not None
    assert room.music.song is not None
    song = room.music.song
    before, whole = song.versions[Fraction(120)], Clip("clicks 120", song.versions[Fraction(120)].samples)
    room.music.song = replace(song, versions={**song.versions, Fraction(120): whole})
    room.danced(2)
    [now] = playing(room)
    assert now.clip is whole
    assert in_step(room)
    [*_, last] = room.session.air.playout.parts
    score, seam = last.piece.score, last.piece.timeline.frame_of(Fraction(14)) - SEAM_FRAMES
    [old] = [p for p in score.placements if p.clip is before]
    assert (old.end, now.frame) == (seam + EDGE_FRAMES, seam)


def test_what_is_not_there_yet_is_asked_for_with_its_place_in_the_recording(room: Class) -> None:
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 13.5)
    room.order(Order.SLOWER)
    assert room.music is not None
    assert room.music.wanted == [116]
    # By arithmetic: its count 1 is at 0.6 s, and the tempo holds from the fourteenth count after the intro.
    assert float(room.music.places[0]) == pytest.approx(float(FIRST) + (INTRO + 14) * 0.5)


def test_at_a_tempo_that_is_not_there_yet_the_music_stops_and_joins_by_itself(room: Class) -> None:
    assert room.music is not None
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 13.5)
    room.music.says = "being made ready for 116"
    view = room.order(Order.SLOWER)
    assert room.music.wanted == [116]
    assert "music: being made ready for 116" in view.holds
    room.danced(4)
    assert playing(room) == []
    clicks = room.clicks()
    room.music.says = ""
    room.music.arrive(116)
    room.danced(1)
    assert in_step(room)
    assert room.clicks() == clicks
    sent = len(room.speaker.asked)
    room.danced(4)
    assert len(room.speaker.asked) == sent  # it joins once
    assert not looked(room.session).holds


def test_a_start_waits_for_the_music_and_a_tempo_set_before_it_is_made_ready() -> None:
    music = hand_music()
    music.ready = False
    room = Class(music=music)
    assert looked(room.session).state is State.GETTING_READY
    music.ready = True
    music.arrive(120)
    assert looked(room.session).state is State.READY
    room.order(Order.FASTER)
    assert music.wanted[-1] == 124
    music.arrive(124)
    looked(room.session)
    room.order(Order.GO)
    room.danced(10)
    assert in_step(room)


def test_pausing_on_the_eight_lets_the_music_die_away(room: Class) -> None:
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 13.5)
    room.order(Order.STOP_AT_EIGHT)
    assert room.danced(4).state is State.PAUSED
    after = room.speaker.advance(4 * RATE)[:, 0]
    assert after[: RATE // 2].any()
    assert not after[int(3.5 * RATE) :].any()


def test_music_made_louder_is_ducked_deeper_and_softer_it_is_left(room: Class) -> None:
    room.order(Order.GO)
    room.danced(4)
    before = room.speaker.asked[-1].score
    view = room.order(Order.MUSIC_LOUDER, Order.MUSIC_LOUDER, Order.MUSIC_LOUDER)
    louder = room.speaker.asked[-1].score
    assert view.notices[-1] == "Music: +6 dB."
    assert before is not None
    assert louder is not None
    assert louder.duck_db == pytest.approx(before.duck_db + 6)
    gains = [next(p.gain for p in score.placements if p.kind == "music") for score in (before, louder)]
    assert gains[1] / gains[0] == pytest.approx(10 ** (6 / 20))
    assert room.session.levels.music_db == 6


def test_music_left_with_the_class_is_let_go(room: Class) -> None:
    room.session.close()
    assert room.music is not None
    assert room.music.closed


def test_a_song_that_does_not_reach_the_end_leaves_the_count_track() -> None:
    short = HandMusic(lambda tempos: song_of(TEMPO, tempos, seconds=15, first_seconds=FIRST))
    short.arrive(120)
    room = Class(music=short)
    looked(room.session)
    room.order(Order.GO)
    room.danced(INTRO + 24)
    assert playing(room) == []
    assert looked(room.session).state is State.RUNNING


def test_clips_are_sent_whole_and_never_cut(room: Class) -> None:
    """A part of a clip would be another clip, to be sent anew."""
    assert room.music is not None
    assert room.music.song is not None
    whole: list[Clip] = list(room.music.song.versions.values())
    room.order(Order.GO)
    room.danced(INTRO + 1.2 + 13.5)
    for order in (Order.HALF, Order.HALF, Order.SECTION_AGAIN, Order.LOOP):
        room.order(order)
        room.danced(2)
    sent = [p.clip for one in room.speaker.asked if one.score for p in one.score.placements if p.kind == "music"]
    assert sent
    assert all(any(clip is one for one in whole) for clip in sent)
