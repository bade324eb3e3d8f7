"""The survey's front door: checks who asks, loads, delegates, saves.

Pages, commands and reports reach the records through :class:`Survey` alone. It
holds no arithmetic and formats nothing. :class:`Doors` is how somebody becomes
an actor.
"""

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
from survey_app.survey.responses import Responses, Walk
from survey_app.survey.service_rounds import ServiceRounds
from survey_app.survey.sign_in_rights import Invitation, SignInRights
from survey_app.survey.year_end import Done, YearEnd

open_store = Store.open

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
