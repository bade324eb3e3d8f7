"""Something is wrong: a short tree by what one sees, hears or smells, as data.

The question about danger comes first, and its answers interrupt everything
else at any step: a walk is only the list of answers given so far, and an
interruption is that list begun anew. Every path ends in an :class:`Outcome`.
Causes, remedies and prices are common practice, no source; the words are in
``texts/*/triage.ftl``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from survey_app.advice.cautions import CAUTION_KEYS, cautions, first_things
from survey_app.errors import NotThere
from survey_app.prices import Price, PriceList, price_line
from survey_app.records import Symptom
from survey_app.settings import Settings
from survey_app.symptoms import handling
from survey_app.texts import ENGLISH, Texts

__all__ = [
    "NOT_SURE",
    "PRICES",
    "PRICES_AS_OF",
    "REPLACEMENT",
    "TREE",
    "Explained",
    "Fate",
    "Option",
    "Outcome",
    "Question",
    "Tree",
    "explain",
    "faults",
    "interrupts",
    "option_text",
    "path_to",
    "paths",
    "step",
]

NOT_SURE = "not-sure"
"""The answer that every question offers."""
_KINDS = frozenset({"gas", "electric", "heat-pump", "tankless", NOT_SURE})

PRICES_AS_OF = date(2026, 11, 1)
"""The month of :data:`PRICES`."""
PRICES: Mapping[str, tuple[int, int]] = {
    "dip-tube": (20, 40),
    "thermocouple": (20, 50),
    "gas-control": (150, 200),
    "relief-valve": (20, 20),
}
"""Low and high in US dollars of parts alone (common practice, no source)."""
REPLACEMENT = "replacement"
"""The price of a new heater: it comes from the price list, by kind."""


class Fate(StrEnum):
    """Whether the heater survives what is wrong with it."""

    FATAL = "fatal"
    RECOVERABLE = "recoverable"
    UNKNOWN = "unknown until seen"


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to a question, and the key of the question or outcome it leads to."""

    key: str
    leads_to: str


@dataclass(frozen=True, slots=True)
class Question:
    """One question; its words are the message ``triage-ask-<key>``."""

    key: str
    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """Where a path ends; its words are the message ``triage-out-<key>`` and that message's attributes.

    Parameters
    ----------
    key
        Its name.
    fate
        Whether the heater survives it.
    symptom
        What one tap puts on file, so that the home's standing says it; None where nothing about the heater is known.
    prices
        Keys of :data:`PRICES`, or :data:`REPLACEMENT`; empty where no price is known.
    urgent
        Whether it comes before everything else and can be reached from any step.
    emergency
        Whether people act before they read on: no price and no word of the record stands on such a page.
    leaking
        Whether the page for a leak belongs beside it.
    caution_keys
        The cautions shown with it: all of them, always.
    """

    key: str
    fate: Fate
    symptom: Symptom | None = None
    prices: tuple[str, ...] = ()
    urgent: bool = False
    emergency: bool = False
    leaking: bool = False
    caution_keys: tuple[str, ...] = CAUTION_KEYS


@dataclass(frozen=True, slots=True)
class Tree:
    """Questions and outcomes by their keys, and the key of the question that comes first."""

    first: str
    questions: Mapping[str, Question]
    outcomes: Mapping[str, Outcome]

    def at(self, key: str) -> Question | Outcome:
        """The question or outcome of that key.

        Raises
        ------
        LookupError
            When there is none.
        """
        found = self.questions.get(key) or self.outcomes.get(key)
        if found is None:
            raise LookupError(f"The triage has neither a question nor an outcome '{key}'.")
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained:
    """An outcome in words."""

    title: str
    first: tuple[str, ...]
    """What comes before everything else; empty unless this is a danger."""
    fate: str
    why: str
    yours: tuple[str, ...]
    """The resident's own steps, in order."""
    theirs: str
    """What is a licensed contractor's, or the utility's."""
    cost: tuple[str, ...]
    standing: str
    """Whether it changes where the home stands; empty in an emergency, as is the cost."""
    cautions: tuple[str, ...] = field(default=())


def _ask(key: str, **options: str) -> Question:
    """A question whose options are written ``name="where it leads"``, underscores for hyphens."""
    return Question(key, tuple(Option(name.replace("_", "-"), to) for name, to in options.items()))


def _tree(questions: Sequence[Question], outcomes: Sequence[Outcome]) -> Tree:
    return Tree(questions[0].key, {q.key: q for q in questions}, {o.key: o for o in outcomes})


