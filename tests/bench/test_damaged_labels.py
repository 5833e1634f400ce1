"""Labels as a workshop treats them, before the camera of the running app, server gone.

What is promised is what is measured here and in ``tests/paper/test_damage.py``: tilt, blur, a
curved cup, a see-through stain, one compact opaque patch in the corner without a mark.
"""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import expect

from companion.paper.labels import Words, cup_label
from companion.paper.sheet import ROLL_62X29
from tests.bench import camera
from tests.bench.conftest import MakePhone
from tests.paper.damage import Print, patched, printed, stained
from tests.paper.lens import View, seen
from tests.paper.samples import SYSTEM
from tests.running import RunningServer

SEED = 20260307


def as_printed(label: Print, _chance: np.random.Generator) -> Print:
    return label


def stain(label: Print, chance: np.random.Generator) -> Print:
    return stained(label, 0.4, chance)


def patch(label: Print, chance: np.random.Generator) -> Print:
    return patched(label, 0.1, chance)


CONDITIONS = {
    "as printed": (as_printed, View()),
    "tilted 45 degrees": (as_printed, View(tilt_deg=45, aimed=0)),
    "tilted sideways and turned": (
        as_printed,
        View(tilt_deg=45, lean_deg=90, turn_deg=30, aimed=0),
    ),
    "out of focus": (as_printed, View(blur_px=1.0)),
    "around a cup of 65 mm": (as_printed, View(curve="around", aimed=0)),
    "along a cup of 65 mm": (as_printed, View(curve="upright", aimed=0)),
    "40 % under a see-through stain": (stain, View()),
    "10 % under an opaque patch": (patch, View()),
}


@pytest.mark.parametrize("base", ["", "https://companion.local:8035"], ids=["bare", "address"])
def test_it_opens_its_cup(
    own_server: RunningServer, make_phone: MakePhone, tmp_path: Path, base: str
) -> None:
    film = tmp_path / "camera.y4m"
    camera.show(film, camera.nothing())
    phone = make_phone(own_server, flags=camera.flags(film)).install()
    code = phone.take("ply 1")
    phone.say_who()
    own_server.kill()
    words = cup_label(code, SYSTEM, "146.4", ("Hatch cover 14", "ply 1"), Words())
    label = printed(words, ROLL_62X29, tmp_path, base)
    chance = np.random.default_rng(SEED)
    for name, (treat, view) in CONDITIONS.items():
        phone.open()
        camera.show(film, Image.fromarray(seen(treat(label, chance), view, chance)))
        phone.page.get_by_role("link", name="Scan a label").tap()
        expect(phone.page.locator(".weigh a.code"), name).to_have_text(code)
