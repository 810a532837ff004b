"""Documents from outside: whatever they hold, a document or one sentence, and soon."""

from __future__ import annotations

import contextlib
import os
import time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.outside import documents
from caller.outside.documents import Unreadable

# 100,000 of each: brackets in brackets, names in parts, figures of 5,000 digits.
HOSTILE_TOML = {
    "brackets": "a = " + "[" * 100_000,
    "closed brackets": "a = " + "[" * 100_000 + "]" * 100_000,
    "tables": "a = " + "{a=" * 100_000,
    "a name in parts": "a." * 100_000 + "a = 1",
    "a heading in parts": "[" + "a." * 100_000 + "a]",
    "a quoted name in parts": '"a".' * 100_000 + "a = 1",
    "a spaced name in parts": "a . " * 100_000 + "a = 1",
    "digits": "a = " + "9" * 5_000,
    "a float": "a = 1e" + "9" * 5_000 + "\nb = [",
    "an open string": 'a = "' + "x" * 900_000,
    "nothing but quotes": '"' * 200_000,
    "nothing but dots": "." * 200_000,
}
HOSTILE_JSON = {
    "brackets": "[" * 100_000,
    "closed brackets": "[" * 100_000 + "]" * 100_000,
    "objects": '{"a":' * 100_000,
    "digits": '{"a": ' + "9" * 5_000 + "}",
    "half a sign": '{"a": "\\ud800"',
}


@pytest.mark.parametrize("kind", HOSTILE_TOML)
def test_hostile_toml_is_told_soon(kind: str) -> None:
    began = time.perf_counter()
    with pytest.raises(Unreadable) as fault:
        documents.toml(HOSTILE_TOML[kind])
    assert time.perf_counter() - began < 2
    assert len(str(fault.value)) < 300
    assert "\n" not in str(fault.value)


@pytest.mark.parametrize("kind", HOSTILE_JSON)
def test_hostile_json_is_told_soon(kind: str) -> None:
    began = time.perf_counter()
    for wanted in (dict[str, Any], dict[str, dict[str, str]], dict[str, int]):
        if (kind, wanted) == ("digits", dict[str, Any]):
            continue  # where anything may stand, so may a long number
        with pytest.raises(Unreadable) as fault:
            documents.json(HOSTILE_JSON[kind].encode(), wanted)
        assert len(str(fault.value)) < 300
    assert time.perf_counter() - began < 2


@given(st.text(max_size=200))
def test_any_text_is_a_document_or_told(text: str) -> None:
    with contextlib.suppress(Unreadable):
        assert isinstance(documents.toml(text), dict)
    with contextlib.suppress(Unreadable):
        documents.json(text.encode("utf-8", "replace"), dict[str, Any])


def test_names_as_long_as_ours_are_read() -> None:
    text = 'a.b.c = 1\n[d.e]\nf = "' + "one. two. three. " * 40 + '"\n# a.b.c.d.e.f.g\n'
    assert documents.toml(text)["d"]["e"]["f"].startswith("one. two.")


@pytest.mark.skipif(os.name != "posix", reason="pipes with names are POSIX's")
def test_a_pipe_is_told_and_not_waited_on(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", Path("/dev/zero"), tmp_path):
        with pytest.raises(OSError, match=r"no plain file|directory"):
            documents.read_bytes(path)


def test_a_file_that_is_far_too_long_is_told(tmp_path: Path) -> None:
    (tmp_path / "long").write_bytes(b"x" * 1001)
    assert len(documents.read_head(tmp_path / "long", 1000)) == 1001
    with pytest.raises(Unreadable, match="more than 1,000 bytes"):
        documents.read_bytes(tmp_path / "long", 1000)
    (tmp_path / "bytes").write_bytes(b"\xff\xfe")
    with pytest.raises(Unreadable, match="UTF-8"):
        documents.read_text(tmp_path / "bytes")
