"""Printed sheets as a printer would see them, and read by two families of decoders."""

import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

import zxingcpp
from PIL import Image
from pyzbar import pyzbar

DPI = 300
MM_PER_PIXEL = 25.4 / DPI


@dataclass(frozen=True)
class Read:
    """A pattern that was read: its text, and the middles of its corners in mm."""

    text: str
    corners_mm: tuple[tuple[float, float], ...]


def rasterise(body: bytes, folder: Path) -> list[Image.Image]:
    """Every page of a PDF at 300 dpi."""
    source = folder / "sheet.pdf"
    source.write_bytes(body)
    command = ["pdftoppm", "-r", str(DPI), "-gray", str(source), str(folder / "page")]
    subprocess.run(command, check=True, timeout=60)
    pages = sorted(folder.glob("page-*.pgm"))
    images = []
    for page in pages:
        with Image.open(page) as opened:
            images.append(opened.copy())
    return images


def read_zxing(page: Image.Image) -> list[Read]:
    """Patterns of a page, by zxing-cpp."""
    found = zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormat.QRCode)
    return [Read(one.text, tuple(_mm(point) for point in _points(one.position))) for one in found]


def _points(position: zxingcpp.Position) -> list[zxingcpp.Point]:
    return [
        position.top_left,
        position.top_right,
        position.bottom_right,
        position.bottom_left,
    ]


def _mm(point: zxingcpp.Point) -> tuple[float, float]:
    return point.x * MM_PER_PIXEL, point.y * MM_PER_PIXEL


def read_zbar(page: Image.Image) -> list[str]:
    """Patterns of a page, by zbar, which shares no code with the other."""
    found = pyzbar.decode(page, symbols=[pyzbar.ZBarSymbol.QRCODE])
    return [one.data.decode() for one in found]


def black_box_mm(
    page: Image.Image, box_mm: tuple[float, float, float, float]
) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what is black within a part of the page, in mm."""
    pixels = tuple(round(edge / MM_PER_PIXEL) for edge in box_mm)
    part = page.crop(pixels).point(lambda level: 255 if level < 128 else 0)
    found = part.getbbox()
    assert found, "nothing is printed there"
    left, top = pixels[0], pixels[1]
    return (
        (left + found[0]) * MM_PER_PIXEL,
        (top + found[1]) * MM_PER_PIXEL,
        (left + found[2]) * MM_PER_PIXEL,
        (top + found[3]) * MM_PER_PIXEL,
    )


def words(body: bytes, folder: Path) -> str:
    """Text of a PDF with single spaces, in the order it reads."""
    source = folder / "words.pdf"
    source.write_bytes(body)
    done = subprocess.run(
        ["pdftotext", "-layout", str(source), "-"], check=True, capture_output=True, timeout=60
    )
    # Marks that only steer the direction of writing.
    text = re.sub("[\u200e\u200f\u202a-\u202e\u2066-\u2069]", "", done.stdout.decode())
    return re.sub(r"\s+", " ", text)


def fonts(body: bytes, folder: Path) -> list[list[str]]:
    """Fonts of a PDF: name, and whether embedded, subset and readable as Unicode."""
    source = folder / "fonts.pdf"
    source.write_bytes(body)
    done = subprocess.run(
        ["pdffonts", str(source)], check=True, capture_output=True, timeout=60, text=True
    )
    lines = done.stdout.splitlines()[2:]
    return [[line.split()[0], *line.split()[-5:-2]] for line in lines]
