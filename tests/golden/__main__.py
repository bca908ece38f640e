"""Writes what the golden files mean now, a journal for each shape that has none, and the answers in
the dialogues of the documents."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from tests import dialogues
from tests.golden.reading import (
    CONVERSATION,
    FOLDER,
    MEANT,
    as_text,
    conversation,
    journals,
    lines_of,
    meaning,
    shapes,
    whole_piece,
)

for shape in shapes():
    if not (kept := FOLDER / f"{shape}.jsonl").exists():
        with TemporaryDirectory() as folder:
            kept.write_bytes(whole_piece(shape, Path(folder)).read_bytes())
MEANT.write_text(as_text({path.stem: meaning(path) for path in journals()}), "utf-8")
CONVERSATION.write_text(conversation(lines_of(CONVERSATION.read_text("utf-8"))), "utf-8")
for document in dialogues.FILES:
    document.write_text(dialogues.answered(document.read_text("utf-8")), "utf-8")
