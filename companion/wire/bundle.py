"""JSON that travels to the phone: the bundle and the acknowledgement."""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any, Protocol

FORMAT = 1


class Identity(Protocol):
    """Who answers."""

    @property
    def server_id(self) -> str: ...
    @property
    def epoch(self) -> str: ...
    @property
    def demo(self) -> bool: ...


class Result(Protocol):
    """What became of one row."""

    @property
    def seq(self) -> int | None: ...
    @property
    def event_id(self) -> str: ...
    @property
    def status(self) -> str: ...
    @property
    def reason(self) -> str: ...


class Receipt(Protocol):
    """What is held of one log."""

    @property
    def results(self) -> Sequence[Result]: ...
    @property
    def have_upto(self) -> int: ...
    @property
    def missing(self) -> Sequence[tuple[int, int]]: ...


def pack(bundle: Any) -> tuple[str, str]:
    """Bundle as JSON text with the strong tag of its content.

    :param bundle: a dataclass whose fields are plain values, with an ``identity``.
    """
    fields = asdict(bundle)
    identity = fields.pop("identity")
    text = json.dumps({"format": FORMAT, **identity, **fields}, ensure_ascii=False, sort_keys=True)
    return text, hashlib.sha256(text.encode()).hexdigest()


def acknowledgement(
    identity: Identity,
    log_id: str,
    digest: str,
    receipt: Receipt,
    server_time: str,
    codes: Sequence[str],
) -> dict[str, Any]:
    """Answer to rows that were sent: who answers, for which body, and what is held now."""
    return {
        "format": FORMAT,
        "server_id": identity.server_id,
        "epoch": identity.epoch,
        "log_id": log_id,
        "digest": digest,
        "have_upto": receipt.have_upto,
        "missing": [list(gap) for gap in receipt.missing],
        "results": [
            {
                "seq": result.seq,
                "event_id": result.event_id,
                "status": result.status,
                "reason": result.reason,
            }
            for result in receipt.results
        ],
        "server_time": server_time,
        "codes": list(codes),
    }
