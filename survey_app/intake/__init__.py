"""One answer, from a form or a row, checked: a record, or every problem found, each with its remedy.

The questions stand once, as data (`QUESTIONS`). `check` reads an answer to
them and says what is wrong; `to_history` turns what it says into heaters and
service records.
"""

from survey_app.intake.check import OVERRULE_ALL, answer_id_of, check
from survey_app.intake.content import NEVER, Checked, Content, Done, InstalledBasis, Problem, Said, Severity
from survey_app.intake.history import History, heater_id, landed, to_history
from survey_app.intake.kinds import SECTIONS, Choice, Kind, Lands, Question, Section
from survey_app.intake.questions import KEYS, QUESTIONS, question
from survey_app.intake.reading import content_of
from survey_app.intake.short_codes import from_short, one_key, short_codes
from survey_app.intake.values import plain, read_choice, read_choices, read_number, simplify

__all__ = [
    "KEYS",
    "NEVER",
    "OVERRULE_ALL",
    "QUESTIONS",
    "SECTIONS",
    "Checked",
    "Choice",
    "Content",
    "Done",
    "History",
    "InstalledBasis",
    "Kind",
    "Lands",
    "Problem",
    "Question",
    "Said",
    "Section",
    "Severity",
    "answer_id_of",
    "check",
    "content_of",
    "from_short",
    "heater_id",
    "landed",
    "one_key",
    "plain",
    "question",
    "read_choice",
    "read_choices",
    "read_number",
    "short_codes",
    "simplify",
    "to_history",
]
