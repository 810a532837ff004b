"""Habits of a whole sheet that are settled before its lines are arranged: where one line alone could be read two ways, all of
them together can't.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.blocks import first_count
from caller.routine.layout.counted import steps_on
from caller.routine.layout.event_plain import events_plainly
from caller.routine.layout.grids import read_downwards
from caller.routine.layout.habits import typed_plainly
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import number_of
from caller.routine.layout.on_counts import counts_alone
from caller.routine.layout.other_names import usual_names
from caller.routine.layout.phrased import phrased_plainly
from caller.routine.layout.signs_explained import signs_explained
from caller.routine.layout.told_by_number import told_by_number
from caller.routine.layout.told_eights import eights_headed
from caller.routine.layout.told_in_short import told_one_by_one
from caller.routine.layout.wall_asides import asides_apart
from caller.routine.layout.wall_tables import walls_told

_FALLEN = re.compile(r"^(?P<counts>\(\d{1,2}(?:\s?[&,-]\s?\d{1,2}&?)*\))\s*[.;,]\s+(?=[A-Z])")
_LABEL_OF_STEPS = re.compile(
    r"^\*{0,2}(?P<label>(?:S|Sec\.?|Section|Set)\s?\d{1,2})\*{0,2}\s*[|:.)\u2013-]?\s+(?=1\s?[-&,\u2013]?\s?\d?[\d&]*\s+\S.*(?:[|/,;.]\s*|\s{2,})[35]\s?[-&,\u2013])",
    re.IGNORECASE,
)
_LEAST = 3  # lines that share a habit
_HOUR_BEHIND = re.compile(r"^(?P<name>[A-Za-z\u00bc-\u00be\d][^()]*?)\s*\((?P<hour>12|3|6|9)\)\s*$")
_OPTIONS_HEAD = re.compile(
    r"^(?:easier|easy|simpler|no[\s-]turn|non[\s-]turning)\s+(?:options?|ways?|alternatives?)\s*[:.]?$|^(?:options|alternatives)\s*[:.]?$",
    re.IGNORECASE,
)
_OF_SECTION = re.compile(r"^(?:section|sect?\.?|set|s)\s?\d{1,2}\s*[,:]?\s*(?:counts?|cts?\.?)\s*\d", re.IGNORECASE)
_STEP_LABEL = re.compile(r"^[Ss]teps?\s+\d{1,2}\s*[:.]\s+(?=[A-Za-z])")
_COUNT_ONE = re.compile(r"^(?:[Cc]ounts?\s+)?1\s?[-&,\u2013]")
_TO_THE = re.compile(r"\bto\s+(?:the|your)\s+(?=right|left)", re.IGNORECASE)
_TO_SIDES = re.compile(
    r"\b(?:sway|bump|push|swing|rock)(?:s|ing)?\s+(?:(?:your|the)\s+)?(?:hips?\s+)?to\s+(?:the|your)\s+(?:right|left)(?:\s*(?:,\s*(?:and\s+|then\s+)*|and\s+|then\s+|and\s+then\s+)to\s+(?:the|your)\s+(?:right|left))+",
    re.IGNORECASE,
)
_OF_EVENT = re.compile(r"\b(?:R/?STR?T?|RS\b|W\d|wall|tag|bridge|re-?start)", re.IGNORECASE)
_SHORTS = (
    (
        re.compile(r"\b(after|of|on|in|during|following)\s+W(\d{1,2})\b(?!\s*(?:,|&|\+|and)\s*W\d)", re.IGNORECASE),
        r"\1 wall \2",
    ),
    (re.compile(r"\bRS\b(?=\s+(?:here\b|after\s|(?:(?:on|in)\s+)?w(?:all)?\s?\d))"), "Restart"),
    (re.compile(r"\bR[Ss][Tt](?:RT)?\b|\bR/ST\b"), "Restart"),
    (re.compile(r"\baft\b\.?(?=\s+(?:\d|count|wall|w\d|sec|s\d))", re.IGNORECASE), "after"),
    (re.compile(r"\b[Cc]ts\b\.?(?=\s+\d{1,2}\s?[&\u2013-]\s?\d.*\b(?:instead|becomes?|replace|are|is)\b)"), "counts"),
    (re.compile(r"\b(?:chg|chng)\b\.?(?=\s+(?:counts?\s+|cts?\s+)?\d)", re.IGNORECASE), "change"),
    (re.compile(r"\bstrts\b\.?", re.IGNORECASE), "starts"),
    (re.compile(r"\bf(?:c|cg|acg)\b\.?(?=\s+(?:\d|the\b|front|back|home))", re.IGNORECASE), "facing"),
)
_NUMBER = re.compile(r"\d+")
_LISTED = re.compile(r"^\(\s*\d{1,2}(?:[\s,]+\d{1,2})+\s*\)\s*(?=[A-Za-z\u00bc-\u00be])")
_BRACKETED = re.compile(r"\(\d{1,2}(?:\s?[&,-]\s?\d{1,2}&?)*\)")
_HOUR_BY_COUNTS = re.compile(
    r"(?P<counts>\(\d{1,2}(?:[\s&,-]{0,3}\d{1,2}&?)*\)\s*)[(\[]\s*(?:(?:now\s+)?fac(?:e|ing)\s+)?(?P<behind>12|3|6|9)(?:\s*o['\u2019]?\s?clock)?\s*[)\]](?=\s*$)"
    r"|(?<=\d\))\s*(?:\.{3}\s*)?(?:(?:now\s+)?(?:to|facing|face|=)\s+)?(?P<told>1[0-2]|[1-9]):00\.?(?=\s*$)"
    r"|\((?P<before>12|3|6|9)\)(?=\s{2,}\d(?:[\s&,-]{0,3}\d)*&?\s*$)"
)
_HOUR_IN_COLUMN = re.compile(r"(?<=[a-z)])\s{6,}(12|3|6|9)\s*$")
_LENGTH_BEHIND = re.compile(
    r"^(?P<name>[A-Z][A-Z '&/,\u2019-]{3,60}?|(?i:part|section|set|block)\s+\w+\s*[:.\u2010-\u2015-].{3,60}?)\s*\((?P<n>\d{1,2})\)$"
)
_IN_WORDS = re.compile(r"^(?P<n>one|two|three|four|five|six|seven|eight)\s*[:.]\s+(?P<name>[A-Za-z].*)$", re.IGNORECASE)
_CAPITALS_NUMBERED = re.compile(r"^(?P<n>\d)[.)]\s+(?P<name>[A-Z\u00bc-\u00be][A-Z0-9\u00bc-\u00be/&,' -]{3,80})$")
_COUNTS_LAST = re.compile(r"[a-zLR)](?:\s{2,}|\s*\.{3,}\s*)[1-8](?:[\s&-]{0,3}[1-8])*&?$")
_LENGTH_BEFORE = re.compile(r"^(?P<n>\d{1,2})\s+(?:COUNTS|BEATS|counts|beats)\s*:\s+(?P<name>[A-Z][^\d:;]{2,60})$")
_SHORT_KEY = re.compile(r"^(?P<key>mus|chor)\.\s+(?=[A-Z\"\u201c\u2018'])", re.IGNORECASE)
_USUAL = frozenset(("4", "6", "8", "12", "16"))
_LETTER_HEADING = re.compile(r"^(?P<letter>[A-H])[.)]\s+[A-Z\u00bc-\u00be]")
_OF_LETTER = re.compile(
    r"(?P<of>\bcounts?\s+\d[\d&\s\u2013-]*\s(?:of|in)|\b(?:[Aa]fter|[Ee]nd\s+of))\s+(?P<letter>[A-H])\b(?![.)'\u2019])"
)
_NO_LENGTHS = frozenset(("3", "9"))  # counts that no section has


def settled(lines: Sequence[Line]) -> list[Line]:
    """The lines with each habit written as it is read elsewhere."""
    lines = walls_told(phrased_plainly(read_downwards(asides_apart(told_by_number(signs_explained(lines))))))
    lines = [_in_full(line) for line in typed_plainly(events_plainly(lines))]
    lines = eights_headed(told_one_by_one(usual_names(lines)))
    lines = _lengths_before_headings(_numbered_in_words(_capitals_numbered(counts_alone(_listed_in_front(lines)))))
    lines = list(_labels_apart(lines))
    lines = _options_in_a_block(_hours_in_a_column(_hours_by_counts(_steps_numbered(lines))))
    return _lettered_sections(_lengths_of_headings(_hours_of_headings(_counts_before(_counts_at_ends(lines)))))


def _labels_apart(lines: Sequence[Line]) -> Iterator[Line]:
    """ "S3 | 1-2 R over L, L side | 3&4 R sailor (12)": the section's label, and its steps."""
    for line in lines:
        label = _LABEL_OF_STEPS.match(line.text)
        steps = steps_on(line.piece(label.end()), 1) if label is not None else []
        if label is not None and len(steps) > 1 and first_count(steps[0]) == 1:
            yield replace(line, text=label["label"], exact=False)
            yield line.piece(label.end())
        else:
            yield line


