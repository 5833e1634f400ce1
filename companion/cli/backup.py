"""``companion backup`` and ``restore``: a copy that is proven, and putting one back."""

import argparse
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from ..config import Config, default_data_dir
from ..records import files
from ..records.backup import Backup, back_up, keep_newest
from ..records.lock import hold
from ..records.restore import Restored, restore
from .records import command, open_records


def add_commands(commands: Any) -> None:
    """Hang the commands on the parser."""
    backup = command(commands, "backup", "copy the records and prove the copy", run_backup)
    backup.add_argument(
        "--to",
        type=Path,
        metavar="DIR",
        help="folder of the backups (backups, in that of the records)",
    )
    backup.add_argument(
        "--keep", type=_count, metavar="N", help="remove all but the newest N from that folder"
    )
    backup.add_argument("--json", action="store_true", help="print one JSON object")
    back = command(commands, "restore", "put a backup in the place of the records", run_restore)
    back.add_argument("file", type=Path, help="the file, as made by companion backup")
    back.add_argument(
        "--other-server", action="store_true", help="let it be the backup of another server"
    )
    back.add_argument("--json", action="store_true", help="print one JSON object")


def _count(text: str) -> int:
    if text.isascii() and text.isdigit() and int(text[:6]) >= 1:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r}: allowed is a whole number, at least 1")


def run_backup(options: argparse.Namespace) -> int:
    """Make a backup, prove it, and only then remove older ones."""
    config, store = open_records(options)
    folder = options.to or files.private_folder(config.data_dir / "backups")
    made = back_up(store, folder, datetime.now(UTC))
    removed = keep_newest(store, made, options.keep) if options.keep else []
    store.close()
    if options.json:
        print(json.dumps(_as_json(made, removed)))
    else:
        print(f"{made.rows} rows in {made.file}")
        print("The copy was restored to a side file, checked and compared: it is good.")
        if removed:
            print(f"Removed, as older: {', '.join(file.name for file in removed)}")
    return 0


def _as_json(made: Backup, removed: list[Path]) -> dict[str, Any]:
    return {
        "file": made.file,
        "made_at": made.made_at,
        "rows": made.rows,
        "sha256": made.sha256,
        "removed": [str(file) for file in removed],
    }


def run_restore(options: argparse.Namespace) -> int:
    """Put a backup in the place of the records, with no server running on them."""
    config = Config(options.data or default_data_dir(options.demo), options.demo)
    with hold(config.data_dir):
        done = restore(
            config.database_file,
            options.file,
            demo=options.demo,
            other_server=options.other_server,
            moment=datetime.now(UTC),
        )
    if options.json:
        print(json.dumps(_restored_as_json(done)))
    else:
        print("\n".join(_restored_in_words(done)))
    return 0


def _restored_as_json(done: Restored) -> dict[str, Any]:
    return {
        "server_id": done.server_id,
        "epoch": done.epoch,
        "demo": done.demo,
        "rows": done.rows,
        "kept_aside": str(done.kept_aside) if done.kept_aside else None,
        "codes_taken_over": done.kept.codes,
        "access_taken_over": done.kept.access,
        "old_records_sound": done.kept.sound,
        "rows_not_in_backup": len(done.left_behind),
        "rows_not_in_backup_file": str(done.left_behind_in) if done.left_behind_in else None,
    }


def _restored_in_words(done: Restored) -> list[str]:
    said = [f"Restored: {done.rows} rows of the server {done.server_id}."]
    if done.kept_aside:
        said.append(f"The records before are kept as {done.kept_aside}.")
        said += _taken_over_in_words(done)
    if done.left_behind_in:
        said += [
            f"Rows they hold and the backup lacks: {len(done.left_behind)}, in",
            f"{done.left_behind_in}. Phones send theirs again by themselves; nobody sends those of",
            "a phone that was cut off or of a file. companion import adds them, twice is harmless.",
        ]
    return [
        *said,
        "Start the server. Each phone sends by itself what the backup lacks, and takes new codes.",
        "What the office entered after the backup is not in it: enter it again.",
    ]


def _taken_over_in_words(done: Restored) -> list[str]:
    taken, lost = done.kept.codes, not done.kept.sound
    said = ["They are damaged; what could be read of them was taken over."] if lost else []
    said.append(f"Codes given out after the backup, kept from being given out again: {taken}.")
    if lost:
        said.append("Throw away labels printed ahead after the backup that are not yet used.")
    if not lost and done.kept.access:
        return [*said, "Phones stay paired or cut off as they were, and the passphrase stays."]
    return [
        *said,
        "Phones and passphrase may be those of the backup: look under Phones whether one is in "
        "that was cut off, pair those that are missing, set the passphrase anew.",
    ]
