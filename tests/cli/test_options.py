"""A command's options: each word has a field, each field a word."""

from __future__ import annotations

import argparse
from dataclasses import dataclass

import pytest

from caller.cli.options import runs


@dataclass(frozen=True, kw_only=True)
class Sweeping:
    broom: str
    twice: bool = False


def command(*names: str) -> argparse.ArgumentParser:
    words = argparse.ArgumentParser()
    for name in names:
        words.add_argument(name)
    return words


def test_a_command_is_run_with_what_was_said() -> None:
    words, said = command("--broom"), []
    runs(words, Sweeping, lambda options: said.append(options) or 3)  # type: ignore[func-returns-value]
    asked = words.parse_args(["--broom", "birch"])
    assert asked.run(asked) == 3
    assert said == [Sweeping(broom="birch")]


@pytest.mark.parametrize(("names", "fault"), [(("--broom", "--dustpan"), "dustpan"), (("--twice",), "broom")])
def test_a_word_without_a_field_and_a_field_without_a_word_fail(names: tuple[str, ...], fault: str) -> None:
    words = command(*names)
    runs(words, Sweeping, lambda options: 0)
    asked = words.parse_args([])
    with pytest.raises(TypeError, match=fault):
        asked.run(asked)
