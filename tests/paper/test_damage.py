"""What we promise to scan is scanned: our own print, damaged, through a camera.

Read by zxing-cpp, the decoder family of the bench; where the paper is clean, by zbar too, which
shares no code with it. What lies beyond the promise is measured by ``measure_damage``.
"""

import numpy as np
import pytest
from PIL import Image

from tests.paper.conditions import PROMISED, one_hidden
from tests.paper.damage import Print, dirty, patched, printed, stained, struck
from tests.paper.lens import View, seen
from tests.paper.measure_damage import LABELS
from tests.paper.raster import read_zbar, read_zxing
from tests.paper.samples import cups

SEEDS = range(20)
#: Conditions under which the other family reads every frame as well.
CLEAN = {"as printed", "around a cup of 65 mm", "upright on a cup of 65 mm"}


@pytest.fixture(scope="module")
def prints(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Print]:
    """Labels on paper, flat and whole."""
    folder = tmp_path_factory.mktemp("prints")
    return {
        name: printed(cups(1)[0], sheet, folder, base) for name, (sheet, base) in LABELS.items()
    }


@pytest.mark.parametrize("label", ["code", "address"])
@pytest.mark.parametrize("condition", PROMISED)
def test_it_scans_what_we_promise(prints: dict[str, Print], label: str, condition: str) -> None:
    paper, missed = prints[label], []
    for seed in SEEDS:
        frame = Image.fromarray(PROMISED[condition](paper, np.random.default_rng(seed)))
        if [one.text for one in read_zxing(frame)] != [paper.content]:
            missed.append(("zxing-cpp", seed))
        if condition in CLEAN and read_zbar(frame) != [paper.content]:
            missed.append(("zbar", seed))
    assert missed == []


def test_a_label_with_two_patterns_outlives_the_loss_of_one(prints: dict[str, Print]) -> None:
    paper = prints["code twice"]
    assert len(paper.symbols_mm) == 2
    for seed in SEEDS:
        random = np.random.default_rng(seed)
        frame = Image.fromarray(seen(one_hidden(paper, random), View(), random))
        assert [one.text for one in read_zxing(frame)] == [paper.content]


def test_a_label_of_one_pattern_does_not(prints: dict[str, Print]) -> None:
    random = np.random.default_rng(0)
    frame = Image.fromarray(seen(one_hidden(prints["code"], random), View(), random))
    assert read_zxing(frame) == []


@pytest.mark.parametrize(("tilt_deg", "share"), [(0.0, 1.0), (45.0, 0.71), (60.0, 0.5)])
def test_a_tilted_label_is_as_narrow_as_its_cosine(
    prints: dict[str, Print], tilt_deg: float, share: float
) -> None:
    """Far off, a plane leaning by an angle looks as high as its cosine (a pinhole's projection)."""
    paper, far = prints["code"], View(2000.0, tilt_deg, noise=0.0, field_deg=8.0)
    rows, columns = np.nonzero(seen(paper, far, np.random.default_rng(0)) > 150)
    mm_per_px = 2000.0 / far.focal_px
    assert (np.ptp(columns) + 1) * mm_per_px == pytest.approx(60, rel=0.02)
    assert (np.ptp(rows) + 1) * mm_per_px == pytest.approx(29 * share, rel=0.03)


def test_a_label_around_a_cup_looks_as_wide_as_its_chord(prints: dict[str, Print]) -> None:
    """60 mm around a cup of 65 mm: chord 65 sin(60/65) = 51.8 mm, seen from far off."""
    far = View(2000.0, curve="around", noise=0.0, field_deg=8.0)
    frame = seen(prints["code"], far, np.random.default_rng(0))
    columns = np.nonzero((frame.astype(int) - 120).__abs__() > 8)[1]
    assert (np.ptp(columns) + 1) * 2000.0 / far.focal_px == pytest.approx(51.8, rel=0.03)


@pytest.mark.parametrize("share", [0.05, 0.10])
def test_damage_covers_the_share_it_says(prints: dict[str, Print], share: float) -> None:
    paper = prints["code"]
    white = Print(np.full_like(paper.levels, 255.0), paper.symbols_mm, paper.content)
    left, top, right, bottom = white.symbols_mm[0]
    symbol = (right - left) * (bottom - top) / (60 * 29)
    for damage in (patched, struck, stained):
        for seed in range(5):
            spoiled = damage(white, share, np.random.default_rng(seed)).levels
            assert (spoiled != 255).mean() == pytest.approx(share * symbol, rel=0.1)
    spoiled = dirty(white, share, np.random.default_rng(1)).levels
    assert (spoiled != 255).mean() == pytest.approx(share, abs=0.01)


def test_the_same_seed_makes_the_same_frame(prints: dict[str, Print]) -> None:
    met = PROMISED["corner patch of 10 %"]
    first, same, other = (met(prints["code"], np.random.default_rng(n)) for n in (1, 1, 2))
    assert (first == same).all() and (first != other).any()
