"""What share of small faults in the pure folders their own tests find: mutants by sample, one at a time.

Run: ``python -m tests.bench.bench_mutants [HOW MANY] [FOLDER ...] [--seed N]`` (``pip install -e ".[bench]"`` brings
cosmic-ray, which makes them). Places are drawn evenly from each folder, then one of the mutations that a place can
have. Left out is what no test could tell: annotations, docstrings, decorators, and what is said in an error. A mutant
runs the tests of its folder alone, until the first that fails, in a copy of the project; what is still alive is printed
with its line, to be killed or argued. The exit status is 1 where less than ``WANTED`` is killed.
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

ROOT = Path(__file__).parents[2]
PURE = ("clock", "transport", "dance", "calls", "teaching", "sound", "routine")
WANTED = 0.85
KINDS = (
    "AddNot",
    "NumberReplacer",
    "ReplaceAndWithOr",
    "ReplaceOrWithAnd",
    "ReplaceBinaryOperator",
    "ReplaceComparisonOperator",
    "ReplaceTrueWithFalse",
    "ReplaceFalseWithTrue",
    "ReplaceUnaryOperator",
    "ReplaceBreakWithContinue",
    "ReplaceContinueWithBreak",
    "ZeroIterationForLoop",
)
# A mutant that runs so many times as long as the tests do goes round for ever, and is found by that.
PATIENCE = 6

Spot = tuple[int, int]  # line, column


@dataclass(frozen=True, slots=True)
class Mutation:
    """occurrence: which of the operator's places in the module."""

    module: Path
    operator: str
    occurrence: int
    at: Spot

    def __str__(self) -> str:
        line = (ROOT / self.module).read_text(encoding="utf-8").splitlines()[self.at[0] - 1].strip()
        return f"{self.module}:{self.at[0]}:{self.at[1] + 1} {self.operator.removeprefix('core/')}: {line}"


def operators() -> list[str]:
    return [name for name in operator_names() if name.removeprefix("core/").split("_")[0] in KINDS]


def untold(source: str) -> Iterator[tuple[Spot, Spot]]:
    """From where to where nothing is done that a test could tell."""
    for node in ast.walk(ast.parse(source)):
        found: list[ast.expr | None] = []
        match node:
            case ast.FunctionDef() | ast.AsyncFunctionDef():
                found = [node.returns, *node.decorator_list]
            case ast.arg() | ast.AnnAssign():
                found = [node.annotation]
            case ast.ClassDef():
                found = [*node.decorator_list, *node.bases]
            case ast.Raise():
                found = [node.exc]
            case ast.Assign() if isinstance(node.value, ast.BinOp) and isinstance(node.value.op, ast.BitOr):
                found = [node.value]  # a name for a type
        for one in found:
            if one is not None:
                yield (one.lineno, one.col_offset), (one.end_lineno or 0, one.end_col_offset or 0)


def mutations(module: Path) -> dict[Spot, list[Mutation]]:
    """All of a module, by their place."""
    source = (ROOT / module).read_text(encoding="utf-8")
    left_out, nodes = list(untold(source)), list(ast_nodes(get_ast(source)))
    found: dict[Spot, list[Mutation]] = {}
    for name in operators():
        operator = get_operator(name)()
        places = (place for node in nodes for place in operator.mutation_positions(node))
        for occurrence, (at, _) in enumerate(places):
            if not any(first <= at < last for first, last in left_out):
                found.setdefault(at, []).append(Mutation(module, name, occurrence, at))
    return found


def drawn(folder: str, many: int, lot: random.Random) -> list[Mutation]:
    modules = sorted(path.relative_to(ROOT) for path in (ROOT / "caller" / folder).rglob("*.py"))
    places = [here for module in modules for here in mutations(module).values()]
    return [lot.choice(here) for here in lot.sample(places, min(many, len(places)))]


def finds(copy: Path, words: Sequence[str], seconds: float) -> bool:
    """Whether the tests fail, or never end."""
    environment = {**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "--hypothesis-seed=0", *words]
    try:
        done = subprocess.run(command, cwd=copy, env=environment, capture_output=True, timeout=seconds, check=False)
    except subprocess.TimeoutExpired:
        return True
    return done.returncode not in (0, 5)  # 5: there are no such tests


def killed(copy: Path, folder: str, mutation: Mutation, seconds: float) -> bool:
    """The module's own tests first, then the folder's."""
    place = copy / mutation.module
    source = place.read_text(encoding="utf-8")
    mutant = mutate_code(source, get_operator(mutation.operator)(), mutation.occurrence)
    assert mutant is not None, mutation
    place.write_text(mutant, encoding="utf-8")
    try:
        own = f"tests/{folder}/test_{mutation.module.stem}.py"
        if (copy / own).is_file() and finds(copy, [own], seconds):
            return True
        return finds(copy, [f"tests/{folder}", f"--ignore={own}"], seconds)
    finally:
        place.write_text(source, encoding="utf-8")


def main(asked: Sequence[str] | None = None) -> int:
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("many", nargs="?", type=int, default=300)
    words.add_argument("folders", nargs="*", default=list(PURE), metavar="FOLDER")
    words.add_argument("--seed", type=int, default=1)
    given = words.parse_args(asked)
    lot, tried, alive = random.Random(given.seed), 0, 0
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        copy = Path(folder) / "project"
        shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".hypothesis"))
        for name in given.folders:
            begun = time.monotonic()
            if finds(copy, [f"tests/{name}"], 3_600):
                print(f"{name}: its tests fail as it stands", flush=True)
                return 2
            seconds = PATIENCE * (time.monotonic() - begun)
            chosen = drawn(name, given.many // len(given.folders), lot)
            left = 0
            for one in chosen:
                if not killed(copy, name, one, seconds):
                    left += 1
                    print(f"  alive: {one}", flush=True)
            tried, alive = tried + len(chosen), alive + left
            print(f"{name}: {len(chosen) - left} of {len(chosen)} killed", flush=True)
    share = (tried - alive) / max(tried, 1)
    print(f"{share:.0%} of {tried} killed (seed {given.seed})")
    return 0 if share >= WANTED else 1


if __name__ == "__main__":
    sys.exit(main())