def _in_full(line: Line) -> Line:
    """ "RST: W3 (strts 6:00) aft 32c, fc 12:00"; "sway to the right, to the left and to the right"."""
    if (to_sides := _TO_SIDES.sub(lambda found: _TO_THE.sub("", found[0]), line.text)) != line.text:
        line = replace(line, text=to_sides, exact=False)
    if (key := _SHORT_KEY.match(line.text)) is not None:  # 'mus. "Down To It"   16ct intro'
        named = "Music" if key["key"].lower() == "mus" else "Choreo"
        line = replace(line, text=f"{named}: {line.text[key.end() :]}", exact=False, source=line.source or line.text)
    text = line.text
    if _OF_EVENT.search(text) is None:
        return line
    for short, word in _SHORTS:
        text = short.sub(word, text)
    return line if text == line.text else replace(line, text=text, exact=False)


def _listed_in_front(lines: list[Line]) -> list[Line]:
    """ "(1, 2, 3, 4) Vine right", in a sheet whose lines begin so: the counts of what follows, not of what was before."""
    found = {n: m for n, line in enumerate(lines) if (m := _LISTED.match(line.text))}
    for n, m in found.items():
        numbers = [int(number) for number in _NUMBER.findall(m[0])]
        if (
            len(found) > 1
            and _BRACKETED.search(lines[n].text, m.end()) is None
            and numbers == list(range(numbers[0], numbers[0] + len(numbers)))
        ):
            text = f"{numbers[0]}-{numbers[-1]}  {lines[n].text[m.end() :]}"
            lines[n] = replace(lines[n], text=text, exact=False)
    return lines


