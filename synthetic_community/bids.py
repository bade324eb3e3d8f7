"""Three synthetic bids for a group purchase, as contractors would hand them over: no two leave out the same."""

from __future__ import annotations

import csv
from datetime import date, timedelta
from pathlib import Path

import numpy as np

__all__ = ["write_bids"]

_ITEMS = (
    *("tank", "labor", "permit", "haul away", "water connectors", "ball valve", "relief valve", "gas connector"),
    *("vent work", "electrical", "condensate drain", "drain pan", "pan drain", "expansion tank", "leak alarm"),
    *("hard access", "code upgrades", "sales tax"),
)


def write_bids(path: Path, *, seed: int, as_of: date) -> Path:
    """Write invented bids of invented contractors.

    Parameters
    ----------
    path
        A .csv file.
    seed
        Moves the prices a little.
    as_of
        The day of the community's data; the bids hold for half a year from then.
    """
    rng = np.random.default_rng([seed, 77])
    rows: list[tuple[str, str, str, str, str]] = []
    plans = (
        ("Contractor A (synthetic)", "all units", ((1, 1290), (10, 1190), (20, 1120)), 0, {"sales tax": ""}),
        (
            "Contractor B (synthetic)",
            "incremental",
            ((5, 1060), (15, 1010), (40, 960)),
            180,
            {"permit": "", "drain pan": "45", "pan drain": "120", "expansion tank": "140", "sales tax": ""},
        ),
        ("Contractor C (synthetic)", "all units", ((1, 1340), (8, 1240)), 0, {"hard access": "90"}),
    )
    until = as_of + timedelta(days=182)
    for name, kind, steps, mobilization, left_out in plans:
        for number, usd in steps:
            rows.append((name, "price step", "", str(number), f"{usd + 5 * int(rng.integers(-3, 4))}"))
        rows.append((name, "step kind", kind, "", ""))
        rows.append((name, "heater kinds", "gas storage, electric storage", "", ""))
        if mobilization:
            rows.append((name, "mobilization per day", "", "", str(mobilization)))
        rows.append((name, "units per week", "12", "", ""))
        rows.append((name, "valid until", until.isoformat(), "", ""))
        rows.append((name, "labor warranty years", "1", "", ""))
        rows.append((name, "license number", f"SYN-{int(rng.integers(1000, 9999))}", "", ""))
        rows.append((name, "license seen on", as_of.isoformat(), "", ""))
        rows.append((name, "insurance seen on", as_of.isoformat(), "", ""))
        rows.append((name, "insurance until", (as_of + timedelta(days=365)).isoformat(), "", ""))
        for item in _ITEMS:
            price = left_out.get(item)
            answer = "included" if price is None else "extra" if price else "missing"
            rows.append((name, item, answer, "", price or ""))
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.writer(handle)
        writer.writerow(("contractor", "item", "answer", "from homes", "price"))
        writer.writerows(rows)
    return path
