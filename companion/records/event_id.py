"""Ids of rows this server writes itself."""

import secrets
import uuid
from datetime import datetime


def event_id(moment: datetime) -> str:
    """UUID version 7 of a moment (RFC 9562 section 5.7); it identifies and never orders."""
    number = int(moment.timestamp() * 1000) << 80 | 7 << 76 | secrets.randbits(12) << 64
    return str(uuid.UUID(int=number | 2 << 62 | secrets.randbits(62)))
