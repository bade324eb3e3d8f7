"""Whether the gas pipe that is there could feed a tankless heater: the low-pressure formula of the fuel gas codes.

The formula is Equation 4-1 of IFGC 402.4 (the same as in NFPA 54 and in IRC
G2413.4), for gas below 1.5 psi::

    D = Q^0.381 / (19.17 * (dH / (Cr * L))^0.206)

with D the inside width of the pipe in inches, Q the flow in cubic feet an hour,
dH the allowed drop of pressure in inches of water column, L the length in feet
and Cr the gas's factor (IRC 2018 Table G2413.4: natural gas 0.6094, propane
1.2462). ``tests/published/test_gas_pipe.py`` holds it to cells of the codes'
own tables.

Two sections are looked at, each by its own load over the length to the farthest
appliance (the codes' longest-length method; IFGC 402.4.1, from memory): the
pipe that feeds everything, and the one that feeds the heater alone. Propane is
measured from the second-stage regulator at the house, where the low pressure
begins (common practice, no source).

The answer is a first look for steel pipe at low pressure, never a design: the
formula fits neither flexible tubing, which goes by its maker's tables, nor a
2 psi system. The local code and a licensed contractor decide. The words are in
``texts/*/gasline.ftl``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from survey_app.errors import SurveyError
from survey_app.texts import ENGLISH, Texts

__all__ = [
    "AS_THE_SHARED",
    "SCHEDULE_40",
    "TANKLESS_BTU_PER_H",
    "USUAL_BTU_PER_FT3",
    "Gas",
    "GasLineVerdict",
    "PipeMaterial",
    "Section",
    "UnusableGasLine",
    "Verdict",
    "bore_needed_in",
    "capacity_cfh",
    "check_gas_line",
    "smallest_pipe",
]

_FLOW_POWER, _DROP_POWER, _CONSTANT = 0.381, 0.206, 19.17
DROP_IN_WC = 0.5
"""Drop of pressure allowed unless told otherwise, inches of water column; some places ask for 0.3."""
TANKLESS_BTU_PER_H = (150_000.0, 199_000.0)
"""Input of whole-house tankless heaters (California standards manual, 2013 to 2022, 5.2.1: 140,000 to 200,000)."""
_TIGHT = 0.9
"""Above this share of what the pipe carries there is no room for elbows or for a later appliance: our choice."""
_MOST_BTU, _MOST_FEET = 2_000_000.0, 1_000.0
AS_THE_SHARED = "as the shared pipe"
"""Said of a heater's own pipe that is as wide as the shared one."""

SCHEDULE_40: Mapping[str, float] = {
    "1/2": 0.622,
    "3/4": 0.824,
    "1": 1.049,
    "1 1/4": 1.380,
    "1 1/2": 1.610,
    "2": 2.067,
}
"""Inside width in inches of schedule-40 steel pipe by its name (IFGC 2018 Tables 402.4(3) to (7))."""


class Gas(StrEnum):
    """What the pipe carries."""

    NATURAL = "natural gas"
    PROPANE = "propane"

    @property
    def factor(self) -> float:
        """Cr of the formula (IRC 2018 Table G2413.4)."""
        return 0.6094 if self is Gas.NATURAL else 1.2462


USUAL_BTU_PER_FT3: Mapping[Gas, float] = {Gas.NATURAL: 1_000.0, Gas.PROPANE: 2_500.0}
"""Heat in a cubic foot; the utility knows its own. Natural gas: common practice, no source. Propane: from memory."""


class PipeMaterial(StrEnum):
    """What the pipe is made of: the formula with schedule-40 widths holds for steel alone."""

    STEEL = "steel"
    OTHER = "other"
    UNKNOWN = "not sure"


class Verdict(StrEnum):
    """What a first look says of the pipe."""

    PLAUSIBLE = "plausible"
    NEW_LINE = "needs a new line"
    CANNOT_SAY = "cannot say"


