"""The triage: every path ends, no caution is lost, danger is first and at hand; the cautions and the leak's steps."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from survey_app.advice.cautions import CAUTION_KEYS, cautions, first_things
from survey_app.advice.leaking import CONTACTS, STEPS, Energy, calls, leak_steps
from survey_app.advice.triage import (
    NOT_SURE,
    PRICES,
    TREE,
    Fate,
    Option,
    Outcome,
    Question,
    Tree,
    explain,
    faults,
    interrupts,
    option_text,
    paths,
    step,
)
from survey_app.records import Symptom
from survey_app.symptoms import handling
from survey_app.texts import LANGUAGES, message_keys, texts

PATHS = list(paths())
SUBJECTS = ("cautions", "triage", "leaking")
LONGEST = 4
"""Answers until an outcome, at most: a person with water on the floor answers no more."""


def test_the_tree_has_no_fault() -> None:
    """The checker, which the tests below show to work, finds nothing."""
    assert faults(TREE) == []


@pytest.mark.parametrize("path", PATHS, ids="-".join)
def test_every_path_ends_in_an_outcome_with_words_in_every_language(path: tuple[str, ...]) -> None:
    """Cause, steps, whose work it is, cost, standing and all cautions are there, however one answers."""
    here = step(path)
    assert isinstance(here, Outcome)
    assert len(path) <= LONGEST
    for language in LANGUAGES:
        say = texts(language)
        found = explain(here, say)
        assert all((found.title, found.fate, found.why, found.theirs))
        assert 2 <= len(found.yours) <= 6
        # In an emergency people act: no price, no word of the record.
        assert bool(found.cost) is bool(found.standing) is (not here.emergency)
        assert found.cautions == cautions(say)


@given(st.data())
@settings(max_examples=300, deadline=None)
def test_a_random_walk_ends_and_danger_is_at_hand_at_every_step(data: st.DataObject) -> None:
    """Whatever is pressed, going back and interruptions included, the walk stands somewhere and can end."""
    chosen: tuple[str, ...] = ()
    for _ in range(data.draw(st.integers(0, 12))):
        here = step(chosen)
        moves: list[tuple[str, ...]] = [(danger.key,) for danger in interrupts()]
        if isinstance(here, Question):
            moves += [(*chosen, o.key) for o in here.options]
        if chosen:
            moves.append(chosen[:-1])
        chosen = data.draw(st.sampled_from(moves))
        for danger in interrupts():
            reached = step((danger.key,))
            assert isinstance(reached, Outcome)
            assert reached.urgent
    more = 0
    while isinstance(here := step(chosen), Question):
        chosen = (*chosen, data.draw(st.sampled_from([o.key for o in here.options])))
        more += 1

    assert more <= LONGEST
    assert explain(here).cautions == cautions()


def test_danger_comes_first() -> None:
    """The first question asks for gas, carbon monoxide, the relief valve, the flue and the safety switch, in order."""
    asked = ["gas-smell", "carbon-monoxide", "relief-opened", "bad-flue", "safety-switch"]
    assert [o.leads_to for o in interrupts()] == asked
    assert TREE.questions[TREE.first].options[: len(interrupts())] == interrupts()


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_danger_says_at_once_what_to_do(language: str) -> None:
    """What comes first is never empty for an urgent outcome, and is empty for the others."""
    for outcome in TREE.outcomes.values():
        assert bool(explain(outcome, texts(language)).first) is outcome.urgent, outcome.key


@pytest.mark.parametrize("symptom", list(Symptom))
def test_every_symptom_of_the_survey_can_be_recorded_from_the_triage(symptom: Symptom) -> None:
    """What the form asks for, the triage knows as well."""
    assert symptom in {o.symptom for o in TREE.outcomes.values()}


def test_who_is_not_sure_gets_an_answer_at_every_question() -> None:
    """The answer "not sure" is the last one everywhere, ends the walk, and names something to do."""
    for question in TREE.questions.values():
        assert question.options[-1].key == NOT_SURE
        outcome = TREE.outcomes[question.options[-1].leads_to]
        assert len(explain(outcome).yours) >= 3


@pytest.mark.parametrize("kind", ["gas", "electric", "heat-pump", "tankless"])
def test_every_kind_of_heater_has_an_answer_to_no_hot_water(kind: str) -> None:
    """Each kind leads on to outcomes of its own."""
    ends = {step(p) for p in PATHS if p[:3] == ("none", "no-hot", kind)}

    assert ends
    assert all(isinstance(e, Outcome) for e in ends)


def test_a_tank_that_leaks_from_its_wall_is_finished_and_other_leaks_are_not() -> None:
    """A shell leak is fatal; fitting, relief valve and drain valve are not (common practice, no source)."""
    fates = {key: TREE.outcomes[key].fate for key in ("leak-shell", "leak-fitting", "relief-drips", "leak-drain")}

    assert fates.pop("leak-shell") is Fate.FATAL
    assert set(fates.values()) == {Fate.RECOVERABLE}


def test_prices_are_those_of_the_trade() -> None:
    """Materials in US dollars, November 2026, common practice, no source; the date and the service call are said."""
    assert PRICES == {
        "dip-tube": (20, 40),
        "thermocouple": (20, 50),
        "gas-control": (150, 200),
        "relief-valve": (20, 20),
    }
    cost = explain(TREE.outcomes["leak-shell"]).cost
    assert not any("November 2026" in line for line in cost)
    part = explain(TREE.outcomes["pilot"]).cost
    assert "November 2026" in part[-1]
    assert "service call" in part[-1]


@pytest.mark.parametrize("kind", ["gas", "electric", "heat-pump", "tankless", NOT_SURE])
def test_water_too_hot_is_branched_by_kind_measured_and_put_on_record(kind: str) -> None:
    """The thermostats of an electric tank stand over 240 volts: nobody is sent to "the control" of a tank unseen."""
    end = step(("none", "too-hot", kind))
    assert isinstance(end, Outcome)
    said = " ".join(explain(end).yours)

    assert end.symptom is Symptom.TOO_HOT
    assert "kitchen thermometer" in said
    assert "Never test by feel" in said
    assert "feel with care" not in said
    if kind == "electric":
        assert "Leave the covers on" in said
        assert "Turn" not in said
    if kind in ("electric", "heat-pump"):
        assert "240 volts" in explain(end).why


def test_a_gas_detector_belongs_to_gas_smell_and_a_carbon_monoxide_alarm_does_not() -> None:
    """Whoever hears a detector for gas that burns must read "switch nothing", which the other page does not say."""
    say = texts("en")

    assert "gas detector" in option_text("safety", "gas-smell", say)
    assert "carbon monoxide alarm" in option_text("safety", "alarm", say)
    assert "gas" not in say("triage-now.alarm").lower()


_TELLS_OF_GAS = {"en": re.compile(r"[Ss]mell(s)? (of )?gas"), "es": re.compile(r"[Hh]uele a gas|[Oo]lor a gas")}
_ONLY_NAMES_IT = {  # answers to choose, headlines, and lines that lead to what is said in full
    "door-leaking",
    "triage-now",
    "triage-ask-safety",
    "triage-out-gas-smell",
    "leaking-call-gas-utility",
    "decision-not-modeled",
    "problem-safety-smell-of-gas",
    "symptom-smell-of-gas",
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_place_that_tells_of_gas_says_the_same_in_the_same_order(language: str) -> None:
    """Out first; nothing switched, no garage door, no car, no phone inside; then the call, from outside."""
    raw = message_keys(language)
    telling = [key for key, pattern in raw.items() if _TELLS_OF_GAS[language].search(pattern)]
    short = [key for key in telling if "-gas-out" not in raw[key] and key.partition(".")[0] not in _ONLY_NAMES_IT]

    assert len(telling) > 10
    assert short == []
    said = texts(language)("cautions-first-gas-smell")
    words = {
        "en": ("Go out now", "Switch nothing", "garage door", "car", "phone inside", "outside"),
        "es": ("Salga ya", "No encienda ni apague", "garaje", "carro", "teléfono", "desde afuera"),
    }[language]
    places = [said.index(word) for word in words]
    assert places == sorted(places)


def test_the_steps_at_a_gas_smell_keep_the_same_order() -> None:
    """The whole page says what the short sentence says, and nobody is sent to shut anything off first."""
    steps = " ".join(explain(TREE.outcomes["gas-smell"]).yours)

    assert steps.index("Go out now") < steps.index("Switch nothing") < steps.index("garage door") < steps.index("Call")
    assert "hut off" not in steps


def test_nobody_puts_a_pan_under_a_standing_tank() -> None:
    """A full tank weighs hundreds of pounds: an alarm on the floor is the resident's, a pan comes with the next one."""
    lines = [line for outcome in TREE.outcomes.values() for line in explain(outcome).yours]
    lines += [line for one in leak_steps() for line in one.lines]

    assert any("leak alarm on the floor" in line for line in lines)
    assert [line for line in lines if re.search(r"(put|lay)\b[^.]*\bpan\b[^.]*\bunder", line, re.IGNORECASE)] == []


