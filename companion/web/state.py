"""What the views need of the running program."""

from dataclasses import dataclass
from datetime import UTC, datetime

from flask import current_app

from ..config import Config
from ..records.catalogue import ServerIdentity
from ..records.store import Store
from ..trade.times import format_utc


@dataclass(frozen=True, slots=True)
class State:
    """One running application: its settings, records and identity."""

    config: Config
    store: Store
    identity: ServerIdentity


def state() -> State:
    """State of the application that handles this request."""
    found = current_app.extensions["companion"]
    assert isinstance(found, State)
    return found


def now_utc() -> str:
    """Server time as the log writes it."""
    return format_utc(datetime.now(UTC))
