"""`python -m survey_app` is `heater-survey`."""

from survey_app.cli import main

main()
