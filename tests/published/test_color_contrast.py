"""Contrast by WCAG 2.2, and the map's colors held against its thresholds."""

from itertools import pairwise

import pytest

from geo.maps.palette import (
    DEEP,
    INK,
    PALETTE,
    PAPER,
    SHADES,
    SHARE_CLASSES,
    STREET,
    SUPPRESSED,
    contrast_ratio,
    pattern_ink,
    readable_on,
    relative_luminance,
)

CLASSES = (*PALETTE, SUPPRESSED)


@pytest.mark.parametrize(
    ("color", "ratio"),
    # WCAG 2.2, "relative luminance" and "contrast ratio": 21:1 is stated there for black on white; the other
    # ratios are the formula worked by hand with the threshold 0.04045.
    [
        ("#000000", 21.0),
        ("#767676", 4.5422),
        ("#777777", 4.4781),
        ("#949494", 3.0335),
        ("#959595", 2.9953),
        ("#FF0000", 3.9985),
    ],
)
def test_contrast_on_white_agrees_with_the_formula(color, ratio):
    """The function gives the ratio of the WCAG formula, on both sides of the two thresholds."""
    assert contrast_ratio(color, "#FFFFFF") == pytest.approx(ratio, abs=5e-5)


def test_luminance_has_its_ends_and_weights():
    """White is 1, black 0, and a full channel is its coefficient (WCAG 2.2, "relative luminance")."""
    colors = ("#FFFFFF", "#000000", "#FF0000", "#00FF00", "#0000FF")
    assert [relative_luminance(c) for c in colors] == pytest.approx([1, 0, 0.2126, 0.7152, 0.0722])


@pytest.mark.parametrize("own", CLASSES, ids=lambda c: c.key)
def test_outline_and_pattern_stand_out_from_their_fill(own):
    """SC 1.4.11: what marks a shape, its outline and its pattern, has 3:1 on its own fill, unrounded."""
    assert contrast_ratio(own.outline, own.fill) >= 3
    assert contrast_ratio(pattern_ink(own), own.fill) >= 3


@pytest.mark.parametrize("own", CLASSES, ids=lambda c: c.key)
def test_shape_stands_out_from_ground_and_street(own):
    """SC 1.4.11: a shape's edge, fill or outline, has 3:1 on the map's ground and on streets."""
    for ground in (PAPER, STREET):
        assert max(contrast_ratio(own.fill, ground), contrast_ratio(own.outline, ground)) >= 3


@pytest.mark.parametrize("own", [c for c in CLASSES if c is not DEEP], ids=lambda c: c.key)
def test_deepest_class_stands_out_from_every_neighbor(own):
    """SC 1.4.11: the class to look for has 3:1 against each other fill, even where outlines are too thin to see."""
    assert contrast_ratio(DEEP.fill, own.fill) >= 3


@pytest.mark.parametrize("own", SHARE_CLASSES, ids=lambda c: c.key)
def test_edge_of_an_area_stands_out_from_its_fill(own):
    """SC 1.4.11: areas of neighboring shades are parted by an outline with 3:1 on the fill."""
    assert contrast_ratio(own.outline, own.fill) >= 3


@pytest.mark.parametrize("fill", [*(c.fill for c in CLASSES), *SHADES, PAPER, STREET])
def test_letters_are_readable_on_every_fill(fill):
    """SC 1.4.3: the text color chosen for a fill has 4.5:1 on it."""
    assert contrast_ratio(readable_on(fill), fill) >= 4.5


def test_ink_is_readable_on_paper():
    """SC 1.4.3 for the page's own text."""
    assert contrast_ratio(INK, PAPER) >= 4.5


def test_shades_fall_in_luminance():
    """Each shade is darker than the one before, so that more is darker."""
    assert all(relative_luminance(a) > relative_luminance(b) for a, b in pairwise(SHADES))
