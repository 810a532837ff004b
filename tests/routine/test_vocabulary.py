"""Laws that every entry of the vocabulary keeps, and what a vocabulary of one's own may say."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from fractions import Fraction

import pytest

from caller.routine.count import label_of
from caller.routine.entries import _FIGURE_FIELDS, _VERB_FIELDS
from caller.routine.facing import NO_TURN, Turn
from caller.routine.figures import Figure
from caller.routine.notation.read import read_sheet
from caller.routine.passages import Step
from caller.routine.recognise import Found, find_figure
from caller.routine.step import Foot, Movement, Weight
from caller.routine.vocabulary import Vocabulary, VocabularyError, read_vocabulary, shipped, shipped_text
from tests.routine.writing import HEADER, passage, read

BOOK = shipped()
EVERY = [(figure, way, lead) for figure in BOOK.figures.values() for way in figure.ways for lead in Foot]
NAMES = [f"{figure.name}-{way or 'plain'}-{lead.value}" for figure, way, lead in EVERY]
every_figure = pytest.mark.parametrize(("figure", "way", "lead"), EVERY, ids=NAMES)


def _movements(figure: Figure, way: str, lead: Foot) -> tuple[Movement, ...]:
    """A quarter where it needs a turn: a pivot's goes away from the foot stepped on."""
    quarter = 2 if (lead is Foot.RIGHT) == figure.turns_to_lead else -2
    return figure.movements(way, lead, Turn(quarter) if figure.needs_turn else NO_TURN)


def _steps(figure: Figure, movements: tuple[Movement, ...], pattern: int = 0) -> list[Step]:
    offsets = figure.counts[pattern]
    return [Step(at, label_of(at), m) for at, m in zip(offsets, movements, strict=True)]


def _weight_after(movements: tuple[Movement, ...], lead: Foot) -> Weight:
    weight = Weight.on(lead.other)
    for movement in movements:
        weight = movement.weight or weight
    return weight


def test_it_has_at_least_110_figures_and_as_many_again_in_other_words() -> None:
    assert len(BOOK.figures) >= 110
    entries = tomllib.loads(shipped_text())
    synonyms = sum(len(entry.get("also", ())) for table in ("figure", "verb") for entry in entries[table])
    assert synonyms >= 220


def test_no_spelling_belongs_to_two_entries() -> None:
    document = tomllib.loads(shipped_text())
    for table in ("figure", "verb"):
        spellings = Counter(
            tuple(BOOK.plain(word) for word in spelling.split())
            for entry in document[table]
            for spelling in {entry["name"], *entry.get("also", ())}
        )
        twice = {
            spelling: number
            for spelling, number in spellings.items()
            if number > 1 and len({id(BOOK.phrases[spelling])}) > 1
        }
        assert twice == {}


@every_figure
def test_an_odd_number_of_weight_changes_frees_the_other_foot(figure: Figure, way: str, lead: Foot) -> None:
    """Arithmetic, as any round-dance manual counts it."""
    movements = _movements(figure, way, lead)
    weight, changes = Weight.on(lead.other), 0
    for movement in movements:
        changes += movement.weight not in (None, weight)
        weight = movement.weight or weight
    assert weight is not Weight.BOTH
    assert (weight.free_foot is lead) == (changes % 2 == 0)


@every_figure
def test_a_figure_on_the_other_foot_is_its_mirror(figure: Figure, way: str, lead: Foot) -> None:
    other = {Foot.LEFT: Foot.RIGHT, Foot.RIGHT: Foot.LEFT, None: None}
    for mine, theirs in zip(figure.movements(way, lead), figure.movements(way, lead.other), strict=True):
        assert (mine.action, other[mine.foot], mine.where, -mine.turn) == (
            theirs.action,
            theirs.foot,
            theirs.where,
            theirs.turn,
        )


@every_figure
def test_each_count_pattern_rises_from_its_first_count(figure: Figure, way: str, lead: Foot) -> None:
    for offsets in figure.counts:
        assert offsets[0] == 0
        assert list(offsets) == sorted(set(offsets))


