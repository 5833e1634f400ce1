"""Content-Digest. Source: RFC 9530 section 2 and appendix B.1 (from memory)."""

import pytest

from companion.wire.digest import content_digest, matches

# RFC 9530 appendix B.1: the body {"hello": "world"} with its line end (from memory).
HELLO = b'{"hello": "world"}\n'
HELLO_DIGEST = "sha-256=:RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:"


def test_it_writes_the_digest_of_the_standard_s_example() -> None:
    assert content_digest(HELLO) == HELLO_DIGEST


@pytest.mark.parametrize(
    "header",
    [
        "",
        "sha-256=RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=",
        "sha-512=:RK/0qy18MlBSVnWgjwz6lZEWjP/lF5HF9bvEF8FabDg=:",
        HELLO_DIGEST.replace("RK", "rk"),
        HELLO_DIGEST + ", sha-256=:x:",
    ],
)
def test_it_believes_nothing_else(header: str) -> None:
    assert matches(HELLO_DIGEST, HELLO)
    assert not matches(header, HELLO)
    assert not matches(HELLO_DIGEST, HELLO[:-1])
