"""A sheet whose step lines begin "On counts 1 and 2, ...", "On 3&4 you ...": with the counts alone, as others write them."""

from __future__ import annotations

import re
from dataclasses import replace

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
_WORD = re.compile(rf"\b{_NUMBER}\b", re.IGNORECASE)
_LEAST = 3  # lines that share the habit


def counts_alone(lines: list[Line]) -> list[Line]:
    """The lines with "On counts five and six, rock ..." as "5-6  rock ...", in a sheet that has three of these."""
    led_by = ((n, _LED.match(line.text)) for n, line in enumerate(lines))
    found = {n: led for n, led in led_by if led is not None and _FURTHER.search(lines[n].text, led.end()) is None}
    if len(found) < _LEAST:
        return lines
    split = any("&" in led["list"] for led in found.values())
    for n, led in found.items():
        rest = lines[n].text[led.end() :]
        lines[n] = replace(lines[n], text=f"{led['head']}{_counts(led['list'], rest, split)}  {rest}", exact=False)
    return lines


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
