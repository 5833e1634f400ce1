"""``companion serve``: the program on this machine, or on the shop's network."""

import argparse
import json
import os
from pathlib import Path
from typing import Any

from granian import Granian
from granian.constants import Interfaces
from granian.log import LogLevels

from ..app import open_store
from ..config import Config, default_data_dir
from ..errors import OutOfRange
from ..lan import serving
from ..records import lock
from ..records.catalogue import identity

DEFAULT_PORT = 8035
#: The demo has a port of its own, for a browser keeps what a phone weighed by address: invented
#: cups and real ones must never lie in the same log.
DEMO_PORT = 8036


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    command = commands.add_parser("serve", help="serve office and bench", description=__doc__)
    command.add_argument("--demo", action="store_true", help="serve the invented demo workshop")
    command.add_argument("--lan", action="store_true", help="serve phones on this network, by TLS")
    command.add_argument("--name", help="name of the shop on its network (companion.local)")
    command.add_argument(
        "--port", type=_port, help=f"port ({DEFAULT_PORT}, demo {DEMO_PORT}; kept with --lan)"
    )
    command.add_argument(
        "--change-address",
        action="store_true",
        help="leave the name and port the phones know this shop by",
    )
    command.add_argument("--json", action="store_true", help="say where in one line for programs")
    command.add_argument("--data", type=Path, metavar="DIR", help="folder of the records")
    command.set_defaults(run=run)


def _port(text: str) -> int:
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r}: allowed is a port from 1 to 65535")


def run(options: argparse.Namespace) -> int:
    """Serve until stopped."""
    config = Config(options.data or default_data_dir(options.demo), options.demo)
    if not options.lan and (options.name is not None or options.change_address):
        field = "--name" if options.name is not None else "--change-address"
        raise OutOfRange(field, options.name or "given", "only together with --lan")
    with lock.hold(config.data_dir):
        _require_own_records(config)
        return _on_the_network(config, options) if options.lan else _here(config, options)


def _require_own_records(config: Config) -> None:
    """Open the records once here, so that what cannot be opened ends with a plain line."""
    store = open_store(config)
    is_demo = identity(store).demo
    store.close()
    if is_demo != config.demo:
        kind = "the demo workshop, with --demo" if is_demo else "a real shop, without --demo"
        raise OutOfRange("--data", config.data_dir, kind)


def _on_the_network(config: Config, options: argparse.Namespace) -> int:
    wish = serving.Wish(options.name, options.port, options.change_address, options.json)
    return serving.serve(config, wish)


def _here(config: Config, options: argparse.Namespace) -> int:
    os.environ["COMPANION_DATA"] = str(config.data_dir.absolute())
    os.environ["COMPANION_DEMO"] = "1" if config.demo else "0"
    port = options.port or (DEMO_PORT if config.demo else DEFAULT_PORT)
    serving.require_free(port, "127.0.0.1")
    address = f"http://127.0.0.1:{port}"
    if options.json:
        facts = {"address": address, "data": str(config.data_dir.absolute()), "demo": config.demo}
        print(json.dumps(facts), flush=True)
    else:
        print(
            f"Office: {address}/\nBench:  {address}/bench/\nRecords in {config.data_dir}",
            flush=True,
        )
    Granian(
        "companion.lan.worker:create_intake",
        factory=True,
        address="127.0.0.1",
        port=port,
        interface=Interfaces.ASGINL,
        workers=1,
        websockets=False,
        log_enabled=True,
        log_level=LogLevels.warning,
    ).serve()
    return 0
