"""The shapes of typed dates, as regular expressions and word lists."""

from __future__ import annotations

import re

__all__ = [
    "ABOUT_AFTER",
    "ABOUT_BEFORE",
    "AFTER",
    "AGO",
    "BEFORE",
    "CLOCK",
    "DAY",
    "DAY_MONTH_YEAR",
    "DECADE",
    "GAP",
    "LEAD",
    "LONE_YEAR",
    "MONTHS",
    "MONTH_DAY_YEAR",
    "MONTH_NAME",
    "MONTH_NAMES",
    "MONTH_YEAR",
    "NEGATION",
    "NEVER",
    "NUMBER_WORDS",
    "PART",
    "PARTS",
    "QUARTER",
    "SEASON",
    "SEASONS",
    "THREE",
    "TWO",
    "UNKNOWN",
    "WEEKDAY",
    "YEAR",
    "YEAR_MONTH",
    "YEAR_MONTH_DAY",
]

UNKNOWN = frozenset(
    """
    |?|-|--|---|.|..|...|n/a|na|n.a.|n.a|nan|nat|null|nil|tbd|unk|unknown|not known|unsure|not sure|idk|dk|dunno
    |i dunno|i do not know|do not know|i don't know|don't know|dont know|i dont know|no idea|no clue|can't tell
    |cannot tell|cant tell|can't say|can't remember|cannot remember|don't remember|dont remember|i don't remember
    |i do not remember|do not remember|forgot|i forgot|can't read|cannot read|cant read it|illegible|unreadable
    |not readable|not applicable|does not apply|not available|no date|not stated|not given|no answer|blank|empty
    |not certain|who knows|i'm not sure|im not sure|i am not sure|don't recall|can't recall|no record|no records
    |long ago|a long time ago|long time ago|ages ago|years ago|many years ago|a while ago|a while back|way back
    |before my time|before we moved in|before i moved in|before we bought|before i bought|forever ago
    """.replace("\n", "")
    .replace("    ", "")
    .split("|")
)
NEVER = re.compile(
    r"(never\b.*|not yet|no|nope|none|not ever|not once|hasn'?t been( done)?|has not been( done)?|not done)"
)
# Not the calendar module's names: those change with the machine's language.
MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
MONTHS = {name[:3].lower(): number for number, name in enumerate(MONTH_NAMES, start=1)}
SEASONS = {"spring": (3, 5), "summer": (6, 8), "fall": (9, 11), "autumn": (9, 11)}
PARTS = {
    **dict.fromkeys(("early", "beginning", "start", "first part"), (1, 4)),
    **dict.fromkeys(("mid", "middle"), (5, 8)),
    **dict.fromkeys(("late", "end", "last part"), (9, 12)),
    **dict.fromkeys(("first half", "1st half"), (1, 6)),
    **dict.fromkeys(("second half", "2nd half"), (7, 12)),
}
NUMBER_WORDS = {
    "a": 1,
    "an": 1,
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "fifteen": 15,
    "twenty": 20,
    "thirty": 30,
    "couple": 2,
    "couple of": 2,
    "a couple": 2,
    "a couple of": 2,
}
MONTH_NAME = r"(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
YEAR = r"'?([0-9]{4}|[0-9]{2})"
DAY = r"([0-9]{1,2})(?:st|nd|rd|th)?"
GAP = r"[\s,./-]*"
MONTH_YEAR = re.compile(rf"{MONTH_NAME}(?:\s*of)?{GAP}{YEAR}")
YEAR_MONTH = re.compile(rf"([0-9]{{4}}){GAP}{MONTH_NAME}")
DAY_MONTH_YEAR = re.compile(rf"(?:the )?{DAY}(?: of)?{GAP}{MONTH_NAME}{GAP}{YEAR}")
MONTH_DAY_YEAR = re.compile(rf"{MONTH_NAME}{GAP}(?:the )?{DAY}[\s,./-]+{YEAR}")
YEAR_MONTH_DAY = re.compile(rf"([0-9]{{4}}){GAP}{MONTH_NAME}{GAP}{DAY}")
THREE = re.compile(r"([0-9]{1,4})\s*([/.-])\s*([0-9]{1,2})\s*\2\s*'?([0-9]{1,4})\.?")
TWO = re.compile(r"([0-9]{1,4})\s*([/.-])\s*'?([0-9]{1,4})")
SEASON = re.compile(
    rf"(spring|summer|fall|autumn|winter)\s*(?:of\s*)?{YEAR}|{YEAR}\s+(spring|summer|fall|autumn|winter)"
)
PART = re.compile(
    rf"(?:the )?({'|'.join(PARTS)})"
    rf"[\s-]*(?:in\s+|of\s+)?(?:the\s+)?(?:year\s+)?{YEAR}"
)
QUARTER = re.compile(rf"(?:q([1-4])|([1-4])q|([1-4])(?:st|nd|rd|th) quarter(?: of)?){GAP}{YEAR}")
DECADE = re.compile(r"(?:the )?(?:(early|mid|middle|late|end)[\s-]*(?:of\s+)?)?(?:the )?'?([0-9]{4}|[0-9]0)'?s")
AGO = re.compile(
    r"(?:(more than|over|at least|>)\s*)?"
    r"(?P<low>[0-9]{1,3}(?:\.[0-9])?|a couple of|couple of|a couple|couple|a|an|[a-z]+)"
    r"(?:\s*(?:-|to|or)\s*(?P<high>[0-9]{1,3}))?\s*(?P<plus>\+)?\s*"
    r"(?P<unit>years?|yrs?|y|months?|mos?|weeks?|wks?|days?)\.?\s*(?P<plus2>\+)?(?:\s*(?:ago|old|back|now|of age))?\.?"
)
ABOUT_BEFORE = re.compile(
    r"(?:(?:about|abt\.?|approx\.?|approximately|aprox\.?|around|circa|ca\.?|roughly|maybe|probably|possibly|perhaps"
    r"|i think|i believe|i guess|guess|think|est\.?|estimated?|likely|close to|near(?:ly)?|almost"
    r"|c\.)\s*|[~≈±]\s*|c(?=[0-9]{4}))"
)
ABOUT_AFTER = re.compile(
    r"\s*(?:\?+|\(\?+\)|[-\s]?ish|or so|or thereabouts|approx\.?|\(?i think\)?|\(?maybe\)?|\(?not sure\)?"
    r"|\(?guess(?:ing)?\)?|give or take|\(?est\.?\)?|\(?estimate\)?|\(?about\)?)$"
)
LEAD = re.compile(
    r"(?:(?:i|we|it was|it|was|were|installed|replaced|bought|purchased|done|new|built|flushed|changed|moved in|date"
    r"|dated|year|yr|on|in|at|the|sometime|some time|during|of)\b[\s:]*)"
)
WEEKDAY = re.compile(r"\b(?:mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun)(?:day|nesday|sday|rsday|urday)?\b[.,]?\s*")
CLOCK = re.compile(
    r"(?:t|,?\s+(?:at )?)[0-9]{1,2}:[0-9]{2}(?::[0-9]{2}(?:[.,][0-9]+)?)?\s*(?:[ap]\.?m\.?)?"
    r"(?:z|[+-][0-9]{2}:?[0-9]{2})?$"
)
BEFORE = re.compile(r"(?:(before|prior to|earlier than|<)|by|until|up to|no later than)\s*(.+)")
AFTER = re.compile(r"(?:after|since|later than|no earlier than|>)\s*(.+)|(.+?)\s+or (?:later|after|newer)")
LONE_YEAR = re.compile(r"(?<![0-9])((?:19|20)[0-9]{2})(?![0-9])")
NEGATION = re.compile(r"\b(?:not|no|never|before|after|until|since|than|if|unless|except|but)\b|n't\b")
