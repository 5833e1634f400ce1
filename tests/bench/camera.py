"""Films for the made-up camera of Chromium: raw frames in YUV4MPEG2, written without a coder.

Chromium plays the file again and again (flags of ``flags``). Levels are those of ITU-R BT.601,
16 to 235 for black to white, which is what Chromium expects of such a file.
"""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Frame = NDArray[np.uint8]

SIZE = (1280, 720)
#: Grey level of the bench under a label.
BENCH = 120
#: Red, green, blue (0 to 1) to Y, Cb, Cr: ITU-R BT.601, 8 bits.
_BT601 = np.array([[65.481, 128.553, 24.966], [-37.797, -74.203, 112.0], [112.0, -93.786, -18.214]])


def flags(film: Path) -> list[str]:
    """Arguments that give Chromium this film as its only camera, without asking the user."""
    return [
        "--use-fake-device-for-media-stream",
        "--use-fake-ui-for-media-stream",
        f"--use-file-for-fake-video-capture={film}",
    ]


def fitted(picture: Image.Image, width: int = 1280, height: int = 720) -> Frame:
    """A picture as a frame: as large as fits, in the middle, grey around it."""
    frame = Image.new("RGB", (width, height), (128, 128, 128))
    scale = min(width / picture.width, height / picture.height)
    size = (max(1, round(picture.width * scale)), max(1, round(picture.height * scale)))
    smaller = picture.convert("RGB").resize(size, Image.Resampling.LANCZOS)
    frame.paste(smaller, ((width - size[0]) // 2, (height - size[1]) // 2))
    return np.asarray(frame)


def write_film(film: Path, frames: Sequence[Frame], per_second: int = 15) -> Path:
    """Write frames as a film.

    :param frames: all of one size with even sides, height x width of grey or height x width x 3 of
        RGB, levels 0 to 255; one frame alone is written twice, since a film needs two.
    :return: the file.
    :raises ValueError: no frame, or frames of another size or odd sides.
    """
    if not frames:
        raise ValueError("frames: none; at least one is needed")
    height, width = frames[0].shape[:2]
    if width % 2 or height % 2 or any(one.shape[:2] != (height, width) for one in frames):
        raise ValueError(f"frames: {width} x {height}; all alike with even sides are needed")
    shown = [*frames] * 2 if len(frames) == 1 else frames
    header = f"YUV4MPEG2 W{width} H{height} F{per_second}:1 Ip A1:1 C420mpeg2\n"
    with film.open("wb") as file:
        file.write(header.encode("ascii"))
        for frame in shown:
            file.write(b"FRAME\n" + _planes(frame))
    return film


def _planes(frame: Frame) -> bytes:
    """Y of every pixel, then Cb and Cr of every four."""
    colours = frame if frame.ndim == 3 else np.repeat(frame[:, :, None], 3, axis=2)
    planes = np.moveaxis(colours / 255 @ _BT601.T, 2, 0) + np.array([16, 128, 128])[:, None, None]
    luma, *chroma = planes
    quarters = [_by_four(plane) for plane in chroma]
    return b"".join(np.rint(plane).astype(np.uint8).tobytes() for plane in (luma, *quarters))


def _by_four(plane: NDArray[np.float64]) -> NDArray[np.float64]:
    height, width = plane.shape
    grouped = plane.reshape(height // 2, 2, width // 2, 2)
    return np.asarray(grouped.mean(axis=(1, 3)))


def show(film: Path, picture: Image.Image) -> None:
    """Put one picture in front of the camera; it is seen the next time the camera is opened."""
    # Written beside and moved: the browser never sees half a film.
    write_film(film.with_suffix(".half"), [fitted(picture)]).replace(film)


def nothing() -> Image.Image:
    """The bare bench."""
    return Image.new("L", SIZE, BENCH)


def on_the_bench(label: Image.Image, height_px: int = 400) -> Image.Image:
    """A label lying in the middle of the picture."""
    picture = nothing()
    width_px = round(label.width * height_px / label.height)
    scaled = label.convert("L").resize((width_px, height_px), Image.Resampling.LANCZOS)
    picture.paste(scaled, ((SIZE[0] - width_px) // 2, (SIZE[1] - height_px) // 2))
    return picture
