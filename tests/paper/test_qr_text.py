"""Patterns on a terminal, read back by two decoders."""

import numpy as np
import pytest
import zxingcpp
from PIL import Image
from pyzbar import pyzbar

from companion.paper.qr_text import lines

HALVES = {" ": (255, 255), "▀": (0, 255), "▄": (255, 0), "█": (0, 0)}
ADDRESSES = ["http://companion.local:8444/", "https://scale.shop.home.arpa:8443/bench/"]


def drawn(text: list[str]) -> Image.Image:
    """What the signs look like: each two modules high."""
    pixels = np.array(
        [[HALVES[sign][half] for sign in line] for line in text for half in (0, 1)], dtype=np.uint8
    )
    return Image.fromarray(np.kron(pixels, np.ones((6, 6), dtype=np.uint8)))


@pytest.mark.parametrize("address", ADDRESSES)
def test_it_is_read_as_it_was_written(address: str) -> None:
    picture = drawn(lines(address, coloured=False))
    assert [found.text for found in zxingcpp.read_barcodes(picture)] == [address]
    assert [found.data.decode() for found in pyzbar.decode(picture)] == [address]


def test_a_terminal_gets_black_on_white() -> None:
    plain, coloured = (lines(ADDRESSES[0], coloured=flag) for flag in (False, True))
    assert coloured == [f"\x1b[38;5;16;48;5;231m{line}\x1b[0m" for line in plain]
    assert len({len(line) for line in plain}) == 1
