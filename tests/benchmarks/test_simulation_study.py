"""A reduced simulation study: what the full one shows must show here too, with wider tolerances."""

from __future__ import annotations

import numpy as np
import pytest
import simulation_study


@pytest.fixture(scope="module")
def base() -> list[dict[str, object]]:
    """Sixteen communities of the base world with every ablation."""
    return simulation_study.study(["base"], 16, 77)


@pytest.mark.slow
def test_intervals_hold_and_the_total_is_unbiased(base: list[dict[str, object]]) -> None:
    """At least 12 of 16 intervals hold at 1, 3 and 5 years, and the sums are within 7%.

    For 90% intervals, 11 or fewer of 16 happen by chance in fewer than 2% of studies.
    """
    row = simulation_study.summary(base)[("base", "full model")]
    for years in (1, 3, 5):
        assert row[f"coverage all {years}"] >= 0.75
        assert abs(row[f"bias all {years}"]) < 0.07


@pytest.mark.slow
def test_leaving_a_part_out_is_seen_failing(base: list[dict[str, object]]) -> None:
    """No renewal term, no truncation and early replacement as failure are far off; plug-in is too narrow."""
    table = simulation_study.summary(base)
    full = table[("base", "full model")]
    renewal, truncation = table[("base", "no renewal term")], table[("base", "no truncation")]
    early, plug_in = table[("base", "early replacement counted as failure")], table[("base", "plug-in")]
    assert renewal["bias all 1"] < -0.15
    assert truncation["bias all 1"] < -0.08
    assert early["bias all 1"] > 0.15
    assert plug_in["width all 5"] < 0.7 * full["width all 5"]
    assert plug_in["coverage all 5"] < full["coverage all 5"]
    for bad in (renewal, early):
        assert bad["coverage all 5"] < 0.7


@pytest.mark.slow
def test_single_homes_are_as_good_as_luck_allows(base: list[dict[str, object]]) -> None:
    """Brier score within .0006 of the oracle that knows the law, and far below the warranty rule's."""
    scores = simulation_study.brier(base)
    full, oracle = scores[("base", "full model")], scores[("base", "oracle")]
    assert full - oracle < 0.0006
    assert full < scores[("base", "base rate")]
    assert full <= 0.52 * scores[("base", "rule: past twice its warranty")]


@pytest.mark.slow
@pytest.mark.parametrize("world", ["lognormal", "two batches", "steps", "leak odds x2.7", "form answers"])
def test_intervals_hold_in_worlds_the_model_does_not_know(world: str) -> None:
    """Eight communities each: at least six intervals hold at every horizon."""
    module = simulation_study
    row = module.summary(module.study([world], 8, 5, ablations=False))[(world, "full model")]
    assert min(row[f"coverage all {years}"] for years in (1, 3, 5)) >= 0.75


@pytest.mark.slow
def test_tables_are_printed_with_every_way(base: list[dict[str, object]]) -> None:
    """The markdown names the ways, and chances within a year are calibrated in the large bins."""
    module = simulation_study
    text = module.markdown(base)
    for way in ("full model", "plug-in", "no renewal term", "oracle"):
        assert f"| {way} |" in text
    for low, _, homes, mean, share in module.calibration(base, "base"):
        if homes >= 1000 and low >= 0.01:
            assert share == pytest.approx(mean, rel=0.35)
    assert np.isfinite([r["life"] for r in base]).all()