@every_figure
def test_a_turn_on_a_figure_falls_on_its_turning_movements_alone(figure: Figure, way: str, lead: Foot) -> None:
    plain = figure.movements(way, lead)
    for eighths in (-8, -4, -3, -2, -1, 1, 2, 3, 4, 6, 8):
        turned = figure.movements(way, lead, Turn(eighths))
        extra = [t.turn.eighths - p.turn.eighths for t, p in zip(turned, plain, strict=True)]
        assert sum(extra) == eighths
        assert {n + 1 for n, turn in enumerate(extra) if turn} <= set(figure.turns or (1,))
        assert all((turn > 0) == (eighths > 0) for turn in extra if turn)


@pytest.mark.parametrize(("figure", "way", "lead"), [e for e in EVERY if e[0].recognise], ids=str)
def test_a_figure_written_out_is_recognised_as_it(figure: Figure, way: str, lead: Foot) -> None:
    movements = _movements(figure, way, lead)
    for pattern in range(len(figure.counts)):
        steps = _steps(figure, movements, pattern)
        found = find_figure(steps, 0, len(steps), BOOK, [1] * len(steps))
        assert found is not None
        assert (found.first, found.last) == (0, len(steps) - 1)
        assert _as_found(found) == movements
        assert found.figure is figure or _twins(found.figure, figure)


def _as_found(found: Found) -> tuple[Movement, ...]:
    return found.figure.movements(found.way, found.lead, found.turn)


def _twins(one: Figure, other: Figure) -> bool:
    """Two names for the same movements, one of which needs a turn or is told differently."""
    return any(
        one.movements(way, lead) == other.movements(its, lead)
        for way in one.ways
        for its in other.ways
        for lead in Foot
    )


def test_few_figures_share_their_movements() -> None:
    seen: dict[tuple[tuple[Movement, ...], bool], str] = {}
    shared = []
    for figure, way, lead in EVERY:
        key = figure.movements(way, lead), figure.needs_turn
        if lead is Foot.RIGHT and figure.recognise and key in seen:
            shared.append((seen[key], figure.name))
        seen.setdefault(key, figure.name)
    assert len(shared) <= 7, shared


@every_figure
def test_a_figure_by_name_is_danced_as_its_movements(figure: Figure, way: str, lead: Foot) -> None:
    way_round = lead if figure.turns_to_lead else lead.other  # a pivot turns away from the foot stepped on
    turn = f" turning 1/4 {way_round.word}" if figure.needs_turn else ""
    said = "in place" if way == "place" else way
    where = f" {said}" if way and len(figure.ways) > 1 else ""
    words = f"{figure.name} {lead.word}" if figure.by_direction else f"{lead.word} {figure.name}{where}"
    steps = passage(f"{_counts(figure.counts[0])}  {words}{turn}", starts=lead.word).steps
    assert tuple(s.movement for s in steps) == _movements(figure, way, lead)


def _counts(offsets: tuple[Fraction, ...]) -> str:
    """ "1&2,3,4" """
    parts = {Fraction(1, 4): "e", Fraction(1, 2): "&", Fraction(3, 4): "a"}
    marks = [str(int(at) + 1) if at.denominator == 1 else parts[at % 1] for at in offsets]
    return "".join(f",{m}" if n and m.isdigit() and marks[n - 1].isdigit() else m for n, m in enumerate(marks))