class UnusableGasLine(SurveyError, ValueError):
    """Figures that cannot be true; the message names each and the remedy, as does ``problems``."""

    def __init__(self, problems: Iterable[str]) -> None:
        self.problems = tuple(problems)
        super().__init__(" ".join(self.problems))


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One part of the pipe by its own load.

    Parameters
    ----------
    pipe
        What is there, a key of :data:`SCHEDULE_40`; None where nobody knows.
    load_cfh
        What flows through it, cubic feet of gas an hour.
    capacity_cfh
        What it carries; None without pipe or length, or for pipe that is not steel.
    needed_pipe
        The smallest schedule-40 size for its load; None without a length or where 2 inches are too small.
    """

    pipe: str | None
    load_cfh: float
    capacity_cfh: float | None
    needed_pipe: str | None

    @property
    def too_thin(self) -> bool:
        """Whether it carries less than flows through it."""
        return self.capacity_cfh is not None and self.capacity_cfh < self.load_cfh

    @property
    def tight(self) -> bool:
        """Whether it carries that with less than a tenth to spare."""
        return self.capacity_cfh is not None and self.load_cfh > _TIGHT * self.capacity_cfh


@dataclass(frozen=True, slots=True, kw_only=True)
class GasLineVerdict:
    """A first look at the gas pipe, for a tankless heater.

    Parameters
    ----------
    verdict
        What it comes to.
    tankless_btu_per_h
        Input of the tankless heater.
    load_btu_per_h
        Everything on the pipe together, the tankless heater included; of appliances whose input is not known nothing
        is counted, so that it is then a least value.
    length_ft
        From the meter (propane: the second regulator) to the farthest appliance; None where nobody knows.
    shared
        The section that feeds everything.
    branch
        The section that feeds the tankless heater alone.
    tight
        Plausible, but with less than a tenth to spare.
    missing
        What would settle it, each the end of a message ``gasline-missing-<key>``.
    """

    verdict: Verdict
    tankless_btu_per_h: float
    load_btu_per_h: float
    length_ft: float | None
    shared: Section
    branch: Section
    tight: bool = False
    missing: tuple[str, ...] = ()

    def sentences(self, say: Texts = ENGLISH) -> list[str]:
        """The verdict in words: what it is, why, what comes with it, and who decides in the end."""
        said = [say(f"gasline-verdict-{self.verdict.replace(' ', '-')}")]
        key = "gasline-load-at-least" if "appliance" in self.missing else "gasline-load"
        said.append(
            say(
                key,
                btu=say.number(self.load_btu_per_h),
                kw=say.number(self.load_btu_per_h / 3412.142, 1),
                cfh=say.number(self.shared.load_cfh),
            )
        )
        said += self._carries("gasline-carries", self.shared, say)
        said += self._carries("gasline-branch-carries", self.branch, say)
        if self.tight:
            said.append(say("gasline-tight"))
        said += [say(f"gasline-missing-{key}") for key in self.missing]
        if self.shared.needed_pipe and self.branch.needed_pipe and self.length_ft is not None:
            pipes = {"pipe": self.shared.needed_pipe, "branch": self.branch.needed_pipe}
            said.append(say("gasline-needed", **pipes, feet=say.number(self.length_ft)))
        elif self.length_ft is not None:
            said.append(say("gasline-needed-larger"))
        return [*said, *say.lines("gasline-always")]

    def _carries(self, message: str, section: Section, say: Texts) -> list[str]:
        if section.pipe is None or self.length_ft is None or section.capacity_cfh is None:
            return []
        figures = {
            "feet": say.number(self.length_ft),
            "meters": say.number(self.length_ft * 0.3048),
            "cfh": say.number(section.capacity_cfh),
            "load": say.number(section.load_cfh),
        }
        return [say(message, pipe=section.pipe, **figures)]


def capacity_cfh(bore_in: float, length_ft: float, drop_in_wc: float = DROP_IN_WC, gas: Gas = Gas.NATURAL) -> float:
    """What a pipe carries, in cubic feet of gas an hour (IFGC 402.4 Equation 4-1, solved for Q).

    Parameters
    ----------
    bore_in
        Inside width, inches.
    length_ft
        Length, feet.
    drop_in_wc
        Allowed drop of pressure, inches of water column.
    gas
        What it carries.

    Raises
    ------
    UnusableGasLine
        When a figure is not a number above zero.
    """
    _must_be_positive(bore=bore_in, length=length_ft, drop=drop_in_wc)
    per_foot = drop_in_wc / (gas.factor * length_ft)
    return float((_CONSTANT * bore_in * per_foot**_DROP_POWER) ** (1 / _FLOW_POWER))


def bore_needed_in(flow_cfh: float, length_ft: float, drop_in_wc: float = DROP_IN_WC, gas: Gas = Gas.NATURAL) -> float:
    """The inside width in inches that carries `flow_cfh` (IFGC 402.4 Equation 4-1).

    Raises
    ------
    UnusableGasLine
        When a figure is not a number above zero.
    """
    _must_be_positive(flow=flow_cfh, length=length_ft, drop=drop_in_wc)
    per_foot = drop_in_wc / (gas.factor * length_ft)
    return float(flow_cfh**_FLOW_POWER / (_CONSTANT * per_foot**_DROP_POWER))


def smallest_pipe(
    flow_cfh: float, length_ft: float, drop_in_wc: float = DROP_IN_WC, gas: Gas = Gas.NATURAL
) -> str | None:
    """The smallest size of :data:`SCHEDULE_40` that carries `flow_cfh`; None where none of them does."""
    bore = bore_needed_in(flow_cfh, length_ft, drop_in_wc, gas)
    return next((name for name, width in SCHEDULE_40.items() if width >= bore), None)


def check_gas_line(
    appliances: Iterable[tuple[str, float | None]],
    pipe: str | None,
    length_ft: float | None,
    *,
    branch_pipe: str | None = AS_THE_SHARED,
    tankless_btu_per_h: float = TANKLESS_BTU_PER_H[1],
    material: PipeMaterial = PipeMaterial.STEEL,
    gas: Gas = Gas.NATURAL,
    drop_in_wc: float = DROP_IN_WC,
    btu_per_ft3: float | None = None,
    say: Texts = ENGLISH,
) -> GasLineVerdict:
    """A first look at whether the pipe that is there could feed a tankless heater beside everything else on it.

    Each section is set against its own load over the whole length, as the codes'
    longest-length method does. Where other appliances branch off on the way, the
    shared pipe behind them carries less than is counted here: an answer on the
    safe side.

    Parameters
    ----------
    appliances
        What else burns gas on the same pipe: its name and its input in Btu an hour, None where nobody knows. The old
        water heater does not count, since it goes.
    pipe
        The narrowest pipe that feeds everything, a key of :data:`SCHEDULE_40`; None where nobody knows.
    length_ft
        Length in feet from the meter (propane: from the second regulator) to the farthest appliance; None where nobody
        knows.
    branch_pipe
        The narrowest pipe that feeds the heater alone, or :data:`AS_THE_SHARED`; None where nobody knows.
    tankless_btu_per_h
        Input of the tankless heater.
    material
        What the pipe is made of.
    gas, drop_in_wc, btu_per_ft3
        The gas, the allowed drop in inches of water column, and its heat, :data:`USUAL_BTU_PER_FT3` unless given.
    say
        The language of errors.

    Raises
    ------
    UnusableGasLine
        When figures cannot be true, with one sentence for each.
    """
    listed = list(appliances)
    heat = USUAL_BTU_PER_FT3[gas] if btu_per_ft3 is None else btu_per_ft3
    branch = pipe if branch_pipe == AS_THE_SHARED else branch_pipe
    problems = _problems(listed, (pipe, branch), length_ft, tankless_btu_per_h, drop_in_wc, heat, say)
    if problems:
        raise UnusableGasLine(problems)
    load = tankless_btu_per_h + sum(btu for _, btu in listed if btu is not None)
    missing = [
        key
        for key, lacks in (
            ("pipe", pipe is None),
            ("branch", branch is None and branch_pipe != AS_THE_SHARED),
            ("length", length_ft is None),
            ("material", material is PipeMaterial.UNKNOWN),
            ("other-pipe", material is PipeMaterial.OTHER),
            ("appliance", any(btu is None for _, btu in listed)),
        )
        if lacks
    ]

    def section(there: str | None, flow: float) -> Section:
        carries = needed = None
        if length_ft is not None:
            needed = smallest_pipe(flow, length_ft, drop_in_wc, gas)
            if there is not None and material is PipeMaterial.STEEL:
                carries = capacity_cfh(SCHEDULE_40[there], length_ft, drop_in_wc, gas)
        return Section(pipe=there, load_cfh=flow, capacity_cfh=carries, needed_pipe=needed)

    shared, own = section(pipe, load / heat), section(branch, tankless_btu_per_h / heat)
    # Too small for what is known is too small for all of it, whatever else is missing.
    if shared.too_thin or own.too_thin:
        verdict = Verdict.NEW_LINE
    else:
        verdict = Verdict.CANNOT_SAY if missing else Verdict.PLAUSIBLE
    return GasLineVerdict(
        verdict=verdict,
        tankless_btu_per_h=tankless_btu_per_h,
        load_btu_per_h=load,
        length_ft=length_ft,
        shared=shared,
        branch=own,
        tight=verdict is Verdict.PLAUSIBLE and (shared.tight or own.tight),
        missing=tuple(missing),
    )


def _problems(
    appliances: list[tuple[str, float | None]],
    pipes: tuple[str | None, ...],
    length_ft: float | None,
    tankless: float,
    drop: float,
    heat: float,
    say: Texts,
) -> list[str]:
    found = []
    for name, btu in appliances:
        if btu is not None and not 0 < btu <= _MOST_BTU:
            found.append(say("gasline-bad-appliance", name=name, most=say.number(_MOST_BTU)))
    if not 0 < tankless <= _MOST_BTU:
        found.append(say("gasline-bad-tankless", most=say.number(_MOST_BTU)))
    for pipe in dict.fromkeys(pipes):
        if pipe is not None and pipe not in SCHEDULE_40:
            found.append(say("gasline-bad-pipe", pipe=str(pipe), sizes=", ".join(SCHEDULE_40)))
    if length_ft is not None and not 0 < length_ft <= _MOST_FEET:
        found.append(say("gasline-bad-length", most=say.number(_MOST_FEET)))
    if not 0 < drop <= 10:
        found.append(say("gasline-bad-drop"))
    if not 100 <= heat <= 4_000:
        found.append(say("gasline-bad-heat"))
    return found


def _must_be_positive(**figures: float) -> None:
    bad = [name for name, value in figures.items() if not (math.isfinite(value) and value > 0)]
    if bad:
        raise UnusableGasLine(ENGLISH("gasline-bad-figure", name=name) for name in bad)
