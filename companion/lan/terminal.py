"""What the terminal says when the shop's network is served: each step in words and as a pattern."""

import json
import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from ..paper import qr_text
from ..trade.times import format_utc
from .address import Address


@dataclass(frozen=True, slots=True)
class Notice:
    """What there is to say.

    :ivar first_code: sets the passphrase once; empty where the office has one.
    :ivar networks: addresses of this computer the name is answered on; None: the router answers.
    """

    address: Address
    fingerprint: str
    certificate: Path
    certificate_until: datetime
    authority_until: datetime
    data_dir: Path
    first_code: str
    demo: bool
    networks: frozenset[str] | None


def say(notice: Notice, *, as_json: bool) -> None:
    """Print it, for programs in one line."""
    print(_for_programs(notice) if as_json else _for_people(notice), flush=True)


def _for_programs(notice: Notice) -> str:
    facts = {
        "address": notice.address.url,
        "trust_address": notice.address.trust_url,
        "name": notice.address.name,
        "fingerprint": notice.fingerprint,
        "certificate": str(notice.certificate.absolute()),
        "certificate_until": format_utc(notice.certificate_until),
        "authority_until": format_utc(notice.authority_until),
        "passphrase_code": notice.first_code,
        "data": str(notice.data_dir.absolute()),
        "demo": notice.demo,
    }
    return json.dumps(facts)


def _for_people(notice: Notice) -> str:
    url, trust = notice.address.url, f"{notice.address.trust_url}/"
    bench = f"{url}/bench/"
    pairs = notice.fingerprint.split(":")
    lines = [
        *(["DEMO: this workshop is invented.", ""] if notice.demo else []),
        f"Office: {url}/",
        f"Bench:  {bench}",
        f"Records in {notice.data_dir}",
        *_how_the_name_is_found(notice),
        *_passphrase(notice),
        "",
        "For each phone, once, in the same network:",
        "",
        f"1. Trust. Scan this with the phone's camera, or type {trust}",
        "   The page says how the phone learns to trust this shop's certificate.",
        "   Go on only if the page shows the fingerprint",
        *("   " + ":".join(pairs[start : start + 8]) for start in range(0, len(pairs), 8)),
        *_pattern(trust),
        f"2. Install. When the page says that the phone trusts, scan this, or type {bench}",
        "   Put the app on the home screen and open it from there.",
        *_pattern(bench),
        "3. Pair. In the office open Phones and make a code; scan it in the app: This phone, Pair.",
        "",
        f"The certificate counts until {notice.certificate_until:%Y-%m-%d} and is renewed by "
        "itself; no phone needs to trust it anew.",
        "Stop with Ctrl+C. The phones go on weighing without this computer.",
    ]
    return "\n".join(lines)


def _how_the_name_is_found(notice: Notice) -> list[str]:
    name = notice.address.name
    if notice.networks is None:
        return [f"The router must lead {name} to this computer: its DNS settings say how."]
    if not notice.networks:
        return [f"No network yet: {name} is answered as soon as there is one."]
    return [f"{name} is answered on this computer's networks: {', '.join(sorted(notice.networks))}"]


def _passphrase(notice: Notice) -> list[str]:
    if not notice.first_code:
        return []
    code = f"{notice.first_code[:5]}-{notice.first_code[5:]}"
    options = f"{'--demo ' if notice.demo else ''}--data {notice.data_dir}"
    return [
        "",
        "The office needs a passphrase first:",
        f"   open {notice.address.url}/passphrase and type the code {code}",
        f"   (good once, for one hour; later: companion passphrase {options})",
    ]


def _pattern(text: str) -> list[str]:
    """The address as a pattern, where the terminal has the signs for it."""
    lines = qr_text.lines(text, coloured=sys.stdout.isatty())
    try:
        "".join(lines).encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return []
    return ["", *lines, ""]
