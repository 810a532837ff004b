"""Rules that the house keeps: what import contracts and linters don't look at."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

HOUSE = Path(__file__).parents[1] / "caller"
MODULES = sorted(HOUSE.rglob("*.py"))
MOST_LINES = 300
OPTIONS = {"cli/options.py"}  # argparse's own value is turned into a command's options there


def named(path: Path) -> str:
    return path.relative_to(HOUSE).as_posix()


def test_no_class_name_is_taken_twice() -> None:
    """Whoever looks for one finds one: names of types, and of what stands for several, are told apart in all rooms."""
    taken = Counter(name for path in MODULES for name in types_of(ast.parse(path.read_text(encoding="utf-8"))))
    assert not {name for name, times in taken.items() if times > 1}


def types_of(module: ast.Module) -> Iterator[str]:
    for node in ast.walk(module):
        if isinstance(node, ast.ClassDef):
            yield node.name
    for node in module.body:
        match node:
            case ast.Assign(targets=[ast.Name(name)], value=ast.BinOp(op=ast.BitOr())) if name[:1].isupper():
                if not name.isupper():
                    yield name


def test_no_module_is_longer_than_can_be_read_at_a_sitting() -> None:
    lines = {named(path): len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES}
    assert not {name for name, many in lines.items() if many > MOST_LINES}


def test_options_are_typed_beyond_the_parser() -> None:
    knows = {named(path) for path in MODULES if "Namespace" in path.read_text(encoding="utf-8")}
    assert knows == OPTIONS
