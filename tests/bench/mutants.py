"""The mutants of ``bench_mutants``: where a module can have one, which are drawn, a project that has one of them."""

from __future__ import annotations

import ast
import random
import subprocess
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from heapq import nlargest
from operator import itemgetter
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

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

Spot = tuple[int, int]  # line, column


@dataclass(frozen=True, slots=True)
class Mutation:
    """occurrence: which of the operator's places in the module. name: the same where other lines have changed."""

    module: Path
    operator: str
    occurrence: int
    line: int
    name: str


def operators() -> list[str]:
    return [name for name in operator_names() if name.removeprefix("core/").split("_")[0] in KINDS]


def untold(tree: ast.Module) -> Iterator[tuple[Spot, Spot]]:
    """From where to where nothing is done that a test could tell."""
    for node in ast.walk(tree):
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


def mutations(project: Path, module: Path) -> dict[Spot, list[Mutation]]:
    """All of a module, by their place."""
    source = (project / module).read_text(encoding="utf-8")
    left_out, nodes = list(untold(ast.parse(source))), list(ast_nodes(get_ast(source)))
    found: dict[Spot, list[Mutation]] = {}
    for operator in operators():
        makes = get_operator(operator)()
        places = [at for node in nodes for at, _ in makes.mutation_positions(node)]
        for occurrence, at in enumerate(places):
            if not any(begins <= at < ends for begins, ends in left_out):
                which = places[:occurrence].count(at) + 1
                name = f"{module} {named(source, at)} {operator.removeprefix('core/')}/{which}"
                found.setdefault(at, []).append(Mutation(module, operator, occurrence, at[0], name))
    return found


def named(source: str, at: Spot) -> str:
    """A place by its line's words, with a mark before it; of like lines in a module, by their number too."""
    lines = source.splitlines()
    line = lines[at[0] - 1]
    before = sum(other.strip() == line.strip() for other in lines[: at[0] - 1])
    return f"{f'{line[: at[1]]}>>{line[at[1] :]}'.strip()!r}{f' ({before + 1})' if before else ''}"


@dataclass(frozen=True, slots=True)
class Sample:
    """many: of a folder. lately: how often more than evenly the places of a module are drawn."""

    many: int
    seed: int
    lately: Mapping[Path, int]

    def of(self, project: Path, folder: str) -> list[Mutation]:
        lot = random.Random(f"{self.seed} {folder}")
        modules = sorted(path.relative_to(project) for path in (project / "caller" / folder).rglob("*.py"))
        weights = {module: 1 + self.lately.get(module, 0) for module in modules}
        places = [(weights[module], here) for module in modules for here in mutations(project, module).values()]
        chances = [(lot.random() ** (1 / weight), here) for weight, here in places]
        return [lot.choice(here) for _, here in nlargest(self.many, chances, key=itemgetter(0))]


def changes(project: Path, since: str) -> Counter[Path]:
    """How many changes each module has seen."""
    words = ["git", "log", f"--since={since}", "--name-only", "--pretty=", "--", "caller"]
    told = subprocess.run(words, cwd=project, capture_output=True, check=True, encoding="utf-8").stdout
    return Counter(Path(line) for line in told.splitlines() if line)


@contextmanager
def mutated(project: Path, mutation: Mutation) -> Iterator[None]:
    place = project / mutation.module
    source = place.read_text(encoding="utf-8")
    mutant = mutate_code(source, get_operator(mutation.operator)(), mutation.occurrence)
    assert mutant is not None, mutation
    place.write_text(mutant, encoding="utf-8")
    try:
        yield
    finally:
        place.write_text(source, encoding="utf-8")
