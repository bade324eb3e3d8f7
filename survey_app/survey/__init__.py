"""The survey's front door: checks who asks, loads, delegates, saves.

Pages, commands and reports reach the records through :class:`Survey` alone. It
holds no arithmetic and formats nothing. :class:`Doors` is how somebody becomes
an actor.

A name is imported when it is first asked for: a command that lists where homes
stand does not load what plans service days.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from survey_app.store import Store, UnusableData
    from survey_app.store.backup import BackupReport, UnusableBackup, back_up
    from survey_app.store.backup import restore as restore_backup
    from survey_app.store.backup import verify as verify_backup
    from survey_app.survey.change_log import CannotUndo
    from survey_app.survey.doors import Doors
    from survey_app.survey.front import Survey
    from survey_app.survey.handed_back import (
        DoubtfulAnswer,
        HomesWouldGo,
        ImportReport,
        LoadReport,
        SignInRefused,
        Submission,
        notice_groups,
    )
    from survey_app.survey.one_home import OneHome
    from survey_app.survey.paper_forms import PaperHome
    from survey_app.survey.plates import Plates
    from survey_app.survey.purchase_rounds import PurchaseRounds
    from survey_app.survey.rereading import open_store
    from survey_app.survey.responses import Responses, Walk
    from survey_app.survey.service_rounds import ServiceRounds
    from survey_app.survey.sign_in_rights import Invitation, SignInRights
    from survey_app.survey.year_end import Done, YearEnd

__all__ = [
    "BackupReport",
    "CannotUndo",
    "Done",
    "Doors",
    "DoubtfulAnswer",
    "HomesWouldGo",
    "ImportReport",
    "Invitation",
    "LoadReport",
    "OneHome",
    "PaperHome",
    "Plates",
    "PurchaseRounds",
    "Responses",
    "ServiceRounds",
    "SignInRefused",
    "SignInRights",
    "Store",
    "Submission",
    "Survey",
    "UnusableBackup",
    "UnusableData",
    "Walk",
    "YearEnd",
    "back_up",
    "notice_groups",
    "open_store",
    "restore_backup",
    "verify_backup",
]

_NAMES_OF = {
    "survey_app.store": "Store UnusableData",
    "survey_app.store.backup": "BackupReport UnusableBackup back_up restore verify",
    "survey_app.survey.change_log": "CannotUndo",
    "survey_app.survey.doors": "Doors",
    "survey_app.survey.front": "Survey",
    "survey_app.survey.handed_back": (
        "DoubtfulAnswer HomesWouldGo ImportReport LoadReport SignInRefused Submission notice_groups"
    ),
    "survey_app.survey.one_home": "OneHome",
    "survey_app.survey.paper_forms": "PaperHome",
    "survey_app.survey.plates": "Plates",
    "survey_app.survey.purchase_rounds": "PurchaseRounds",
    "survey_app.survey.rereading": "open_store",
    "survey_app.survey.responses": "Responses Walk",
    "survey_app.survey.service_rounds": "ServiceRounds",
    "survey_app.survey.sign_in_rights": "Invitation SignInRights",
    "survey_app.survey.year_end": "Done YearEnd",
}
_MODULE_OF = {name: module for module, names in _NAMES_OF.items() for name in names.split()}
_NAMED_THERE = {"restore_backup": "restore", "verify_backup": "verify"}


def __getattr__(name: str) -> Any:
    """A name of this package, imported when it is first asked for."""
    there = _NAMED_THERE.get(name, name)
    if name not in __all__ or there not in _MODULE_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = globals()[name] = getattr(import_module(_MODULE_OF[there]), there)
    return found
