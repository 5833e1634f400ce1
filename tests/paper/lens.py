"""Printed labels as a phone's camera sees them: tilted, curved around a cup, out of focus.

The view is traced ray by ray through a pinhole camera; the noise comes from a seeded generator, so
that a frame is the same every time.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from tests.paper.damage import Levels, Print
from tests.paper.raster import MM_PER_PIXEL

#: Rays along each side of a pixel: the print is finer than the camera.
_RAYS = 2
_BACKGROUND = 120.0
#: A cup 65 mm across takes 250 ml or so; the smallest round thing labels are put on.
CUP_DIAMETER_MM = 65.0


@dataclass(frozen=True, slots=True)
class View:
    """How a camera of 1280 x 720 pixels and 65 degrees across looks at a label."""

    distance_mm: float = 220.0
    #: angle between the label's face and the camera's, and the direction it leans to.
    tilt_deg: float = 0.0
    lean_deg: float = 0.0
    #: how far the phone is turned about its line of sight.
    turn_deg: float = 0.0
    #: "" for flat, "around" where the long side runs around the cup, "upright" along its axis.
    curve: str = ""
    #: the pattern the camera is pointed at, the middle of the label for None.
    aimed: int | None = None
    diameter_mm: float = CUP_DIAMETER_MM
    blur_px: float = 0.0
    noise: float = 2.0
    width_px: int = 1280
    height_px: int = 720
    field_deg: float = 65.0

    @property
    def focal_px(self) -> float:
        """Distance of the picture from the pinhole, in pixels."""
        return float(self.width_px / 2 / np.tan(np.radians(self.field_deg / 2)))

    @property
    def rotation(self) -> NDArray[np.float64]:
        """Turns the label's own directions into the camera's."""
        lean, turn = np.radians(self.lean_deg), np.radians(self.turn_deg)
        tilt = np.radians(self.tilt_deg)
        about_x = np.array(
            [[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)]]
        )
        return _about_z(turn) @ _about_z(lean) @ about_x @ _about_z(-lean)


def seen(label: Print, view: View, random: np.random.Generator) -> NDArray[np.uint8]:
    """The frame of a camera: grey, height x width."""
    frame = np.full((view.height_px, view.width_px), _BACKGROUND)
    part = _part(label, view)
    rows, columns = part
    high, wide = rows.stop - rows.start, columns.stop - columns.start
    step = (np.arange(_RAYS) + 0.5) / _RAYS
    y_px = (rows.start + np.arange(high)[:, None] + step).ravel() - view.height_px / 2
    x_px = (columns.start + np.arange(wide)[:, None] + step).ravel() - view.width_px / 2
    levels = _traced(label, view, *np.meshgrid(x_px, y_px))
    frame[part] = levels.reshape(high, _RAYS, wide, _RAYS).mean(axis=(1, 3))
    picture = Image.fromarray(np.rint(frame).astype(np.uint8))
    if view.blur_px:
        picture = picture.filter(ImageFilter.GaussianBlur(view.blur_px))
    grain = random.standard_normal(frame.shape, dtype=np.float32)
    noisy = np.asarray(picture) + np.float32(view.noise) * grain
    return np.asarray(np.clip(np.rint(noisy), 0, 255), dtype=np.uint8)


def _about_z(angle: float) -> NDArray[np.float64]:
    return np.array(
        [[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1]]
    )


def _aim_mm(label: Print, view: View) -> tuple[float, float]:
    """The point of the label in the middle of the frame, from its upper left corner."""
    if view.aimed is not None:
        left, top, right, bottom = label.symbols_mm[view.aimed]
        return (left + right) / 2, (top + bottom) / 2
    high, wide = label.levels.shape
    return wide * MM_PER_PIXEL / 2, high * MM_PER_PIXEL / 2


def _part(label: Print, view: View) -> tuple[slice, slice]:
    """The part of the frame the label lies in."""
    high, wide = (side * MM_PER_PIXEL for side in label.levels.shape)
    aim_x, aim_y = _aim_mm(label, view)
    across, down = np.meshgrid(np.linspace(0, wide, 25) - aim_x, np.linspace(0, high, 25) - aim_y)
    across, down = across.ravel(), down.ravel()
    if view.curve:
        # No further around than a camera can see.
        seen_mm = view.diameter_mm * np.pi / 4
        bent = across if view.curve == "around" else down
        np.clip(bent, -seen_mm, seen_mm, out=bent)
    radius, zero = view.diameter_mm / 2, np.zeros_like(across)
    points = {
        "": np.stack([across, down, zero]),
        "around": np.stack(
            [radius * np.sin(across / radius), down, radius - radius * np.cos(across / radius)]
        ),
        "upright": np.stack(
            [across, radius * np.sin(down / radius), radius - radius * np.cos(down / radius)]
        ),
    }[view.curve]
    x, y, z = view.rotation @ points
    x_px = x / (z + view.distance_mm) * view.focal_px + view.width_px / 2
    y_px = y / (z + view.distance_mm) * view.focal_px + view.height_px / 2
    return (
        slice(max(0, int(y_px.min()) - 1), min(view.height_px, int(y_px.max()) + 2)),
        slice(max(0, int(x_px.min()) - 1), min(view.width_px, int(x_px.max()) + 2)),
    )


def _traced(label: Print, view: View, x_px: Levels, y_px: Levels) -> Levels:
    """Level at which each ray meets the label, or the background."""
    rays = np.stack([x_px, y_px, np.full_like(x_px, view.focal_px)]).reshape(3, -1)
    rays = view.rotation.T @ (rays / np.linalg.norm(rays, axis=0))
    eye = view.rotation.T @ np.array([0, 0, -view.distance_mm])
    across, down, facing = _met(view, eye, rays)
    high, wide = label.levels.shape
    aim_x, aim_y = _aim_mm(label, view)
    column, row = (across + aim_x) / MM_PER_PIXEL - 0.5, (down + aim_y) / MM_PER_PIXEL - 0.5
    on_it = (column >= 0) & (column <= wide - 1) & (row >= 0) & (row <= high - 1) & (facing > 0)
    levels = _between(label.levels, np.where(on_it, column, 0), np.where(on_it, row, 0))
    # Light comes from about where the phone is.
    return np.where(on_it, levels * (0.4 + 0.6 * facing), _BACKGROUND).reshape(x_px.shape)


def _met(view: View, eye: Levels, rays: Levels) -> tuple[Levels, Levels, Levels]:
    """Where rays meet the face, in mm from the point aimed at, and how squarely (0 to 1)."""
    if not view.curve:
        reach = -eye[2] / rays[2]
        point = eye[:, None] + reach * rays
        return point[0], point[1], np.where(reach > 0, rays[2], 0.0)
    # The axis of the cup lies one radius behind the middle of the label.
    bent, straight = (0, 1) if view.curve == "around" else (1, 0)
    radius = view.diameter_mm / 2
    depth = eye[2] - radius
    square = rays[bent] ** 2 + rays[2] ** 2
    half = eye[bent] * rays[bent] + depth * rays[2]
    inside = half**2 - square * (eye[bent] ** 2 + depth**2 - radius**2)
    reach = (-half - np.sqrt(np.maximum(inside, 0))) / square
    point = eye[:, None] + reach * rays
    angle = np.arctan2(point[bent], radius - point[2])
    facing = -(np.sin(angle) * rays[bent] - np.cos(angle) * rays[2])
    around, along = radius * angle, point[straight]
    facing = np.where((inside > 0) & (reach > 0), facing, 0.0)
    return (around, along, facing) if view.curve == "around" else (along, around, facing)


def _between(levels: Levels, column: Levels, row: Levels) -> Levels:
    """Level between four pixels."""
    left = np.minimum(column.astype(int), levels.shape[1] - 2)
    top = np.minimum(row.astype(int), levels.shape[0] - 2)
    x, y = column - left, row - top
    upper = levels[top, left] * (1 - x) + levels[top, left + 1] * x
    lower = levels[top + 1, left] * (1 - x) + levels[top + 1, left + 1] * x
    return np.asarray(upper * (1 - y) + lower * y)
