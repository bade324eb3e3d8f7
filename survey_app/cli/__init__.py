"""The command line: the same survey as the app, for the person who holds the data folder."""

from survey_app.cli import keeping, records, serving, sign_in, together
from survey_app.cli.base import app, main

__all__ = ["app", "keeping", "main", "records", "serving", "sign_in", "together"]
