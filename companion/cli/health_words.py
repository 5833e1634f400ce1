"""What ``companion health`` says in words: one line per fact, and what needs a hand."""

from collections.abc import Iterator, Mapping
from typing import Any

LEAST_DISK_FREE = 10**9
OLDEST_BACKUP_DAYS = 7
#: Days that are left of a certificate, the fewest first, and what to do then.
CERTIFICATE_STEPS = (
    (7, ": renew it now, or phones will not reach the server"),
    (30, ": renew it soon"),
    (60, ""),
)

Facts = Mapping[str, Any]


def lines(facts: Facts) -> Iterator[str]:
    """Every fact, then every warning."""
    yield "The records are sound." if facts["sound"] else "The records are damaged."
    yield from facts["problems"]
    if facts["server_id"]:
        yield from _records(facts)
    yield _backup(facts["last_backup"])
    yield _certificate(facts["certificate"])
    yield f"Free disk: {facts['disk_free_bytes'] / 10**9:.1f} GB."
    yield f"SQLite {facts['sqlite_version']}: {facts['sqlite_note']}."
    for warning in facts["warnings"]:
        yield f"Warning: {warning}"


def _records(facts: Facts) -> Iterator[str]:
    kind = "The demo workshop" if facts["demo"] else "A shop"
    yield f"{kind}: server {facts['server_id']}, epoch {facts['epoch']}."
    yield f"Rows: {facts['rows']}."
    yield f"Rows set aside: {facts['set_aside']}, still to be decided {facts['set_aside_open']}."
    oldest = facts["oldest_phone"]
    last = f"; longest without contact {_name(oldest)}, {_days(oldest['days'])}" if oldest else ""
    yield f"Phones: {len(facts['phones'])}{last}."


def _backup(made: Facts | None) -> str:
    if made is None:
        return "Last proven backup: none."
    return f"Last proven backup: {_days(made['days'])} ago, {made['rows']} rows in {made['file']}."


def _certificate(shown: Facts | None) -> str:
    if shown is None:
        return "Certificate: none."
    if shown["days_left"] is None:
        return "Certificate: cannot be read."
    return f"Certificate for {shown['name']}: until {shown['until']}."


def _name(phone: Facts) -> str:
    return str(phone["name"] or phone["log_id"])


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def warnings(facts: Facts) -> list[str]:
    """What needs a hand, the worst first."""
    return [
        *([] if facts["sound"] else ["The records are damaged: put a backup back."]),
        *_of_certificate(facts["certificate"]),
        *_of_disk(facts["disk_free_bytes"]),
        *_of_backup(facts),
        *_of_phones(facts["phones"]),
    ]


def _of_certificate(shown: Facts | None) -> Iterator[str]:
    if shown is None:
        return
    left = shown["days_left"]
    if left is None:
        yield "The certificate cannot be read."
    elif left < 0:
        yield f"The certificate for {shown['name']} ended: no phone reaches the server."
    else:
        for days, advice in CERTIFICATE_STEPS:
            if left <= days:
                yield f"The certificate for {shown['name']} ends in {_days(left)}{advice}."
                return


def _of_disk(free_bytes: int) -> Iterator[str]:
    if free_bytes < LEAST_DISK_FREE:
        yield f"Only {free_bytes // 10**6} MB of disk are free."


def _of_backup(facts: Facts) -> Iterator[str]:
    made = facts["last_backup"]
    if made is None:
        yield "There is no proven backup: make one with companion backup."
    elif not made["as_proven"]:
        yield f"The last backup is not at {made['file']} any more, or was changed."
    elif made["days"] > OLDEST_BACKUP_DAYS:
        yield f"The last proven backup is {_days(made['days'])} old."


def _of_phones(phones: list[Facts]) -> Iterator[str]:
    for phone in phones:
        if phone["missing"] and not phone["revoked"]:
            gaps = ", ".join(
                str(low) if low == high else f"{low} to {high}" for low, high in phone["missing"]
            )
            yield f"Rows {gaps} of the phone {_name(phone)} are missing."
