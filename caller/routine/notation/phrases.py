"""More turns of phrase, for :mod:`caller.routine.notation.dialect`: whole clauses rather than single words.

Each row is a pattern and the plain words for it. Common practice of the trade in several countries; no published
source.
"""

from __future__ import annotations

FOOT = r"(?:right|left|rf|lf|[rl])"
SIDE = r"(?:right|left|[rl])"
TURN = r"(?:1/2|1/4|3/4|1/8|3/8|\u00bd|\u00bc|\u00be|\u215b|\u215c|half|quarter|full|eighth)"

ROWS: tuple[tuple[str, str], ...] = (
    # "half turn left onto L"
    (
        rf"\b((?:turn|pivot)\s+(?:an?\s+)?{TURN}\s+(?:to\s+the\s+)?{SIDE}|{TURN}\s+(?:turn|pivot)\s+(?:to\s+(?:the\s+)?)?{SIDE})\s+(?:on)?to\s+(?:the\s+)?({FOOT})(?:\s+foot)?(?=\s*(?:[(,.;&]|$|and\b|then\b))",
        r"\1 (weight on \2)",
    ),
    (r"\bw[./]\s*(?=\w|\u00bd|\u00bc)", "with "),
    # "1/2 R on L closing R"
    (
        rf"\b(?:turn(?:ing)?\s+)?({TURN})\s+(?:turn\s+)?({SIDE})\s+on\s+(?:the\s+)?(?:ball\s+of\s+)?{FOOT}(?:\s+foot)?,?\s+(?:bring|clos|stepp|putt)ing\s+(?:the\s+)?({FOOT})\b(?!\s+(?:fwd|forward|back|to\s+the))(?:\s+(?:next\s+to|beside|to|together)\b)?",
        r"turn \1 \2 step \3 beside",
    ),
)
