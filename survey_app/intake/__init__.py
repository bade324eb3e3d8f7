"""One answer, from a form or a row, checked: a record, or every problem found, each with its remedy.

The questions stand once, as data (`QUESTIONS`). `check` reads an answer to
them and says what is wrong; `to_history` turns what it says into heaters and
service records.
"""

from survey_app.intake.check import OVERRULE_ALL, answer_id_of, check
from survey_app.intake.content import NEVER, Checked, Content, Done, InstalledBasis, Problem, Severity
from survey_app.intake.history import History, heater_id, to_history
from survey_app.intake.questions import (
    KEYS,
    QUESTIONS,
    SECTIONS,
    WEEKDAYS,
    Choice,
    Question,
    Section,
    Widget,
    question,
)
from survey_app.intake.short_codes import from_short, one_key, short_codes
from survey_app.intake.values import plain, read_choice, read_choices, read_number, simplify
from survey_app.intake.wording import label_in, question_help, question_text

__all__ = [
    "KEYS",
    "NEVER",
    "OVERRULE_ALL",
    "QUESTIONS",
    "SECTIONS",
    "WEEKDAYS",
    "Checked",
    "Choice",
    "Content",
    "Done",
    "History",
    "InstalledBasis",
    "Problem",
    "Question",
    "Section",
    "Severity",
    "Widget",
    "answer_id_of",
    "check",
    "from_short",
    "heater_id",
    "label_in",
    "one_key",
    "plain",
    "question",
    "question_help",
    "question_text",
    "read_choice",
    "read_choices",
    "read_number",
    "short_codes",
    "simplify",
    "to_history",
]
