"""QR patterns: the right content, the right squares, and as few rectangles as may be."""

import pytest
import segno

from companion.errors import OutOfRange
from companion.paper.qr import MARGIN_MODULES, Kind, content, merged, pattern
from tests.paper.samples import codes

BASE = "https://companion.local:8443"


def matrix(text: str) -> list[list[bool]]:
    """Black and white as the rectangles paint them."""
    found = pattern(text)
    painted = [[False] * found.modules for _ in range(found.modules)]
    for block in found.blocks:
        for row in range(block.row, block.row + block.rows):
            for column in range(block.column, block.column + block.columns):
                assert not painted[row][column], "two rectangles overlap"
                painted[row][column] = True
    return painted


@pytest.mark.parametrize("base", ["", BASE])
def test_it_is_what_another_encoder_makes_with_the_same_mask(base: str) -> None:
    """Source: segno, an encoder of its own; one of its eight masks must give the same squares."""
    for code in codes(20):
        text = content(code, Kind.CUP, base)
        mine = matrix(text)
        version = (len(mine) - 2 * MARGIN_MODULES - 17) // 4
        others = [
            segno.make(
                text,
                error="q",
                version=version,
                mask=mask,
                mode="alphanumeric",
                boost_error=False,
            )
            for mask in range(8)
        ]
        theirs = [
            [[bool(module) for module in row] for row in other.matrix_iter(border=4)]
            for other in others
        ]
        assert theirs.count(mine) == 1


def test_it_has_an_alignment_pattern_and_a_margin() -> None:
    found = pattern("7K2QMS")
    assert (found.modules, found.inner_modules) == (33, 25)
    assert min(block.column for block in found.blocks) == MARGIN_MODULES
    assert max(block.column + block.columns for block in found.blocks) == 29


@pytest.mark.parametrize(("kind", "letter"), [(Kind.CUP, "C"), (Kind.CONTAINER, "L")])
def test_it_holds_the_bare_code_or_an_address_in_capitals(kind: Kind, letter: str) -> None:
    assert content("7K2QMS", kind) == "7K2QMS"
    address = content("7K2QMS", kind, BASE)
    assert address == f"HTTPS://COMPANION.LOCAL:8443/{letter}/7K2QMS"


@pytest.mark.parametrize(
    "base",
    [
        "https://192.168.1.20:8443",
        "https://10.1",
        "https://0x7f000001",
        "https://3232235796",
        "https://[fe80::1]",
        "https://1.2.3.4/",
        "http://companion.local",
        "companion.local",
        "https://",
        "https://shop_pc",
        "https://shop.local/bench",
        "https://shop.local:port",
        "https://user@shop.local",
        f"https://{'a' * 51}",
    ],
)
def test_it_refuses_what_is_no_address_by_name(base: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        content("7K2QMS", Kind.CUP, base)
    assert (caught.value.field, caught.value.value) == ("address", base)
    assert "never an IP address" in caught.value.allowed


@pytest.mark.parametrize("code", ["", "7K2QMT", "7k2qms", "7K2QM", "192.168.1.20"])
def test_it_refuses_what_is_no_code(code: str) -> None:
    with pytest.raises(OutOfRange):
        content(code, Kind.CUP)


def test_it_merges_along_rows_and_down_columns() -> None:
    square = merged([[True, True, False], [True, True, True], [False, False, True]])
    assert [(b.column, b.row, b.columns, b.rows) for b in square] == [
        (0, 0, 2, 1),
        (0, 1, 3, 1),
        (2, 2, 1, 1),
    ]
    (one,) = merged([[False, True], [False, True]])
    assert (one.column, one.row, one.columns, one.rows) == (1, 0, 1, 2)
