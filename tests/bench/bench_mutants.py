"""What share of small faults in the pure folders their own tests find: mutants by sample, one at a time.

Run: ``python -m tests.bench.bench_mutants [HOW MANY] [FOLDER ...] [--seed N] [--since WHEN] [--within S]
[--kept FOLDER] [--again]`` (``pip install -e ".[bench]"`` brings cosmic-ray, which makes them, and coverage). Places
are drawn evenly from each folder, then one of the mutations that a place can have; with ``--since`` those of a module
once more for each change it has seen since then, a time as git tells it. Left out is what no test could tell:
annotations, docstrings, decorators, and what is said in an error. In a copy of the project a mutant runs those tests of
its folder that run its line, the quick ones first, until one fails. What is still alive is printed with its line, to be
killed, or argued in ``mutants_argued.toml``. The exit status is 1 where less than ``WANTED`` is killed or argued.

With ``--kept`` the copy, which test runs which line and each mutant's fate stay in FOLDER: a run that was broken off
goes on there. ``--again`` then tries what was alive once more, against the project as it is now. ``--within`` runs only
the quick tests of a mutant, as many as took so many seconds together: what the others alone would find counts as alive.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import tomllib
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from math import inf
from pathlib import Path
from typing import Any

from tests.bench.mutants import Mutation, Sample, changes, mutated, mutations

ROOT = Path(__file__).parents[2]
PURE = ("clock", "transport", "dance", "teaching", "routine", "calls", "sound", "session", "evening", "book")
WANTED = 0.85
# Tests of a folder that stand elsewhere: the whole check is tested by sheets, beside what reads them.
ELSEWHERE = {"dance": ("tests/routine/test_findings.py",)}
# A mutant that runs so many times as long as the tests do goes round for ever, and is found by that.
PATIENCE = 6


def statement(source: str, line: int) -> range:
    """The lines of the innermost statement there; of one that holds others, its head alone."""
    found = range(line, line + 1)
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.stmt) and node.lineno <= line <= (node.end_lineno or node.lineno):
            body = getattr(node, "body", None)
            last = body[0].lineno - 1 if body else node.end_lineno or node.lineno
            found = range(node.lineno, max(last, line) + 1)
    return found


@dataclass(frozen=True)
class Suite:
    """The tests of one folder, in a copy of the project; what they run is learnt once and written to ``learnt``.
    within: how many seconds' worth of tests a mutant is tried with."""

    project: Path
    folder: str
    learnt: Path
    within: float = inf

    @property
    def words(self) -> tuple[str, ...]:
        return (f"tests/{self.folder}", *ELSEWHERE.get(self.folder, ()))

    def run(self, words: Sequence[str], seconds: float, **more: str) -> bool:
        """Whether they fail, or never end."""
        environment = {**os.environ, "PYTHONPATH": str(self.project), "PYTHONDONTWRITEBYTECODE": "1", **more}
        plugins = ["-p", "no:cacheprovider", "-p", "tests.bench.mutants_tests"]
        try:
            done = subprocess.run(
                [sys.executable, "-m", "pytest", "-x", "-q", *plugins, "--hypothesis-seed=0", *words],
                cwd=self.project,
                env=environment,
                capture_output=True,
                timeout=seconds,
                check=False,
            )
        except subprocess.TimeoutExpired:
            return True
        return done.returncode not in (0, 5)  # 5: there are no such tests

    @cached_property
    def known(self) -> dict[str, Any]:
        if not self.learnt.is_file() and self.run(self.words, 7_200, MUTANTS_LEARN=str(self.learnt)):
            raise SystemExit(f"{self.folder}: its tests fail as it stands")
        known: dict[str, Any] = json.loads(self.learnt.read_text(encoding="utf-8"))
        return known

    def of(self, mutation: Mutation) -> list[str]:
        """The tests that run its line, the quick ones first; of a line that runs while its module is loaded, all."""
        lines, seconds = self.known["lines"].get(str(mutation.module), {}), self.known["seconds"]
        source = (self.project / mutation.module).read_text(encoding="utf-8")
        here = [str(line) for line in statement(source, mutation.line) if str(line) in lines]
        tests = {test for line in here for test in lines[line]}
        quick_first = sorted(tests or seconds, key=lambda test: (seconds[test], test))
        spent = accumulate(seconds[test] for test in quick_first)
        return [test for test, until in zip(quick_first, spent, strict=True) if until <= self.within] or quick_first[:1]

    def kills(self, mutation: Mutation) -> bool:
        tests = self.of(mutation)
        limit = 60 + PATIENCE * sum(self.known["seconds"][test] for test in tests)
        listed = self.learnt.with_suffix(".chosen")
        listed.write_text(json.dumps(tests), encoding="utf-8")
        with mutated(self.project, mutation):
            files = sorted({test.split("::")[0] for test in tests})
            return self.run(files, limit, MUTANTS_TESTS=str(listed))

    def kills_now(self, mutation: Mutation) -> bool:
        """The same without having learnt: the module's own tests first, then the folder's."""
        own = f"tests/{self.folder}/test_{mutation.module.stem}.py"
        with mutated(self.project, mutation):
            if (self.project / own).is_file() and self.run([own], 1_800):
                return True
            return self.run([*self.words, f"--ignore={own}"], 3_600)