def _steps_numbered(lines: list[Line]) -> list[Line]:
    """ "Step 1: V step, side touches", and below it "Count 1-4 ...": the sections, by another name."""
    found = [
        n for n, line in enumerate(lines[:-1]) if _STEP_LABEL.match(line.text) and _COUNT_ONE.match(lines[n + 1].text)
    ]
    numbers = [int(_NUMBER.search(lines[n].text)[0]) for n in found]  # type: ignore[index]
    if len(found) < 2 or numbers != list(range(1, len(found) + 1)):
        return lines
    for n in found:
        lines[n] = replace(lines[n], text=f"Section{lines[n].text[4:]}", exact=False)
    return lines


def _options_in_a_block(lines: list[Line]) -> list[Line]:
    """ "Easier options", and below it "Section 4, counts 1-2: ...": each of those is one."""
    heads = [n for n, line in enumerate(lines) if _OPTIONS_HEAD.match(line.text)]
    for n in heads:
        for m in range(n + 1, len(lines)):
            if _OF_SECTION.match(lines[m].text) is None:
                break
            lines[m] = replace(lines[m], text=f"Option {lines[m].text[:1].lower()}{lines[m].text[1:]}", exact=False)
    return lines


def _hours_in_a_column(lines: list[Line]) -> list[Line]:
    """ "1-2  Step forward left, pivot 1/4 turn right            9": which way it faces, in a sheet that has three of these."""
    behind = [n for n, line in enumerate(lines) if _HOUR_IN_COLUMN.search(line.text)]
    if sum(read_counts(lines[n].text) is not None for n in behind) < _LEAST:
        return lines
    for n in behind:
        lines[n] = replace(lines[n], text=_HOUR_IN_COLUMN.sub(r" (\1:00)", lines[n].text), exact=False)
    return lines


def _hours_by_counts(lines: list[Line]) -> list[Line]:
    """ "Pivot 1/2 left (7-8) (6)", "pivot 1/2 left (6)    7 8": an hour, as its counts stand beside it."""

    def hour(found: re.Match[str]) -> str:
        return f"{found['counts'] or ''} ({found['behind'] or found['told'] or found['before']}:00)"

    return [
        line if (text := _HOUR_BY_COUNTS.sub(hour, line.text)) == line.text else replace(line, text=text, exact=False)
        for line in lines
    ]


def _capitals_numbered(lines: list[Line]) -> list[Line]:
    """ "1. HEEL SWITCHES, ROCK", "2. JAZZ BOX", above lines that have their counts behind: the sections, no counts."""
    found = {n: m for n, line in enumerate(lines) if (m := _CAPITALS_NUMBERED.match(line.text))}
    in_turn = [int(m["n"]) for m in found.values()] == list(range(1, len(found) + 1))
    if len(found) < 2 or not in_turn or sum(_COUNTS_LAST.search(x.text) is not None for x in lines) < _LEAST:
        return lines
    for n, m in found.items():
        lines[n] = replace(lines[n], text=f"Section {m['n']}: {m['name']}", exact=False)
    return lines


