"""Nothing in the tree is a secret, and what the program keeps is its owner's alone."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
#: What keys and tokens look like, whoever made them.
SECRETS = re.compile(
    rb"-----BEGIN (?:[A-Z]+ )?PRIVATE KEY-----\s+[A-Za-z0-9+/]{20}|"
    rb"\b(?:ghp|gho|glpat|xox[bp]|AKIA)[-_A-Za-z0-9]{16,}|"
    rb"(?i:secret_key|password|token)\s*[:=]\s*[\"'][A-Za-z0-9+/_-]{24,}[\"']"
)


def tracked() -> list[Path]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=False)
    if listed.returncode:
        pytest.skip("not a checkout")
    return [ROOT / name for name in listed.stdout.decode().split("\0") if name]


def test_no_secret_is_in_the_tree() -> None:
    found = [
        path.relative_to(ROOT)
        for path in tracked()
        if path.is_file() and SECRETS.search(path.read_bytes())
    ]
    assert found == []


@pytest.mark.parametrize(
    "text",
    # Put together here, or the search would find this very file.
    [
        b"-----BEGIN PRIVATE " + b"KEY-----\n" + b"MIGHAgEAMBMGByqGSM49",
        b"token = '" + b"0123456789abcdef" * 2 + b"'",
    ],
)
def test_the_search_would_find_one(text: bytes) -> None:
    assert SECRETS.search(text)


def test_no_answer_ever_clears_the_store_of_a_phone() -> None:
    for path in [*(ROOT / "companion").rglob("*.py"), *(ROOT / "static/bench").rglob("*.js")]:
        text = path.read_text(encoding="utf-8")
        assert "Clear-Site-Data" not in text
        assert "deleteDatabase" not in text
