"""``caller words``: what a teacher always says for a figure, kept in the vocabulary of one's own."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli.options import runs
from caller.cli.say import Refused, print_json
from caller.cli.sheets import own_vocabulary_file, vocabulary
from caller.outside import documents
from caller.routine.vocabulary import VocabularyError, read_vocabulary, shipped_text
from caller.storage.locks import alone
from caller.storage.whole import own_folder, write_text

if TYPE_CHECKING:
    from tomlkit import TOMLDocument


@dataclass(frozen=True, kw_only=True)
class WordsOptions:
    """figure: None to list. each: the words on the counts. usual: what was said of it is taken back."""

    figure: str | None
    words: str | None
    each: tuple[str, ...] | None
    usual: bool
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "words",
        help="your own words for a figure, for calls, telling and on the count",
        description="Keeps what you always say for a figure, in vocabulary.toml; without a FIGURE, lists what is kept.",
    )
    words.add_argument("figure", metavar="FIGURE", nargs="?", help='as a sheet has it: "chasse", "shuffle over"')
    words.add_argument("words", metavar="WORDS", nargs="?", help='what you always say for it: "side shuffle"')
    words.add_argument(
        "--each", type=_listed, metavar="WORDS", help='the words on its counts, with commas: "side, close, side"'
    )
    words.add_argument("--usual", action="store_true", help="the caller's own words for it again")
    words.add_argument("--json", action="store_true", help="one JSON document")
    runs(words, WordsOptions, run)


def _listed(text: str) -> tuple[str, ...]:
    found = tuple(" ".join(one.split()) for one in text.split(","))
    if not all(found):
        raise argparse.ArgumentTypeError('words with commas between them, such as "side, close, side"')
    return found


def run(asked: WordsOptions) -> int:
    if asked.figure is None:
        if asked.usual or asked.each:
            raise Refused("which figure? 'caller words' lists those that you have words for")
        return _list(asked.json)
    if asked.usual:
        return _taken_back(asked.figure)
    if asked.words is None and asked.each is None:
        raise Refused(f'what do you say for it? caller words "{asked.figure}" "YOUR WORDS", or --each for its counts')
    return _kept(asked.figure, asked.words, asked.each)


def _list(json: bool) -> int:
    vocabulary()  # a file with faults is told of
    file = own_vocabulary_file()
    entries = [dict(one) for one in _document(file).get("say", [])]
    rows = [{"figure": one["name"], "words": one.get("words"), "each": one.get("each")} for one in entries]
    if json:
        print_json(rows)
        return 0
    for row in rows:
        on_counts = f"on its counts: {', '.join(row['each'])}" if row["each"] else ""
        print(f"{row['figure']}: {'; '.join(filter(None, (row['words'], on_counts)))}")
    print(f"kept in {file}" if rows else 'none yet; caller words "chasse" "side shuffle" keeps some')
    return 0


def _kept(figure: str, words: str | None, each: tuple[str, ...] | None) -> int:
    def put(document: TOMLDocument) -> None:
        import tomlkit

        entry = next((one for one in document.get("say", []) if _same(one, figure)), None)
        if entry is None:
            entry = tomlkit.table()
            entry["name"] = figure
            document.setdefault("say", tomlkit.aot()).append(entry)
        if words is not None:
            entry["words"] = words
        if each is not None:
            entry["each"] = list(each)

    file = _changed(put)
    said = f'"{words}"' if words else ""
    on_counts = f'"{", ".join(each)}" on its counts' if each else ""
    print(f"{figure}: {' and '.join(filter(None, (said, on_counts)))} from now on; kept in {file}")
    return 0


def _taken_back(figure: str) -> int:
    def take(document: TOMLDocument) -> None:
        import tomlkit

        entries = document.get("say", [])
        left = [one for one in entries if not _same(one, figure)]
        if len(left) == len(entries):
            raise Refused(f"you have no words of your own for {figure!r}; 'caller words' lists those that you have", 1)
        del document["say"]
        if left:
            document["say"] = tomlkit.aot()
            for one in left:
                document["say"].append(one)

    file = _changed(take)
    print(f"{figure}: the usual words again; {file}")
    return 0


def _same(entry: Any, figure: str) -> bool:
    return " ".join(str(entry.get("name", "")).lower().split()) == " ".join(figure.lower().split())


def _changed(change: Callable[[TOMLDocument], None]) -> Path:
    """The file, changed; not at all where that makes it one that can't be used. Raises Refused."""
    import tomlkit

    file = own_vocabulary_file()
    own_folder(file.parent)
    with alone(file):
        document = _document(file)
        change(document)
        text = tomlkit.dumps(document)
        try:
            read_vocabulary([shipped_text(), text])
        except VocabularyError as fault:
            told = "; ".join(re.sub(r"^line \d+: ", "", one) for one in fault.faults)
            raise Refused(f"that can't be kept: {told}", 1) from fault
        write_text(file, text, private=True)
    return file


def _document(file: Path) -> TOMLDocument:
    """As it stands; empty where there is none. Raises Refused."""
    import tomlkit

    try:
        text = documents.read_text(file)
        documents.toml(text)  # the bounds of what tomlkit is given
        return tomlkit.parse(text)
    except FileNotFoundError:
        return tomlkit.document()
    except (OSError, documents.Unreadable) as fault:
        raise Refused(f"the vocabulary of your own, {file}: {fault}; mend it or move it away", 1) from fault