def argued() -> dict[str, str]:
    """Why a mutant does what the line does, by its name."""
    rows = tomllib.loads((Path(__file__).parent / "mutants_argued.toml").read_text(encoding="utf-8"))["equivalent"]
    return {row["mutant"]: row["why"] for row in rows}


@dataclass(frozen=True, slots=True)
class Fates:
    """What became of each mutant, a line each, ``FATE NAME``: killed, alive, or gone with its line. The last holds."""

    kept: Path

    def read(self) -> dict[str, str]:
        lines = self.kept.read_text(encoding="utf-8").splitlines() if self.kept.is_file() else []
        return {name: fate for fate, _, name in (line.partition(" ") for line in lines)}

    def add(self, mutation: str, fate: str) -> None:
        with self.kept.open("a", encoding="utf-8") as out:
            out.write(f"{fate} {mutation}\n")


def copied(project: Path) -> None:
    shutil.copytree(ROOT, project, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".hypothesis"))


def tell(folder: str, fates: Mapping[str, str]) -> tuple[int, int]:
    """How many there are, and how many are neither killed nor argued."""
    why = argued()
    alive = [name for name, fate in fates.items() if fate == "alive"]
    left = [name for name in alive if name not in why]
    for name in left:
        print(f"  alive: {name}")
    many = len(fates)
    print(f"{folder}: {many - len(alive)} of {many} killed, {len(alive) - len(left)} argued", flush=True)
    return many, len(left)


def begin(kept: Path, folder: str, sample: Sample, within: float) -> tuple[int, int]:
    project, fates = kept / "project", Fates(kept / f"{folder}.fates")
    if not project.is_dir():
        copied(project)
    suite, before = Suite(project, folder, kept / f"{folder}.json", within), fates.read()
    for one in sample.of(project, folder):
        if one.name not in before:
            fates.add(one.name, "killed" if suite.kills(one) else "alive")
    return tell(folder, fates.read())


def again(kept: Path, folder: str) -> tuple[int, int]:
    """What was alive is tried in the project as it is now; a line that is there no more is left out."""
    project, fates = kept / "project-now", Fates(kept / f"{folder}.fates")
    suite, before = Suite(project, folder, kept / f"{folder}-now.json"), fates.read()
    alive = {name for name, fate in before.items() if fate == "alive" and name not in argued()}
    modules = {Path(name.partition(" ")[0]) for name in alive}
    places = (here for module in modules & here_still(project) for here in mutations(project, module).values())
    now = {one.name: one for here in places for one in here}
    for name in sorted(alive):
        if name not in now:
            fates.add(name, "gone")
        elif suite.kills_now(now[name]):
            fates.add(name, "killed")
    return tell(folder, {name: fate for name, fate in fates.read().items() if fate != "gone"})


def here_still(project: Path) -> set[Path]:
    return {path.relative_to(project) for path in (project / "caller").rglob("*.py")}


def main(asked: Sequence[str] | None = None) -> int:
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("many", nargs="?", type=int, default=300)
    words.add_argument("folders", nargs="*", default=list(PURE), metavar="FOLDER")
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--since", metavar="WHEN")
    words.add_argument("--within", type=float, default=inf, metavar="SECONDS")
    words.add_argument("--kept", type=Path, metavar="FOLDER")
    words.add_argument("--again", action="store_true")
    given = words.parse_args(asked)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # no mutant is left in a copy that is kept
    with tempfile.TemporaryDirectory(prefix="mutants-") as passing:
        kept = (given.kept or Path(passing)).absolute()
        kept.mkdir(parents=True, exist_ok=True)
        if given.again:
            shutil.rmtree(kept / "project-now", ignore_errors=True)
            copied(kept / "project-now")
            told = [again(kept, folder) for folder in given.folders]
        else:
            lately = changes(ROOT, given.since) if given.since else Counter()
            sample = Sample(given.many // len(given.folders), given.seed, lately)
            told = [begin(kept, folder, sample, given.within) for folder in given.folders]
    tried, left = (sum(column) for column in zip(*told, strict=True))
    share = (tried - left) / max(tried, 1)
    print(f"{share:.0%} of {tried} killed or argued (seed {given.seed})")
    return 0 if share >= WANTED else 1


if __name__ == "__main__":
    sys.exit(main())
