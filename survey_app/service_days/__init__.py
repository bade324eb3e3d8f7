"""Service days: who is eligible, which day, closing a day (over geo.routing)."""

from survey_app.service_days.closing import (
    CLOSING_COLUMNS,
    FINDINGS,
    Closing,
    ClosingProblem,
    event_of,
    read_closings,
    visit_event_id,
)
from survey_app.service_days.plan import Asked, Moved, Outcome, PlannedVisit, ServicePlan, TooFew, Waiting, clock
from survey_app.service_days.when import CannotPlan, Ground, change_days, plan_days, reorder_day
from survey_app.service_days.who import (
    ActEffect,
    Candidate,
    Fitness,
    Job,
    candidates,
    job_minutes,
    thinned,
    worth_of_serving,
)

__all__ = [
    "CLOSING_COLUMNS",
    "FINDINGS",
    "ActEffect",
    "Asked",
    "Candidate",
    "CannotPlan",
    "Closing",
    "ClosingProblem",
    "Fitness",
    "Ground",
    "Job",
    "Moved",
    "Outcome",
    "PlannedVisit",
    "ServicePlan",
    "TooFew",
    "Waiting",
    "candidates",
    "change_days",
    "clock",
    "event_of",
    "job_minutes",
    "plan_days",
    "read_closings",
    "reorder_day",
    "thinned",
    "visit_event_id",
    "worth_of_serving",
]
