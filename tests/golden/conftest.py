"""Phones for the replays."""

from tests.bench.conftest import make_phone

__all__ = ["make_phone"]