def test_common_figures_are_danced_as_in_common_practice() -> None:
    """Weight and movements, from common practice: no standard has them all."""
    rows = {
        "shuffle": (["step", "step", "step"], ["forward", "beside", "forward"], 3),
        "coaster step": (["step", "step", "step"], ["back", "beside", "forward"], 3),
        "charleston": (["step", "kick", "step", "touch"], ["forward", "forward", "back", "back"], 2),
        "sailor step": (["cross", "step", "step"], ["behind", "side", "side"], 3),
        "vine": (["step", "cross", "step"], ["side", "behind", "side"], 3),
        "rocking chair": (["rock", "recover", "rock", "recover"], ["forward", "", "back", ""], 4),
        "jazz box": (["cross", "step", "step", "step"], ["over", "back", "side", "beside"], 4),
        "monterey": (["point", "step", "point", "step"], ["side", "beside", "side", "beside"], 2),
        "kick ball change": (["kick", "step", "step"], ["forward", "beside", "place"], 2),
        "toe strut": (["touch", "drop"], ["forward", "place"], 1),
    }
    for name, (actions, wheres, weights) in rows.items():
        figure = BOOK.figures[name]
        movements = figure.movements(figure.plain_way, Foot.RIGHT)
        assert [m.action for m in movements] == actions
        assert [m.where for m in movements] == wheres
        assert sum(m.weight is not None for m in movements) == weights


def test_what_takes_no_weight_is_as_in_the_manuals() -> None:
    """Touch, tap, point, heel take none; "behind" and "close" take weight: ROUNDALAB Movements."""
    for verb in ("touch", "point", "heel", "kick", "scuff", "brush", "hook", "hitch"):
        assert BOOK.verbs[verb].bears == "none"
    assert BOOK.phrases["tap",] is BOOK.verbs["touch"]
    assert BOOK.verbs["close"].movement(Foot.LEFT).weight is Weight.LEFT
    assert BOOK.verbs["cross"].movement(Foot.LEFT, "behind").weight is Weight.LEFT


@pytest.mark.parametrize(
    ("line", "weight"),
    [
        ("1-4  Vine right, touch L beside R", Weight.RIGHT),
        ("1-4  Vine right, close", Weight.LEFT),
        ("1-4  Vine right, scuff L", Weight.RIGHT),
        ("1-4  Jazz box R", Weight.LEFT),
        ("1-4  Jazz box touch R", Weight.RIGHT),
        ("1-3  Short jazz box R", Weight.RIGHT),
    ],
)
def test_an_ending_that_varies_is_as_the_words_say(line: str, weight: Weight) -> None:
    steps = passage(line).steps
    assert _weight_after(tuple(s.movement for s in steps), Foot.RIGHT) is weight


@pytest.mark.parametrize("line", ["1-4  Vine right", "1-4  Rolling vine right"])
def test_an_ending_that_is_not_said_is_guessed_and_asked_for(line: str) -> None:
    (finding,) = read(line).findings
    assert finding.code == "guess"
    assert "how it ends" in finding.message


# -- words of one's own

OWN = """\
[words]
forward = ["onward"]

[[verb]]
name = "stroll"
also = ["strolls"]
reads = "walk"
bears = "foot"
where = "forward"

[[figure]]
name = "kettle step"
also = ["kettle"]
counts = ["1&2"]
turns = [3]
each = ["cross", "side", "touch"]
[figure.ways]
"" = "cross R over, step L side, touch R beside"
"""


def _own(text: str) -> Vocabulary:
    return read_vocabulary([shipped_text(), text])


def test_words_of_ones_own_are_read_like_the_shipped_ones() -> None:
    text = f"{HEADER}Starts: right\nSection 1\n1-2 Stroll onward R, L\n3&4 R kettle turning 1/4 right\n"
    sheet = read_sheet(text, _own(OWN))
    assert sheet.findings == ()
    steps = sheet.routine.sections[0].passage.steps
    assert [s.movement.action for s in steps] == ["walk", "walk", "cross", "step", "touch"]
    assert steps[-1].movement.turn == Turn(2)
    assert sheet.routine.sections[0].passage.phrases[-1].name == "right kettle step turning quarter right"
    assert read_sheet(text).findings != ()