_QUESTIONS = (
    _ask(
        "safety",
        gas_smell="gas-smell",
        alarm="carbon-monoxide",
        relief="relief-opened",
        flue="bad-flue",
        switch="safety-switch",
        none="what",
        not_sure="safety-not-sure",
    ),
    _ask(
        "what",
        leak="leak",
        no_hot="no-hot",
        runs_out="runs-out",
        too_hot="too-hot-kind",
        pilot="pilot",
        noise="rumble",
        smell="smell",
        rust="rust",
        flush="flush",
        not_sure="not-sure",
    ),
    _ask(
        "leak",
        shell="leak-shell",
        top="leak-fitting",
        relief="relief-drips",
        drain="leak-drain",
        condensate="leak-condensate",
        not_sure="leak-not-sure",
    ),
    _ask(
        "no-hot",
        gas="gas-off",
        electric="electric-off",
        heat_pump="heat-pump-off",
        tankless="tankless",
        not_sure="kind-not-sure",
    ),
    _ask(
        "gas-off",
        out="pilot-out",
        stays_out="pilot",
        switch="safety-switch",
        lit="gas-control",
        no_pilot="gas-powered",
        not_sure="gas-not-sure",
    ),
    _ask("electric-off", tripped="breaker", on="element", not_sure="electric-not-sure"),
    _ask("heat-pump-off", tripped="breaker", message="heat-pump", runs="heat-pump", not_sure="heat-pump"),
    _ask(
        "runs-out",
        sudden="runs-out-kind",
        slow="runs-out-slow",
        always="too-small",
        not_sure="runs-out-not-sure",
    ),
    _ask(
        "runs-out-kind",
        gas="dip-tube",
        electric="lower-element",
        heat_pump="heat-pump",
        tankless="tankless",
        not_sure="runs-out-not-sure",
    ),
    # The thermostats of an electric tank stand behind covers over live wires: never one advice for all kinds.
    _ask(
        "too-hot-kind",
        gas="too-hot-gas",
        electric="too-hot-electric",
        heat_pump="too-hot-heat-pump",
        tankless="too-hot-tankless",
        not_sure="too-hot-not-sure",
    ),
    # What is added to gas so that people notice it smells like bad eggs too: in doubt it is gas.
    _ask("smell", air="gas-smell", hot="smell-hot", both="smell-both", not_sure="safety-not-sure"),
    _ask("rust", hot="rust-hot", both="rust-both", not_sure="rust-not-sure"),
    _ask(
        "flush",
        grit="flush-grit",
        jelly="flush-jelly",
        rust="flush-rust",
        valve="flush-valve",
        nothing="flush-clogged",
        not_sure="flush-not-sure",
    ),
)


def _end(
    key: str,
    fate: Fate,
    symptom: Symptom | None = None,
    *prices: str,
    urgent: bool = False,
    evacuates: bool = False,
    leaking: bool = False,
) -> Outcome:
    return Outcome(
        key=key,
        fate=fate,
        symptom=symptom,
        prices=prices,
        urgent=urgent,
        emergency=urgent or evacuates,
        leaking=leaking,
    )


