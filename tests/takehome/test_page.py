"""The page to print: whole, escaped, and nothing on it from outside. Read by the standard library's HTML parser."""

from __future__ import annotations

from dataclasses import replace
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.dance.walls import Dance
from caller.routine.vocabulary import shipped
from caller.takehome.page import page_html, sheet_page
from tests.takehome.packets import STEMS, dance_in, shipped_dance

VOID = {"meta", "link", "br", "img", "hr", "input"}


class Read(HTMLParser):
    """All text, all tags with their attributes; raises AssertionError where a tag is closed that is not open."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.text: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.feed(html)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)

    @property
    def words(self) -> str:
        return " ".join(" ".join(self.text).split())


def page_of(stem: str) -> Read:
    return Read(page_html(sheet_page(shipped_dance(stem), shipped())))


@pytest.mark.parametrize("stem", STEMS)
def test_the_page_has_every_section_and_a_floor_drawing_for_each(stem: str) -> None:
    read, dance = page_of(stem), shipped_dance(stem)
    assert dance.routine.header.title in read.words
    for section in dance.routine.sections:
        assert f"Section {section.number}: {section.name}" in read.words
    drawings = [attrs for tag, attrs in read.tags if tag == "svg"]
    assert len(drawings) == len(dance.routine.sections) + 1  # and the wall map
    assert all(len((attrs["viewbox"] or "").split()) == 4 for attrs in drawings)


def test_step_lines_calls_options_and_boxes_are_all_there() -> None:
    read = page_of("lantern-row")
    for words in (
        "3&4 Right shuffle forward",
        "“walk, walk”",
        "Option 1-2: two quarters instead of the half",
        "Tag: after wall 3, facing 9:00",
        "Restart: in wall 6 after 24 counts, facing 12:00",
        "Instead, in section 3: 5-8 Jazz box R",
        "tag after 32 counts, 8 counts long",
        "108 counts a minute",
    ):
        assert words in read.words, words
    boxes = [attrs["class"] for tag, attrs in read.tags if tag == "section"]
    assert boxes == ["block"] * 3 + ["event restart", "block", "event tag"]


def test_nothing_is_fetched_from_anywhere() -> None:
    for stem in STEMS:
        for tag, attrs in page_of(stem).tags:
            assert tag not in ("script", "link", "img", "iframe", "object")
            assert not {"src", "href"} & attrs.keys()


@given(st.text(st.sampled_from("<>&\"'/{}% scriptonload=\\"), min_size=1, max_size=40))
def test_words_from_a_sheet_are_words_on_the_page_and_never_tags(name: str) -> None:
    plain = " ".join(name.split())
    dance = dance_in(f"Title: {name}\nWalls: 1\nCounts: 4\n\nSection 1: {name}\n1-4 Walk R, L, R, L\n", 1)
    title = dance.routine.header.title
    read = Read(page_html(sheet_page(dance, shipped())))
    assert " ".join(title.split()) in read.words
    assert {tag for tag, _ in read.tags} <= {tag for tag, _ in page_of("lantern-row").tags} | {"section"}, plain


def test_a_phrased_routine_shows_its_order_and_its_parts() -> None:
    sheet = (
        "Title: Phrased\nOrder: A B Tag A4 B\n\nPart A section 1: Walks\n1-8 Walk R, L, R, L, R, L, R, L\n\n"
        "Part B section 1: Sways\n1-4 Sway R, L, R, L\n\nTag\n1-4 Sway R, L, R, L\n"
    )
    dance = dance_in(sheet)
    read = Read(page_html(sheet_page(dance, shipped())))
    assert "Order: A B Tag A4 B" in read.words
    assert "Part B section 1: Sways" in read.words


PHRASED = (
    "Title: T\nOrder: A B A\n\nPart A section 1: W\n1-4 Walk R, L, R, L\n\nPart B section 1: S\n1-4 Sway R, L, R, L\n"
)
ENDING = "Title: T\nWalls: 2\n\nSection 1: W\n1-4 Walk R, L, R, L\n\nEnding, wall 3 after 2 counts\n1-2 Sway R, L\n"


@pytest.mark.parametrize(
    ("dance", "told"),
    [
        (shipped_dance("slow-water"), "2 walls: each once. To a song the dance goes on."),
        (
            shipped_dance("lantern-row"),
            "7 walls: each once, and on past the last tag, restart or change. To a song the dance goes on.",
        ),
        (shipped_dance("chalk-line"), "1 wall: each once. To a song the dance goes on."),
        (shipped_dance("chalk-line", 9), "9 walls, as was asked for."),
        (dance_in(PHRASED), "3 walls, the whole order once."),
        (dance_in(ENDING), "3 walls, to the ending."),
    ],
)
def test_the_page_says_how_far_the_recordings_go_and_why(dance: Dance, told: str) -> None:
    assert f"The recordings have {told}" in Read(page_html(sheet_page(dance, shipped()))).words


def boxes_of(read: Read) -> list[str | None]:
    return [attrs["class"] for tag, attrs in read.tags if tag == "section"]


def test_an_event_stands_behind_the_section_where_it_is_danced() -> None:
    sections = "".join(f"Section {n}: S{n}\n1-8 Vine right, touch, vine left, touch\n\n" for n in (1, 2, 3))
    events = "Tag, after wall 2\n1-4 Sway R, L, R, L\n\nRestart, wall 3 after 8 counts\n\n"
    ending = "Ending, wall 5 after 16 counts\n1-2 Sway R, L\n"
    read = Read(page_html(sheet_page(dance_in(f"Title: T\nWalls: 1\n\n{sections}{events}{ending}"), shipped())))
    assert boxes_of(read) == ["block", "event restart", "block", "event ending", "block", "event tag"]
    assert "Ending: in wall 5 after 16 counts, facing 12:00" in read.words
    assert read.words.count("Restart") == 1


def test_what_the_head_says_is_said_once() -> None:
    head = "Title: T\nMusic: anything at about 112 bpm, 32 count intro\nWalls: 2\nLevel: Beginner\nCounts: 8\n"
    steps = "\nSection 1: W\n1-8 Vine right, touch, vine left, touch\n"
    dance = dance_in(f"{head}Intro: 32 counts\n{steps}")
    header = replace(
        dance.routine.header,
        notes=(
            "8 counts / 2 walls / Beginner",
            "Beginner line dance - 2 walls - 1 restart",
            "8 Count * 2 Wall * Beginner",
            "32 count intro. No. of restarts: 1. No. of tags: 1.",
            "STEPS COUNT",
            "2 walls, and arms up",
        ),
    )
    read = Read(page_html(sheet_page(replace(dance, routine=replace(dance.routine, header=header)), shipped())))
    assert read.words.count("intro") == 1
    assert read.words.count("Beginner") == 1
    assert "No. of" not in read.words
    assert "STEPS" not in read.words
    assert "2 walls, and arms up" in read.words


def test_an_option_whose_words_are_its_steps_says_them_once() -> None:
    steps = "Section 1: W\n1-4 Vine right, touch L\nOption 1-4: side, together, side, touch\n5-8 Vine left, touch R\n"
    read = Read(page_html(sheet_page(dance_in(f"Title: T\nWalls: 1\n\n{steps}"), shipped())))
    assert "Option 1-4" in read.words
    assert read.words.casefold().count("side, together, side, touch") == 1
