"""Commands that work on the records: their common options, and opening them."""

import argparse
import os
from pathlib import Path
from typing import Any

from ..app import open_store
from ..config import Config, default_data_dir, origin
from ..errors import NotKnown
from ..lan import address
from ..lan.serving import FOLDER
from ..records.store import Store


def command(commands: Any, name: str, text: str, run: Any) -> argparse.ArgumentParser:
    """Hang a command with the common options on the parser."""
    made: argparse.ArgumentParser = commands.add_parser(name, help=text, description=text)
    made.add_argument("--data", type=Path, metavar="DIR", help="folder of the records")
    made.add_argument("--demo", action="store_true", help="the records of the demo workshop")
    made.set_defaults(run=run)
    return made


def open_records(options: argparse.Namespace) -> tuple[Config, Store]:
    """Records that exist; asking for a log must not make an empty one.

    :raises NotKnown: there are none in that folder.
    """
    config = Config(options.data or default_data_dir(options.demo), options.demo)
    if not config.database_file.is_file():
        raise NotKnown("--data", str(config.data_dir))
    return config, open_store(config)


def shop_address(config: Config) -> str:
    """The address labels carry: of this shop's network, or the one a proxy serves it under.

    :raises OutOfRange: what is kept or set is no address.
    """
    kept = address.read(config.data_dir / FOLDER)
    return origin(os.environ.get("COMPANION_ADDRESS", "")) or (kept.url if kept else "")
