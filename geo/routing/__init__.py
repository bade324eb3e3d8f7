"""Which stop is visited on which day, by which crew, in which order: dates, half-days, breaks, prizes.

Knows nothing of what is done at a stop. `plan` makes a plan from a `Task`,
`replan` changes one, `validate` re-checks any.
"""

from geo.routing._finish import PlanFault, too_few
from geo.routing._plan import K_MEANS, ROUTED, STREET_ORDER, plan
from geo.routing._replan import Changes, Moved, Replanned, forbid, pin, reorder, replan
from geo.routing._validate import validate
from geo.routing._values import (
    CannotPlan,
    CostBreakdown,
    Costs,
    Day,
    Depot,
    Half,
    Lunch,
    Plan,
    PriceStep,
    Route,
    Stop,
    Task,
    TooFew,
    Unserved,
    Visit,
)

__all__ = [
    "K_MEANS",
    "ROUTED",
    "STREET_ORDER",
    "CannotPlan",
    "Changes",
    "CostBreakdown",
    "Costs",
    "Day",
    "Depot",
    "Half",
    "Lunch",
    "Moved",
    "Plan",
    "PlanFault",
    "PriceStep",
    "Replanned",
    "Route",
    "Stop",
    "Task",
    "TooFew",
    "Unserved",
    "Visit",
    "forbid",
    "pin",
    "plan",
    "reorder",
    "replan",
    "too_few",
    "validate",
]
