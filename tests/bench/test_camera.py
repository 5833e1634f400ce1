"""The made-up camera: a film written here is what a page sees through getUserMedia."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Playwright

from tests.bench.camera import fitted, flags, write_film
from tests.running import RunningServer

#: Levels of four places of the first frame.
LOOK = """async places => {
  const video = document.createElement('video');
  video.muted = true;
  video.srcObject = await navigator.mediaDevices.getUserMedia({ video: true });
  await video.play();
  await new Promise(seen => video.requestVideoFrameCallback(seen));
  const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
  const drawn = canvas.getContext('2d');
  drawn.drawImage(video, 0, 0);
  const levels = places.map(([x, y]) => [...drawn.getImageData(x, y, 1, 1).data].slice(0, 3));
  return [[canvas.width, canvas.height], ...levels];
}"""


def test_a_page_sees_the_picture(playwright: Playwright, chromium: str, tmp_path: Path) -> None:
    picture = Image.new("RGB", (640, 360), (255, 255, 255))
    picture.paste((255, 0, 0), (0, 0, 320, 180))
    picture.paste((0, 0, 0), (320, 180, 640, 360))
    film = write_film(tmp_path / "film.y4m", [fitted(picture, 640, 360)])
    server = RunningServer(tmp_path / "data").start()
    try:
        arguments = ["--no-sandbox", "--disable-gpu", *flags(film)]
        browser = playwright.chromium.launch(executable_path=chromium, args=arguments)
        page = browser.new_page()
        # Headers of the program may forbid the camera; a bare answer of its origin does not.
        page.route("**/bare", lambda route: route.fulfill(body="", content_type="text/html"))
        page.goto(f"{server.url}/bare")
        size, *levels = page.evaluate(LOOK, [[100, 90], [480, 90], [480, 270], [100, 270]])
        browser.close()
    finally:
        server.kill()
    assert size == [640, 360]
    expected = [[255, 0, 0], [255, 255, 255], [0, 0, 0], [255, 255, 255]]
    assert np.abs(np.array(levels) - expected).max() <= 3


def test_it_refuses_frames_that_make_no_film(tmp_path: Path) -> None:
    for frames in ([], [np.zeros((9, 10), np.uint8)], [np.zeros((2, 2)), np.zeros((4, 2))]):
        with pytest.raises(ValueError, match="frames: "):
            write_film(tmp_path / "film.y4m", frames)
    assert not (tmp_path / "film.y4m").exists()