def test_a_breaker_goes_on_only_when_an_open_hot_tap_runs_without_air() -> None:
    """An element that stands dry burns out: the tap is opened before the breaker is touched."""
    steps = explain(TREE.outcomes["breaker"]).yours
    air = next(i for i, line in enumerate(steps) if "no air" in line)
    on = next(i for i, line in enumerate(steps) if "fully off, then on" in line)

    assert air < on


def test_a_smell_that_may_be_in_the_air_is_treated_as_gas() -> None:
    """What is put into gas smells like bad water: neither answer may lead to harmless advice."""
    assert step(("none", "smell", "air")) == TREE.outcomes["gas-smell"]
    assert "gas utility" in " ".join(explain(step(("none", "smell", NOT_SURE))).yours)  # type: ignore[arg-type]


@pytest.mark.parametrize("key", sorted(k for k, o in TREE.outcomes.items() if o.key.startswith(("pilot", "gas-not"))))
def test_gas_is_smelled_for_before_a_pilot_is_touched(key: str) -> None:
    """The first step of everything about a pilot is to smell for gas."""
    first_two = " ".join(explain(TREE.outcomes[key]).yours[:2])
    assert "Smell all around the heater, and low at the floor" in first_two
    assert "Smell gas? Go out now" in first_two


def test_an_answer_that_is_not_on_offer_is_refused() -> None:
    """A stale link or a forged answer gets a sentence, not a wrong outcome."""
    with pytest.raises(LookupError, match="no answer"):
        step(("none", "gas-smell"))
    with pytest.raises(LookupError, match="no answer"):
        step(("gas-smell", "none"))