_FATAL, _MENDS, _UNKNOWN = Fate.FATAL, Fate.RECOVERABLE, Fate.UNKNOWN
_OUTCOMES = (
    _end("gas-smell", _UNKNOWN, Symptom.GAS_SMELL, urgent=True),
    _end("carbon-monoxide", _UNKNOWN, Symptom.CARBON_MONOXIDE, urgent=True),
    _end("relief-opened", _UNKNOWN, Symptom.RELIEF_OPENED, urgent=True),
    _end("bad-flue", _UNKNOWN, Symptom.BAD_FLUE, urgent=True),
    _end("safety-switch", _UNKNOWN, Symptom.SAFETY_SWITCH, urgent=True),
    _end("safety-not-sure", _UNKNOWN, evacuates=True),
    _end("leak-shell", _FATAL, Symptom.LEAK, "replacement", leaking=True),
    _end("leak-fitting", _MENDS, Symptom.LEAK, leaking=True),
    _end("relief-drips", _MENDS, Symptom.RELIEF_DRIPS, "relief-valve"),
    _end("leak-drain", _MENDS, Symptom.LEAK, leaking=True),
    _end("leak-condensate", _MENDS),
    _end("leak-not-sure", _UNKNOWN, Symptom.LEAK, "replacement", leaking=True),
    _end("pilot-out", _MENDS, Symptom.NO_HOT_WATER, "thermocouple"),
    _end("pilot", _MENDS, Symptom.PILOT_OUT, "thermocouple", "gas-control"),
    _end("gas-control", _MENDS, Symptom.NO_HOT_WATER, "gas-control"),
    _end("gas-powered", _MENDS, Symptom.NO_HOT_WATER),
    _end("gas-not-sure", _UNKNOWN, Symptom.NO_HOT_WATER, "thermocouple", "gas-control"),
    _end("breaker", _MENDS, Symptom.NO_HOT_WATER),
    _end("element", _MENDS, Symptom.NO_HOT_WATER),
    _end("electric-not-sure", _UNKNOWN, Symptom.NO_HOT_WATER),
    _end("heat-pump", _UNKNOWN, Symptom.NO_HOT_WATER),
    _end("tankless", _UNKNOWN, Symptom.NO_HOT_WATER),
    _end("kind-not-sure", _UNKNOWN, Symptom.NO_HOT_WATER),
    _end("dip-tube", _MENDS, Symptom.RUNS_OUT, "dip-tube"),
    _end("lower-element", _MENDS, Symptom.RUNS_OUT),
    _end("runs-out-slow", _MENDS, Symptom.RUNS_OUT),
    _end("too-small", _MENDS, Symptom.RUNS_OUT),
    _end("runs-out-not-sure", _UNKNOWN, Symptom.RUNS_OUT, "dip-tube"),
    _end("too-hot-gas", _UNKNOWN, Symptom.TOO_HOT, "gas-control"),
    _end("too-hot-electric", _UNKNOWN, Symptom.TOO_HOT),
    _end("too-hot-heat-pump", _UNKNOWN, Symptom.TOO_HOT),
    _end("too-hot-tankless", _UNKNOWN, Symptom.TOO_HOT),
    _end("too-hot-not-sure", _UNKNOWN, Symptom.TOO_HOT),
    _end("rumble", _MENDS, Symptom.RUMBLE),
    _end("smell-hot", _MENDS, Symptom.SMELLY_WATER),
    _end("smell-both", _MENDS),
    _end("rust-hot", _UNKNOWN, Symptom.RUSTY_WATER, "replacement"),
    _end("rust-both", _MENDS),
    _end("rust-not-sure", _UNKNOWN),
    _end("flush-grit", _MENDS),
    _end("flush-jelly", _MENDS),
    _end("flush-rust", _FATAL, Symptom.RUSTY_WATER, "replacement"),
    _end("flush-valve", _MENDS, Symptom.LEAK, leaking=True),
    _end("flush-clogged", _MENDS),
    _end("flush-not-sure", _UNKNOWN),
    _end("not-sure", _UNKNOWN),
)

TREE = _tree(_QUESTIONS, _OUTCOMES)
"""The triage of the resident's door."""


def step(chosen: Sequence[str], tree: Tree = TREE) -> Question | Outcome:
    """Where these answers lead: the next question, or the outcome.

    Parameters
    ----------
    chosen
        The keys of the options taken so far, in order.

    Raises
    ------
    NotThere
        When an answer was not on offer, or something was answered after the end.
    """
    here = tree.at(tree.first)
    for key in chosen:
        options = here.options if isinstance(here, Question) else ()
        taken = next((o for o in options if o.key == key), None)
        if taken is None:
            raise NotThere(f"'{key}' is no answer at '{here.key}'. Start over.")
        here = tree.at(taken.leads_to)
    return here


def interrupts(tree: Tree = TREE) -> tuple[Option, ...]:
    """The answers to the first question that stop everything else; take one at any step by starting with it."""
    return tuple(
        o
        for o in tree.questions[tree.first].options
        if o.leads_to in tree.outcomes and tree.outcomes[o.leads_to].urgent
    )


def paths(tree: Tree = TREE) -> Iterator[tuple[str, ...]]:
    """Every way from the first question to an outcome; a circle is not walked twice."""

    def onward(key: str, chosen: tuple[str, ...], before: frozenset[str]) -> Iterator[tuple[str, ...]]:
        here = tree.at(key)
        if isinstance(here, Outcome):
            yield chosen
        elif key not in before:
            for option in here.options:
                yield from onward(option.leads_to, (*chosen, option.key), before | {key})

    yield from onward(tree.first, (), frozenset())


def path_to(outcome: str, tree: Tree = TREE) -> tuple[str, ...]:
    """The shortest way to an outcome, for a page that leads straight to it.

    Raises
    ------
    LookupError
        When no way leads there.
    """
    ways = [way for way in paths(tree) if (end := step(way, tree)) and end.key == outcome]
    if not ways:
        raise LookupError(f"The triage has no outcome '{outcome}'.")
    return min(ways, key=len)


def option_text(question: str, option: str, say: Texts = ENGLISH) -> str:
    """The words of one answer; "not sure" and the kinds of heater have theirs in common."""
    own = f"triage-ask-{question}.{option}"
    return say(own) if say.has(own) else say(f"triage-any.{option}")