def _numbered_in_words(lines: list[Line]) -> list[Line]:
    """ "one: botafogos, whisks", "two: volta, rock", each above counts: the sections by number."""
    found = {
        n: m
        for n, line in enumerate(lines[:-1])
        if (m := _IN_WORDS.match(line.text)) and read_counts(lines[n + 1].text) is not None
    }
    if len(found) < 2 or [number_of(m["n"]) for m in found.values()] != list(range(1, len(found) + 1)):
        return lines
    for k, (n, m) in enumerate(found.items(), 1):
        lines[n] = replace(lines[n], text=f"Section {k}: {m['name']}", exact=False)
    return lines


def _lengths_before_headings(lines: list[Line]) -> list[Line]:
    """ "8 COUNTS: THROUGH THE GATE", in a sheet that has several of these: how long each section is, and its name."""
    found = {n: m for n, line in enumerate(lines) if (m := _LENGTH_BEFORE.match(line.text))}
    if len(found) < 2 or any(m["n"] not in _USUAL for m in found.values()):
        return lines
    for n, m in found.items():
        lines[n] = replace(lines[n], text=f"[1-{m['n']}] {m['name']}", exact=False)
    return lines


def _lengths_of_headings(lines: list[Line]) -> list[Line]:
    """ "THE WALKING BIT (8)", all of them with one number and no other behind capitals: how long each section is."""
    found = {n: m for n, line in enumerate(lines) if (m := _LENGTH_BEHIND.match(line.text))}
    if len(found) < 2 or len({m["n"] for m in found.values()}) > 1:
        return lines
    for n, m in found.items():
        lines[n] = replace(lines[n], text=f"{m['name']} ({m['n']} counts)", exact=False)
    return lines


def _lettered_sections(lines: list[Line]) -> list[Line]:
    """ "Replace counts 7&8 of B", where the sections are headed "A.", "B.", "C." and no order makes parts of them."""
    letters = [found["letter"] for line in lines if (found := _LETTER_HEADING.match(line.text))]
    in_turn = len(letters) >= _LEAST and letters == [chr(ord("A") + n) for n in range(len(letters))]
    if not in_turn or any(kinds.ORDER_KEY.match(line.text) for line in lines):
        return lines
    for n, line in enumerate(lines):
        text = _OF_LETTER.sub(lambda told: f"{told['of']} section {ord(told['letter']) - ord('A') + 1}", line.text)
        if text != line.text:
            lines[n] = replace(line, text=text, exact=False)
    return lines


def _counts_at_ends(lines: list[Line]) -> list[Line]:
    """Counts in brackets that fell to the next line: "... Left toe forward, drop the heel" and below it "(3-4). Cross ..."."""
    for n in range(1, len(lines)):
        before, line = lines[n - 1], lines[n]
        fallen = _FALLEN.match(line.text)
        if fallen is None or not _steps_alone(before) or before.text.endswith((".", ")", ":", "]")):
            continue
        lines[n - 1] = replace(before, text=f"{before.text} {fallen['counts']}.", exact=False)
        lines[n] = replace(line, text=line.text[fallen.end() :], exact=False)
    return lines


def _counts_before(lines: list[Line]) -> list[Line]:
    """Steps with their counts on the line below: the two change places."""
    counts = [n for n, line in enumerate(lines) if _counts_alone(line)]
    below = [n for n in counts if n > 0 and _steps_alone(lines[n - 1])]
    if len(counts) < _LEAST or below != counts or (counts[-1] + 1 < len(lines) and lines[counts[-1] + 1].text):
        return lines
    for n in counts:
        steps, told = lines[n - 1], lines[n]
        lines[n - 1] = replace(steps, text=told.text, exact=False)
        lines[n] = replace(told, text=steps.text, exact=False)
    return lines


def _counts_alone(line: Line) -> bool:
    return kinds.ONLY_COUNTS.match(line.text) is not None and read_counts(f"{line.text} x") is not None


def _steps_alone(line: Line) -> bool:
    return read_counts(line.text) is None and kinds.STEP_WORD.search(line.text) is not None


def _hours_of_headings(lines: list[Line]) -> list[Line]:
    """ "Twinkle left, twinkle right (12)", "... (9)", "... (6)": not how long each section is, but where it ends."""
    found = {
        n: m for n, line in enumerate(lines) if (m := _HOUR_BEHIND.match(line.text)) and not read_counts(line.text)
    }
    hours = {m["hour"] for m in found.values()}
    if len(found) < _LEAST or not hours & _NO_LENGTHS or len(hours) == 1:
        return lines
    for n, m in found.items():
        lines[n] = replace(lines[n], text=f"{m['name']} ({m['hour']}:00)", exact=False)
    return lines