def broken(**changes: object) -> list[str]:
    """The faults of the tree with something changed."""
    return faults(replace(TREE, **changes))  # type: ignore[arg-type]


def with_question(key: str, options: tuple[Option, ...]) -> list[str]:
    """The faults of the tree with one question's options changed."""
    return broken(questions={**TREE.questions, key: Question(key, options)})


def with_outcome(key: str, **changes: object) -> list[str]:
    """The faults of the tree with one outcome changed."""
    return broken(outcomes={**TREE.outcomes, key: replace(TREE.outcomes[key], **changes)})  # type: ignore[arg-type]


@pytest.mark.parametrize("caution", CAUTION_KEYS)
def test_the_checker_finds_a_lost_caution(caution: str) -> None:
    """One caution less on one outcome is a fault."""
    left = tuple(k for k in CAUTION_KEYS if k != caution)

    assert with_outcome("rumble", caution_keys=left) == [f"Outcome 'rumble' has lost its cautions: {caution}."]


def test_the_checker_finds_a_circle() -> None:
    """A question that leads back to itself never ends; the walker does not hang on it either."""
    options = (Option("again", "what"), *TREE.questions["rust"].options)
    changed = replace(TREE, questions={**TREE.questions, "rust": Question("rust", options)})

    assert any("leads back to itself" in f for f in faults(changed))
    assert len(list(paths(changed))) == len(PATHS)


def test_the_checker_finds_a_way_to_nowhere_and_what_nobody_reaches() -> None:
    """A misspelled target is a fault, and so is what it leaves out of reach."""
    options = tuple(o if o.key != "hot" else Option("hot", "rust-hto") for o in TREE.questions["rust"].options)

    assert with_question("rust", options) == [
        "'rust' leads to 'rust-hto', which is not there.",
        "'rust-hot' cannot be reached.",
    ]


def test_the_checker_finds_a_question_without_not_sure_or_without_a_kind() -> None:
    """Neither the unsure nor the owner of a heat pump may be left alone."""
    kinds = TREE.questions["no-hot"].options

    assert with_question("no-hot", kinds[:-1])[-1] == "Question 'no-hot' has no answer for not-sure."
    assert "Question 'no-hot' gives no answer to who is not sure." in with_question("no-hot", kinds[:-1])
    no_pump = tuple(o for o in kinds if o.key != "heat-pump")
    assert "Question 'no-hot' has no answer for heat-pump." in with_question("no-hot", no_pump)
    assert with_question("rust", (*TREE.questions["rust"].options, Option("hot", "rust-both")))


def test_the_checker_finds_a_danger_that_is_not_asked_first() -> None:
    """An outcome that comes before everything else has to be at hand at every step."""
    assert with_outcome("rumble", urgent=True)
    assert with_outcome("rumble", symptom=Symptom.GAS_SMELL)
    assert with_outcome("rumble", prices=("gold",))