def explain(outcome: Outcome, say: Texts = ENGLISH, *, heaters: Sequence[Price] | None = None) -> Explained:
    """An outcome in one language, with what comes first and with its cautions.

    `heaters` are the rows of the price list that a new heater may be; None for one of every kind, by national figures.
    """
    if heaters is None:
        heaters = PriceList(Settings()).of_kinds()
    name = f"triage-out-{outcome.key}"
    first = first_things([outcome.symptom] if outcome.symptom else [], say)
    return Explained(
        title=say(name),
        first=first or ((say(f"{name}.first"),) if say.has(f"{name}.first") else ()),
        fate=say(f"triage-fate-{outcome.fate.replace(' ', '-')}"),
        why=say(f"{name}.why"),
        yours=tuple(say.lines(f"{name}.yours")),
        theirs=say(f"{name}.theirs"),
        cost=() if outcome.emergency else _costs(outcome, heaters, say),
        standing="" if outcome.emergency else say(f"triage-standing-{'yes' if outcome.symptom else 'no'}"),
        cautions=cautions(say, outcome.caution_keys),
    )


def _costs(outcome: Outcome, heaters: Sequence[Price], say: Texts) -> tuple[str, ...]:
    if not outcome.prices:
        return (say("triage-price-none"),)
    parts = [_price(key, say) for key in outcome.prices if key != REPLACEMENT]
    if parts:
        parts.append(say("triage-price-note", when=say.month(PRICES_AS_OF)))
    if REPLACEMENT not in outcome.prices:
        return tuple(parts)
    new = [say("triage-price-replacement"), *(price_line(price, say) for price in heaters)]
    if not all(price.is_own for price in heaters):
        new.append(say("price-not-here"))
    return (*parts, *new, say("price-complete"))


def _price(key: str, say: Texts) -> str:
    low, high = PRICES[key]
    if low == high:
        return say(f"triage-price-{key}", low=say.usd(low))
    return say(f"triage-price-{key}", low=say.usd(low), high=say.usd(high))


def faults(tree: Tree = TREE) -> list[str]:
    """What is wrong with a tree, one sentence each; empty when it can be given to people.

    Every path ends in an outcome, nothing turns in a circle, nothing is out of
    reach, no outcome has lost a caution, the question about danger comes first,
    a question by the kind of heater knows every kind, and "not sure" is always
    on offer and ends the walk with an answer.
    """
    found: list[str] = []
    reached: set[str] = set()

    def visit(key: str, before: tuple[str, ...]) -> None:
        if key in before:
            found.append(f"'{key}' leads back to itself by {' > '.join((*before, key))}.")
            return
        reached.add(key)
        if key in tree.questions:
            for option in tree.questions[key].options:
                visit(option.leads_to, (*before, key))
        elif key not in tree.outcomes:
            found.append(f"'{before[-1] if before else 'the tree'}' leads to '{key}', which is not there.")

    visit(tree.first, ())
    found += [f"'{key}' cannot be reached." for key in {*tree.questions, *tree.outcomes} - reached]
    found += [f"'{key}' is a question and an outcome." for key in set(tree.questions) & set(tree.outcomes)]
    for question in tree.questions.values():
        keys = [o.key for o in question.options]
        if len(set(keys)) < len(keys):
            found.append(f"Question '{question.key}' offers an answer twice.")
        unsure = [o for o in question.options if o.key == NOT_SURE]
        if len(unsure) != 1 or unsure[0].leads_to not in tree.outcomes:
            found.append(f"Question '{question.key}' gives no answer to who is not sure.")
        if _KINDS & set(keys) - {NOT_SURE} and not set(keys) >= _KINDS:
            found.append(f"Question '{question.key}' has no answer for {', '.join(sorted(_KINDS - set(keys)))}.")
    at_hand = {o.leads_to for o in interrupts(tree)} if tree.first in tree.questions else set()
    for outcome in tree.outcomes.values():
        lost = [key for key in CAUTION_KEYS if key not in outcome.caution_keys]
        if lost:
            found.append(f"Outcome '{outcome.key}' has lost its cautions: {', '.join(lost)}.")
        comes_first = outcome.symptom is not None and handling(outcome.symptom).comes_first
        if (outcome.urgent or comes_first) and outcome.key not in at_hand:
            found.append(f"Outcome '{outcome.key}' is a danger and the first question does not ask for it.")
        if outcome.emergency and outcome.prices:
            found.append(f"Outcome '{outcome.key}' is an emergency and speaks of money.")
        unpriced = [p for p in outcome.prices if p not in {*PRICES, REPLACEMENT}]
        found += [f"Outcome '{outcome.key}' names a price '{p}', which is not there." for p in unpriced]
    return sorted(set(found))
