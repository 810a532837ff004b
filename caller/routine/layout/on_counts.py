"""A sheet whose step lines begin "On counts 1 and 2, ...", "On 3&4 you ...": with the counts alone, as others write them."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.layout.counted import steps_on
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import number_of
from caller.routine.notation.phrases import GROUPS

_NUMBER = r"(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)"
_LED = re.compile(
    rf"^(?P<head>[\s>\u2022*-]*)(?:now\s+|then\s+|and\s+)?(?:on|for|during)\s+(?:the\s+)?(?:counts?\s+|beats?\s+)?"
    rf"(?P<list>&?{_NUMBER}\b&?(?:(?:\s*(?:,\s*(?:and\s+)?|and\s+|&\s*|to\s+|[-\u2010-\u2015]\s*)){_NUMBER}\b&?)*)"
    r"(?!\s*(?:counts?|beats?|walls?|times|o['\u2019]?\s?clock|of\b|more|extra)|[:/]\d)\s*[,:]?\s+(?:(?:you|we)\s+)?(?=[A-Za-z\u00bc-\u00be])",
    re.IGNORECASE,
)
_AND = re.compile(r"\s+and\s+", re.IGNORECASE)
_IN_THREE = re.compile(rf"\b(?:{GROUPS}|mambo|ball[\s-]change|behind[\s,-]+side|and\b.*\band)\b", re.IGNORECASE)
_FURTHER = re.compile(
    rf"[,.;]\s+(?:and\s+|then\s+)*(?:on|for)\s+(?:the\s+)?(?:counts?|beats?)?\s*{_NUMBER}\b(?!\s+(?:foot|leg))",
    re.IGNORECASE,
)
# "..., and on 2 you touch the left toe beside it"
_FURTHER_ON = re.compile(
    rf"[,.;]\s+(?:(?:and|then)\s+)*(?=on\s+(?:counts?\s+)?{_NUMBER}\b(?!\s+(?:foot|leg)))", re.IGNORECASE
)
_WORD = re.compile(rf"\b{_NUMBER}\b", re.IGNORECASE)
_LEAST = 3  # lines that share the habit
_MOST = 16  # parts of a line


def counts_alone(lines: list[Line]) -> list[Line]:
    """The lines with "On counts five and six, rock ..." as "5-6  rock ...", in a sheet that has three of these."""
    parted = {n: parts for n, line in enumerate(lines) if (parts := _parts(line.text))}
    parted = {n: parts for n, parts in parted.items() if len(parts) == 1 or not steps_on(lines[n])}
    if sum(len(parts) for parts in parted.values()) < _LEAST:
        return lines
    split = any("&" in led["list"] for parts in parted.values() for led, _ in parts)
    for n, parts in parted.items():
        told = [f"{led['head']}{_counts(led['list'], rest, split)}  {rest}" for led, rest in parts]
        lines[n] = replace(lines[n], text="; ".join(told), exact=False)
    return lines


def _parts(text: str) -> list[tuple[re.Match[str], str]]:
    """What leads each part of a line, and the rest of the part; none where a part is led in another way."""
    cuts = [0, *(cut.end() for cut in _FURTHER_ON.finditer(text))]
    if len(cuts) > _MOST:
        return []
    parts = [text[first:last].strip(" ,;.") for first, last in zip(cuts, [*cuts[1:], None], strict=True)]
    led = [_LED.match(part) for part in parts]
    if not all(led) or (len(parts) > 1 and text[:1].islower()) or any(_FURTHER.search(part) for part in parts):
        return []
    return [(one, part[one.end() :]) for one, part in zip(led, parts, strict=True) if one is not None]


def _counts(told: str, rest: str, split: bool) -> str:
    """ "five and six" as "5-6", or as "5&6" of three steps in a sheet that never writes "&". split: it does."""
    plain = _WORD.sub(lambda found: str(number_of(found[0])), told)
    if _AND.search(plain) is not None and not split and "," not in plain and _IN_THREE.search(rest[:40]) is not None:
        return _AND.sub("&", plain)
    plain = re.sub(r"\s*(?:,\s*and|,|and|to)\s*", ", ", plain, flags=re.IGNORECASE)
    numbers = [int(number) for number in re.findall(r"\d+", plain)]
    runs = numbers == list(range(numbers[0], numbers[0] + len(numbers)))
    if "&" not in plain and len(numbers) > 1 and (runs or len(numbers) == 2):
        return f"{numbers[0]}-{numbers[-1]}"
    return plain
