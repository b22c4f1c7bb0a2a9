"""Light in a hedge: one row of plants in turn, open on both long sides.

A bed is closed on all sides, so that who stands lower has only what comes through the leaves above. In
a row light also comes in by the faces: a plant is shaded by its own leaf as in a hedge of its own, and
along the row by its neighbours, in height slices and weeks. Over one that stands low its neighbours close
the row. Sky light of all directions stands for the day, since nobody said which way the row runs.

A kept hedge is lit on its faces, so that a higher one carries more leaf and no thinner (`kept_crown`). So it
never leaves more light to who stays low.
"""

from dataclasses import dataclass

import numpy as np

from kb.mixture.season import FloatArray

ROW_WIDTH_M = 1.2
"""From face to face: the middle of the usual 0.9-1.5 m of a kept hedge (common practice)."""
OWN_LENGTH_M = 1.0
"""Of the row, the length that is one plant's own leaf: single or zigzag rows for fruit stand at
0.7-1.5 m (`trade` 5.4)."""
CLOTHED_M = 0.06
"""The leaf of a kept hedge begins no higher than this: hedges are cut so that they are clothed to the foot
(common practice; the number is judgement)."""
ELEVATIONS, AZIMUTHS, SLICES = 4, 4, 3
"""Directions of the sky over a quarter of the compass (the rest mirrors it), and slices of each crown;
many more move the light by 0.015 in the mean, 0.07 at most (a test)."""


@dataclass(frozen=True, slots=True, eq=False)
class Sky:
    """Directions (d,): metres of height gained per metre of way, length of way per metre of height.

    ``own_m`` is the way along the ground inside the plant's own leaf, ``out_m`` that to the face;
    ``weight`` sums to 1.
    """

    rise: FloatArray
    slant: FloatArray
    own_m: FloatArray
    out_m: FloatArray
    weight: FloatArray


def sky_of(elevations: int, azimuths: int) -> Sky:
    """A sky of even brightness, as leaves that face every way see it."""
    height = (np.arange(elevations) + 0.5) * (np.pi / 2 / elevations)
    along = (np.arange(azimuths) + 0.5) * (np.pi / 2 / azimuths)
    height, along = (grid.ravel() for grid in np.meshgrid(height, along, indexing="ij"))
    out_m = ROW_WIDTH_M / 2 / np.sin(along)
    weight = np.cos(height)
    return Sky(
        rise=np.tan(height),
        slant=1 / np.sin(height),
        own_m=np.minimum(OWN_LENGTH_M / 2 / np.cos(along), out_m),
        out_m=out_m,
        weight=weight / weight.sum(),
    )


_SKY = sky_of(ELEVATIONS, AZIMUTHS)


def hedge_light(
    leaf_areas: FloatArray,
    heights: FloatArray,
    bases: FloatArray,
    extinctions: FloatArray,
    shares: FloatArray,
    *,
    crowns: FloatArray | None = None,
    sky: Sky = _SKY,
    slices: int = SLICES,
) -> FloatArray:
    """Light of each plant as a share of that in a hedge of its own, at most 1: (..., n, weeks).

    ``leaf_areas`` (..., n, weeks) of a full stand; ``heights`` and ``bases`` m, ``extinctions``,
    ``crowns`` (m of crown to which the leaf area index belongs; None: all of it), (..., n); ``shares`` (n,)
    of the row's length. A ray from the middle of the row at a slice's height meets optical depth k L/crown
    per metre inside leaf: the plant's own over half its length, and above its top and beyond, as far as
    the face, that of all kinds in the measure of their shares (in a hedge of its own: its own). So a split
    plant is one plant, and one more plant never brings light.
    """
    deep = heights - bases if crowns is None else crowns
    inside = np.clip(extinctions / deep, 0.0, None)[..., None] * leaf_areas
    relative = np.empty_like(inside)
    steps = (np.arange(slices) + 0.5) / slices
    for i in range(inside.shape[-2]):
        low, high = bases[..., i, None], heights[..., i, None]
        at = (low + (high - low) * steps)[..., :, None]
        start, end = at + sky.own_m * sky.rise, at + sky.out_m * sky.rise
        own = _depth(inside, _leaf_way(bases, heights, i, at, start, sky), i)
        alone = _depth(inside, _leaf_way(bases, heights, i, start, end, sky), i)
        mixed, top = np.zeros_like(alone), high[..., :, None]
        over = np.maximum(at, top), np.maximum(start, top)
        for j, share in enumerate(shares):
            way = _leaf_way(bases, heights, j, start, end, sky) + _leaf_way(bases, heights, j, *over, sky)
            mixed += share * _depth(inside, way, j)
        weight = np.tile(sky.weight, slices) / slices
        left, left_alone = (weight @ np.exp(-(own + other)) for other in (mixed, alone))
        relative[..., i, :] = np.minimum(left / left_alone, 1.0)
    return relative


def kept_crown(crown_m: FloatArray) -> FloatArray:
    """Metres of a sheared crown that hold the leaf area index of one that grows so deep (m) uncut.

    No deeper than the row is wide: the index is per area of ground, told of crowns that have the sky above
    them alone, and shears make a crown dense from face to face (judgement).
    """
    return np.minimum(crown_m, ROW_WIDTH_M)


def _leaf_way(
    bases: FloatArray, heights: FloatArray, plant: int, start: FloatArray, end: FloatArray, sky: Sky
) -> FloatArray:
    """Metres of way (..., slices, d) between two heights that lie inside a plant's leaf."""
    low, high = bases[..., plant, None, None], heights[..., plant, None, None]
    way: FloatArray = np.maximum(np.minimum(end, high) - np.maximum(start, low), 0.0) * sky.slant
    return way


def _depth(inside: FloatArray, way: FloatArray, plant: int) -> FloatArray:
    """Optical depth (..., slices x d, weeks) of so much way through a plant's leaf."""
    flat = way.reshape(*way.shape[:-2], -1)
    depth: FloatArray = flat[..., :, None] * inside[..., plant, None, :]
    return depth
