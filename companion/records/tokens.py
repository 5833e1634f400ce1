"""Secrets this program hands out: random, told once, and kept here only as SHA-256.

They are drawn from 128 bits or more, so a plain hash is enough: there is nothing to guess from.
"""

import base64
import hashlib
import secrets

#: Letters of a code that is read by a camera or typed: RFC 4648, base 32, without padding.
CODE_ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
PAIRING_CODE_BYTES = 16
#: Typed from the terminal by a person: 50 bits, good once, behind a limit on tries.
CONSOLE_CODE_LENGTH = 10
TOKEN_BYTES = 32


def new_token() -> str:
    """A token of 256 bits, safe in a header or a cookie."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def new_pairing_code() -> str:
    """A code of 128 bits in 26 capitals and digits."""
    return base64.b32encode(secrets.token_bytes(PAIRING_CODE_BYTES)).decode().rstrip("=")


def new_console_code() -> str:
    """A code of 50 bits in ten capitals and digits."""
    return "".join(secrets.choice(CODE_ALPHABET) for _ in range(CONSOLE_CODE_LENGTH))


def plain_code(typed: str) -> str:
    """A code as it was typed: case, spaces and hyphens do not count."""
    return "".join(typed.upper().replace("-", "").split())


def sha256(secret: str) -> str:
    """What is kept of a secret."""
    return hashlib.sha256(secret.encode()).hexdigest()
