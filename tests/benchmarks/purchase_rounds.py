"""Time, gap and saving of purchase rounds, against the cheapest single bid, most urgent first.

Run from the project root::

    python tests/benchmarks/purchase_rounds.py [--homes 300 1000 3000] [--seeds 3] [--kinds usual hard]

Five bids and four rounds of six weeks. `usual`: steps at 1, 5, 10 and 20 homes or at 1, 8, a tenth and a fifth of the
homes; one bid in three incremental; mobilization, minimum a day, a capacity that holds between 10 and 30% of the homes
a round, gaps in the scope, limits of 30% and latest dates of 10% of the homes. `hard`: all steps at 8, 20 and 40% of
the homes, twice the discounts, three times the mobilization. The plain way is in `survey_app/purchase/single_bid.py`;
its total over ours is the ratio printed. Prices and losses are invented.
"""

from __future__ import annotations

import argparse
import json
import platform
import resource
import time
from datetime import date, timedelta

import numpy as np

from survey_app.purchase.bids import Bid, Offered, PriceStep, ScopeOffer, StepKind
from survey_app.purchase.households import Household, PurchaseRound
from survey_app.purchase.rounds import form_rounds
from survey_app.purchase.scope import SCOPE_KEYS, need_of_heater
from survey_app.records import Heater, HeaterKind, Place, Tri

TODAY = date(2026, 11, 25)
ROUNDS, BIDS = 4, 5
LEFT_OUT = (("permit",), ("haul away", "sales tax"), (), ("code upgrades",), ("permit", "ball valve", "drain pan"))
MOBILIZATION = (0.0, 150.0, 90.0, 0.0, 250.0)
LEAST_A_DAY = (1, 1, 2, 1, 3)
CAPACITY = (1.0, 1.5, 0.7, 2.0, 1.0)


def case(homes: int, seed: int, kind: str) -> tuple[list[Household], list[Bid], list[PurchaseRound]]:
    """Invented households, bids and rounds."""
    rng = np.random.default_rng(seed)
    hard = kind == "hard"
    rounds = [
        PurchaseRound(name=f"Round {r + 1}", begins=date(2027, 1, 4) + timedelta(weeks=13 * r), weeks=6)
        for r in range(ROUNDS)
    ]
    places = list(Place)[:6]
    households = []
    for i in range(homes):
        rate = float(rng.gamma(2, 25))
        heater = Heater(
            heater_id=str(i),
            home_id=str(i),
            sequence=1,
            kind=HeaterKind.GAS_STORAGE if rng.random() < 0.8 else HeaterKind.ELECTRIC_STORAGE,
            place=places[int(rng.integers(6))],
            pan=Tri.YES if rng.random() < 0.4 else Tri.NO,
            expansion_tank=Tri.YES,
            leak_alarm=Tri.YES,
        )
        households.append(
            Household(
                home_id=str(i),
                group=f"group {i // 12}",
                needs=need_of_heater(heater),
                outside_price_usd=float(rng.normal(1950, 120)),
                waiting_loss_usd_per_round=tuple(rate * (r + 0.3) for r in range(ROUNDS)),
                limit_price_usd=float(rng.normal(1700, 150)) if rng.random() < 0.3 else None,
                latest=rounds[2].ends if rng.random() < 0.1 else None,
            )
        )
    bids = []
    for b in range(BIDS):
        base = float(rng.uniform(1450, 1650))
        begins = [1, 5, 10, 20] if b % 2 else [1, 8, max(12, homes // 10), max(25, homes // 5)]
        if hard:
            begins = [1, round(0.08 * homes), round(0.2 * homes), round(0.4 * homes)]
        cut = np.array([0, 0.04, 0.08, 0.13]) * (2 if hard else 1)
        bids.append(
            Bid(
                contractor=f"Contractor {b + 1}",
                steps=tuple(
                    PriceStep(from_homes=n, price_usd=round(base * (1 - c), 2))
                    for n, c in zip(begins, cut, strict=True)
                ),
                step_kind=StepKind.INCREMENTAL if b % 3 == 1 else StepKind.ALL_UNITS,
                scope=tuple(
                    ScopeOffer(item=key, offered=Offered.INCLUDED) for key in SCOPE_KEYS if key not in LEFT_OUT[b]
                ),
                mobilization_usd_per_day=MOBILIZATION[b] * (3 if hard else 1),
                minimum_homes_per_day=LEAST_A_DAY[b],
                units_per_week=max(3, round(homes / (15 if hard else 40) * CAPACITY[b])),
            )
        )
    return households, bids, rounds


def main() -> None:
    """Measure and print a table, then one JSON object."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--homes", type=int, nargs="+", default=[300, 1000, 3000])
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--kinds", nargs="+", default=["usual", "hard"], choices=["usual", "hard"])
    given = parser.parse_args()
    rows = []
    for kind in given.kinds:
        for homes in given.homes:
            for seed in range(given.seeds):
                given_case = case(homes, seed, kind)
                start, busy = time.perf_counter(), time.process_time()
                result = form_rounds(*given_case, as_of=TODAY)
                took, worked = time.perf_counter() - start, time.process_time() - busy
                ratio = result.total_usd / result.single_bid_total_usd
                rows.append(
                    {
                        "kind": kind,
                        "homes": homes,
                        "seed": seed,
                        "seconds": took,
                        "processor_seconds": worked,
                        "gap": result.gap,
                        "nodes": result.nodes,
                        "of_single_bid": ratio,
                        "of_alone": result.total_usd / result.alone_total_usd,
                        "buyers": len(result.purchases),
                        "orders": len(result.orders),
                    }
                )
                gap = "unknown" if result.gap is None else f"{result.gap:.1e}"
                print(
                    f"{kind:6}{homes:6} homes, seed {seed}: {took:7.2f} s ({worked:6.2f} s of processor), gap {gap}, "
                    f"{result.nodes:5} nodes, total {ratio:.4f} of the single bid and {rows[-1]['of_alone']:.4f} "
                    f"of alone, {len(result.purchases)} buyers in {len(result.orders)} orders",
                    flush=True,
                )
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({"python": platform.python_version(), "peak_mb": round(memory), "rows": rows}))


if __name__ == "__main__":
    main()