def test_an_entry_of_ones_own_goes_before_a_shipped_one() -> None:
    own = _own(
        '[[figure]]\nname = "shuffle"\ncounts = ["1-2"]\neach = ["a", "b"]\n[figure.ways]\n"" = "walk R, walk L"\n'
    )
    assert len(own.figures["shuffle"].each) == 2
    assert len(shipped().figures["shuffle"].each) == 3


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[[figure]\n", "no TOML"),
        ('[[figure]]\nname = "x"\n', "line 2: figure 'x': it needs at least one way"),
        ('[[figure]]\ncounts = ["1"]\n', "it needs a name"),
        ('[[figur]]\nname = "x"\n', "did you mean 'figure'"),
        ('[figure]\nname = "x"\n', "write [[figure]] with two brackets"),
        ('[[verb]]\nname = "x"\nbears = "leg"\n', "line 2: verb 'x': 'bears' must be one of foot, none"),
        ('[[verb]]\nname = "x"\nbear = "foot"\n', "did you mean 'bears'"),
        ('[[verb]]\nname = "x"\nbears = "foot"\nfree = "yes"\n', "'free' must be true or false"),
        ('[words]\nforward = "ahead"\n', "give a list of other spellings"),
        ('words = "x"\n', "write [words] as a heading"),
        ("noise = 3\n", "'noise' must be a list of words"),
    ],
)
def test_what_is_wrong_in_ones_own_words_is_told(text: str, says: str) -> None:
    with pytest.raises(VocabularyError) as told:
        _own(text)
    assert says in str(told.value)


FIGURE = '[[figure]]\nname = "x"\ncounts = {counts}\nturns = {turns}\neach = {each}\n[figure.ways]\n"" = "{way}"\n'


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"way": "step R forward, step R back"}, "its movement 2 moves the R foot, which bears the weight by then"),
        ({"way": "step R forward"}, "'each' must have one word for each"),
        ({"way": "step R forward, wobble L"}, "no verb begins 'wobble L'"),
        ({"way": "step R forward, step back"}, "which foot does 'step back' move"),
        ({"way": "step R forward, step L skyward"}, "'skyward' in 'step L skyward' is no direction"),
        ({"way": "step R turn half, step L"}, "a turn is a number of eighths"),
        ({"counts": '["1-3"]'}, "each pattern of 'counts' must have one count for each"),
        ({"counts": "[]"}, "'counts' must have at least one pattern"),
        ({"counts": '["one"]'}, "can't read the count pattern 'one'"),
        ({"counts": '"1-2"'}, "'counts' must be a list of texts"),
        ({"turns": "[3]"}, "'turns' names movements from 1 to 2"),
    ],
)
def test_a_figure_of_ones_own_must_be_danceable(fields: dict[str, str], says: str) -> None:
    usual = {"counts": '["1-2"]', "turns": "[]", "each": '["step", "step"]', "way": "step R forward, step L back"}
    with pytest.raises(VocabularyError) as told:
        _own(FIGURE.format(**usual | fields))
    assert says in str(told.value)
    assert "figure 'x'" in str(told.value)


def test_all_faults_of_a_vocabulary_come_at_once() -> None:
    with pytest.raises(VocabularyError) as told:
        _own('[[verb]]\nname = "x"\nbears = "leg"\n[[verb]]\nname = "y"\nbears = "arm"\n')
    assert len(told.value.faults) == 2


def test_offsets_are_exact() -> None:
    assert BOOK.figures["shuffle"].counts[0] == (Fraction(0), Fraction(1, 2), Fraction(1))


def test_the_head_of_the_vocabulary_explains_every_key_and_no_other() -> None:
    verbs, figures = shipped_text().split("\nnoise = [", 1)[0].split("[[verb]]", 1)[1].split("[[figure]]", 1)
    for told, fields in ((verbs, _VERB_FIELDS), (figures, _FIGURE_FIELDS)):
        assert {key for key in fields if not re.search(rf"\b{key}\b", told)} == set()
        explained = {key for keys in re.findall(r"(?m)^#   (\w+(?:, \w+)*)\s", told) for key in keys.split(", ")}
        assert explained <= set(fields)
