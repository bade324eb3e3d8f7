"""The gas pipe formula against cells of the codes' own tables.

Columns are schedule-40 steel of 1/2, 3/4 and 1 inch, capacity in cubic feet of
natural gas (specific gravity 0.60) an hour by length in feet. A few rows are
quoted, as many as a check needs.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from survey_app.advice.gas_line import SCHEDULE_40, Gas, bore_needed_in, capacity_cfh, smallest_pipe

SIZES = ("1/2", "3/4", "1")
IFGC_402_4_3 = {
    10: (454, 949, 1790),
    30: (250, 524, 986),
    50: (190, 397, 748),
    60: (172, 360, 678),
    80: (147, 308, 580),
}
"""IFGC 2018 Table 402.4(3), p. 48: drop of 3.0 inches of water column."""
IFGC_402_4_4 = {10: (660, 1380, 2600), 30: (364, 762, 1440), 50: (276, 578, 1090), 80: (214, 448, 844)}
"""IFGC 2018 Table 402.4(4), p. 49: drop of 6.0 inches of water column."""


def _off(table: dict[int, tuple[int, ...]], drop: float) -> Iterator[float]:
    for feet, row in table.items():
        for size, printed in zip(SIZES, row, strict=True):
            yield capacity_cfh(SCHEDULE_40[size], feet, drop) / printed - 1


@pytest.mark.parametrize(
    ("table", "drop", "within"),
    [(IFGC_402_4_3, 3.0, 0.01), (IFGC_402_4_4, 6.0, 0.01)],
    ids=["IFGC 2018 Table 402.4(3)", "IFGC 2018 Table 402.4(4)"],
)
def test_the_formula_gives_the_cells_of_the_table(
    table: dict[int, tuple[int, ...]], drop: float, within: float, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every quoted cell lies within the stated share; the largest and smallest deviations are printed."""
    off = list(_off(table, drop))
    with capsys.disabled():
        print(f"\n{drop} in: {min(off):+.2%} to {max(off):+.2%} on {len(off)} cells", end="")

    assert max(map(abs, off)) <= within


def test_capacity_depends_on_drop_by_length_alone_as_the_two_tables_do() -> None:
    """Twice the drop over twice the length carries the same: in the formula, and in the printed cells."""
    for size in SIZES:
        one, other = capacity_cfh(SCHEDULE_40[size], 30, 3.0), capacity_cfh(SCHEDULE_40[size], 60, 6.0)
        assert one == pytest.approx(other, rel=1e-12)
    assert IFGC_402_4_3[30] == (250, 524, 986)
    # Table 402.4(4), 60 ft, the same page: 250, 524, 986.
    for size, printed in zip(SIZES, (250, 524, 986), strict=True):
        assert capacity_cfh(SCHEDULE_40[size], 60, 6.0) == pytest.approx(printed, rel=0.01)


def test_the_formula_solved_for_width_gives_back_the_widths_of_the_table() -> None:
    """The printed capacities ask for the printed pipe, within the power of the formula (0.381 of the deviation)."""
    for feet, row in IFGC_402_4_3.items():
        for size, printed in zip(SIZES, row, strict=True):
            assert bore_needed_in(printed, feet, 3.0) == pytest.approx(SCHEDULE_40[size], rel=0.004)
            assert smallest_pipe(printed, feet, 3.0) == size


def test_propane_carries_less_volume_by_the_codes_factors() -> None:
    """IRC 2018 Table G2413.4 gives Cr 0.6094 and 1.2462: the flow changes by their ratio to the power .206/.381."""
    ratio = capacity_cfh(0.824, 40, gas=Gas.PROPANE) / capacity_cfh(0.824, 40)

    assert ratio == pytest.approx((0.6094 / 1.2462) ** (0.206 / 0.381), rel=1e-12)
