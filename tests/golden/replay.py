"""Reading golden files with the program as it is."""

import json
import shutil
from pathlib import Path
from typing import Any

from companion.records import trace
from companion.records.store import Store

GOLDEN = Path(__file__).parent
FORMATS = sorted(path for path in GOLDEN.iterdir() if path.name.startswith("format-"))


def read(path: Path) -> Any:
    """One JSON file."""
    return json.loads(path.read_text(encoding="utf-8"))


def opened(records: Path, folder: Path) -> Store:
    """A copy of a SQLite file, brought to today's schema."""
    copy = folder / "companion.sqlite3"
    shutil.copy(records, copy)
    store = Store(f"sqlite:///{copy}")
    store.migrate()
    return store


def cups_of(format_folder: Path) -> list[dict[str, Any]]:
    """What the cups of a SQLite file are today, as plain JSON; the file is only read."""
    store = Store(f"sqlite:///{format_folder / 'records.sqlite3'}")
    try:
        return cups(store)
    finally:
        store.close()


def cups(store: Store) -> list[dict[str, Any]]:
    """What matters of each cup, by its identity."""
    return [
        {
            "id": story.id,
            "code": story.code,
            "rows": [row.event_id for row in story.rows],
            "state": story.cup.state,
            "part_a_g": story.cup.part_a_g,
            "part_b_g": story.cup.part_b_g,
            "ratio_error": story.cup.ratio_error,
            "uncertainty": story.cup.uncertainty,
            "verdict": story.cup.verdict,
            "unknown": story.cup.unknown,
            "flags": list(story.cup.flags),
        }
        for story in sorted(trace.all_stories(store), key=lambda story: story.id)
        if story.cup
    ]
