"""The cutting list: margin, warp, strips, and what does not fit."""

from dataclasses import replace

import pytest

from companion.trade.cutting import cutting_list
from companion.trade.job_order import PlyOrder
from tests.trade.hatch import CLOTHS, HATCH

SIZED = replace(HATCH, length_m=0.6, width_m=0.5, cut_margin_m=0.02)


def test_every_layer_is_a_piece_with_its_margin():
    thin, thick = cutting_list(SIZED, CLOTHS)
    # 0.64 x 0.54 m twice beside each other on 1.2 m: 0.64 m of roll (by hand).
    assert (thin.cloth, thick.cloth) == ("C200", "C400")
    assert [one.piece.name for one in thin.cutting.placed] == ["1", "4"]
    assert thin.cutting.length_m == pytest.approx(0.64)
    assert thin.cut_g == pytest.approx(2 * 0.64 * 0.54 * 200)
    assert thin.cutting.at_least_m <= thin.cutting.length_m


def test_a_piece_on_the_bias_takes_the_rectangle_that_holds_it():
    plies = (PlyOrder("C200", 200, angle_deg=45, length_m=0.3, width_m=0.1),)
    (cut,) = cutting_list(replace(HATCH, plies=plies), CLOTHS)
    # (0.3 + 0.1) / sqrt 2 either way (CL-03); what is cut out of it is the piece itself.
    (placed,) = cut.cutting.placed
    assert placed.piece.length_m == pytest.approx(0.28284, abs=1e-5)
    assert placed.piece.width_m == pytest.approx(0.28284, abs=1e-5)
    assert cut.cut_g == pytest.approx(0.3 * 0.1 * 200)


def test_what_is_wider_than_the_roll_is_named_or_cut_in_strips():
    wide = replace(HATCH, plies=(PlyOrder("C200", 200, length_m=1.0, width_m=2.0),))
    (refused,) = cutting_list(wide, CLOTHS)
    assert (refused.problem, refused.ply, refused.found_m) == ("too_wide", 1, 2.0)
    assert refused.cutting is None
    (cut,) = cutting_list(wide, CLOTHS, 0.05)
    # Two strips of (2.0 + 0.05) / 2, which do not lie side by side on 1.2 m: 2 m of roll.
    assert [one.piece.name for one in cut.cutting.placed] == ["1.1", "1.2"]
    assert cut.cutting.placed[0].piece.width_m == pytest.approx(1.025)
    assert cut.cutting.length_m == pytest.approx(2.0)
    assert cutting_list(wide, CLOTHS, 1.2)[0].problem == "overlap"


def test_a_cloth_without_card_and_a_ply_without_size_are_named():
    assert [one.problem for one in cutting_list(SIZED, {})] == ["no_card", "no_card"]
    assert {(one.problem, one.ply) for one in cutting_list(HATCH, CLOTHS)} == {
        ("no_size", 1),
        ("no_size", 2),
    }
