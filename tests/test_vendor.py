"""Third-party files are what their notes say, byte for byte."""

import hashlib
import re
from pathlib import Path

import pytest

VENDOR = Path(__file__).parent.parent / "static" / "vendor" / "zxing"
NOTE = (VENDOR / "README.md").read_text(encoding="utf-8")
HASHES = dict(re.findall(r"\| `([^`]+)` \| `([0-9a-f]{64})` \|", NOTE))


@pytest.mark.parametrize("name", sorted(HASHES))
def test_a_file_has_the_hash_on_record(name: str) -> None:
    assert hashlib.sha256((VENDOR / name).read_bytes()).hexdigest() == HASHES[name]


def test_every_file_that_runs_is_on_record() -> None:
    runs = {path.relative_to(VENDOR).as_posix() for path in VENDOR.rglob("*.[jw][sa]*")}
    assert runs == set(HASHES)
    assert (VENDOR / "LICENSE").is_file()
