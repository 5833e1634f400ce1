"""A feed for the camera of a real browser: pictures as raw video, without any other tool.

Chromium takes a YUV4MPEG2 file (4:2:0) in the place of a camera, and reads it anew each time the
camera is opened.
"""

from pathlib import Path

from PIL import Image

SIZE = (1280, 720)
FLAGS = ("--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream")
#: Grey level of the bench under a label.
_TABLE = 120


def flags(feed: Path) -> list[str]:
    """What a browser is started with so that this file is its camera."""
    return [*FLAGS, f"--use-file-for-fake-video-capture={feed}"]


def show(feed: Path, picture: Image.Image) -> None:
    """Put one picture in front of the camera; it is seen the next time the camera is opened."""
    frame = picture.convert("L")
    assert frame.size == SIZE
    colour = bytes([128]) * (SIZE[0] * SIZE[1] // 4)
    body = b"FRAME\n" + frame.tobytes() + colour + colour
    head = f"YUV4MPEG2 W{SIZE[0]} H{SIZE[1]} F15:1 Ip A1:1 C420jpeg\n".encode()
    # Written beside and moved: the browser never sees half a file.
    half = feed.with_suffix(".half")
    half.write_bytes(head + body * 2)
    half.replace(feed)


def nothing() -> Image.Image:
    """The bare table."""
    return Image.new("L", SIZE, _TABLE)


def on_the_table(label: Image.Image, height_px: int = 400) -> Image.Image:
    """A label lying in the middle of the picture."""
    picture = nothing()
    scaled = label.convert("L").resize(
        (round(label.width * height_px / label.height), height_px), Image.Resampling.LANCZOS
    )
    picture.paste(scaled, ((SIZE[0] - scaled.width) // 2, (SIZE[1] - height_px) // 2))
    return picture