def test_the_checker_finds_no_fault_in_a_small_sound_tree() -> None:
    """It is not a checker that always complains."""
    end = Outcome(key="end", fate=Fate.UNKNOWN)
    tree = Tree("ask", {"ask": Question("ask", (Option(NOT_SURE, "end"),))}, {"end": end})

    assert faults(tree) == []


@pytest.mark.parametrize("subject", SUBJECTS)
def test_no_message_is_left_over_or_untranslated(subject: str) -> None:
    """Every message of these files is in both languages with the same values in it."""
    english = {k: v for k, v in message_keys("en").items() if k.startswith(f"{subject}-")}
    spanish = {k: v for k, v in message_keys("es").items() if k.startswith(f"{subject}-")}

    assert english
    assert set(english) == set(spanish)
    for key in english:
        assert set(re.findall(r"\$(\w+)", english[key])) == set(re.findall(r"\$(\w+)", spanish[key])), key


def test_every_outcome_and_answer_that_has_words_is_in_the_tree() -> None:
    """No text is kept for an outcome or an answer that nobody can reach."""
    keys = [k for k in message_keys("en") if k.startswith(("triage-out-", "triage-ask-"))]
    outcomes = {k.removeprefix("triage-out-").partition(".")[0] for k in keys if k.startswith("triage-out-")}
    offered = {f"triage-ask-{q.key}.{o.key}" for q in TREE.questions.values() for o in q.options}

    assert outcomes == set(TREE.outcomes)
    assert {k for k in keys if k.startswith("triage-ask-") and "." in k} <= offered


@pytest.mark.parametrize("language", LANGUAGES)
def test_answers_of_one_question_differ(language: str) -> None:
    """Two buttons with the same words would be a riddle."""
    for question in TREE.questions.values():
        labels = [option_text(question.key, o.key, texts(language)) for o in question.options]
        assert len(set(labels)) == len(labels)


@given(st.lists(st.sampled_from(list(Symptom))))
def test_first_things_are_gas_first_and_each_once(symptoms: list[Symptom]) -> None:
    """The order does not depend on the order in which symptoms were named."""
    expected = tuple(said for s in Symptom if s in symptoms and handling(s).comes_first for said in first_things([s]))

    assert first_things(symptoms) == expected


def test_the_cautions_keep_what_matters() -> None:
    """Gas, relief valve, scalding, breaker, carbon monoxide, licensed work with a permit, local code and maker."""
    said = " ".join(cautions()).lower()
    for word in (
        "smell gas",
        "from outside",
        "relief valve",
        "safety switch",
        "stays hot for hours",
        "breaker off first",
        "runs dry",
        "carbon monoxide alarm near the bedrooms",
        "licensed contractor",
        "permit",
        "local code",
        "maker's instructions",
    ):
        assert word in said


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_leak_steps_tell_gas_electric_and_how_to_tell(language: str) -> None:
    """Numbered from 1; water, then heat, then draining; three variants of turning the heat off."""
    steps = leak_steps(texts(language))
    by_key = {s.key: s for s in steps}

    assert [s.number for s in steps] == list(range(1, len(STEPS) + 1))
    assert by_key["safe"].number == 1
    assert by_key["water"].number < by_key["heat"].number < by_key["drain"].number
    assert set(by_key["heat"].variants) == set(Energy)
    assert all(by_key["heat"].variants.values())
    assert all(s.lines for s in steps)


def test_the_leak_steps_warn_of_hot_water_wet_feet_and_mold() -> None:
    """The warnings stand in the steps they belong to."""
    by_key = {s.key: s for s in leak_steps()}

    assert "hot for hours" in by_key["drain"].lines[0]
    assert any("wet feet" in line for line in by_key["safe"].lines)
    assert any("dry feet" in line for line in by_key["heat"].variants[Energy.ELECTRIC])
    assert "within a day" in by_key["dry"].title
    assert "Mold" in by_key["dry"].lines[0]


def test_calls_take_the_communitys_numbers_and_leave_the_others_blank() -> None:
    """A number given is shown with its contact; the emergency number is always there; a wrong name is refused."""
    found = {c.key: c.number for c in calls(contacts={"gas-utility": " 555-0100 "})}

    assert tuple(found) == CONTACTS
    assert found["gas-utility"] == "555-0100"
    assert found["emergency"] == "911"
    assert found["insurer"] == ""
    with pytest.raises(ValueError, match="plumber"):
        calls(contacts={"plumber": "555-0101"})
