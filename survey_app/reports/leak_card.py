"""The card for a leak: one self-contained page to print and hang beside the heater.

It asks the network for nothing: no script, no image, no font, and a
Content-Security-Policy that allows its one style sheet by its SHA-256 and
nothing else (W3C, Content Security Policy Level 3).
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping, Sequence
from html import escape

from geo.addresses import readable
from survey_app.advice.cautions import cautions
from survey_app.advice.leaking import Energy, LeakStep, calls, leak_steps
from survey_app.intake import question
from survey_app.records import HeaterKind, Place, Tri
from survey_app.standing import Standing
from survey_app.texts import ENGLISH, Texts

__all__ = ["leak_card_html"]

_LITERS_PER_GALLON = 3.785411784  # NIST Special Publication 811 (2008), Appendix B.8: US gallon
_STYLE = """
@page { size: letter; margin: 10mm; }
* { box-sizing: border-box; }
body { font: 18px/1.4 "DejaVu Sans", Verdana, Arial, sans-serif; color: #1f2a33; background: #fff; margin: 0 auto;
  padding: 1rem; max-width: 50rem; }
h1 { font-size: 1.9rem; line-height: 1.15; margin: 0 0 .4rem; }
h2 { font-size: 1.25rem; line-height: 1.2; margin: 1.1rem 0 .3rem; }
h3 { font-size: 1rem; margin: .4rem 0 .1rem; }
p { margin: .2rem 0; }
ul, ol { margin: .1rem 0; padding-left: 1.3rem; list-style: disc; }
.steps { list-style: none; padding: 0; }
.steps > li { border-top: 2px solid #1d4865; padding: .4rem 0; break-inside: avoid; }
.steps label { display: flex; gap: .6rem; align-items: center; font-weight: bold; font-size: 1.12rem;
  min-height: 2.75rem; }
input { width: 1.6rem; height: 1.6rem; flex: none; margin: 0; }
.steps > li.safe { border: 4px solid #7a1420; background: #fff4f2; padding: .5rem .8rem; border-radius: .4rem; }
.kinds { display: flex; flex-wrap: wrap; gap: .3rem 1rem; }
.kinds > div { flex: 1 1 14rem; }
.synthetic { border: 2px dashed #6b400a; background: #fff7e6; padding: .3rem .6rem; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .25rem .4rem; border-bottom: 1px solid #6b7884;
  overflow-wrap: anywhere; }
th { font-weight: normal; width: 45%; }
td { font-weight: bold; }
.open { height: 1.9rem; }
section { break-inside: avoid; }
@media print {
  body { font-size: 9.4pt; line-height: 1.17; padding: 0; max-width: none; }
  h1 { font-size: 18pt; margin: 0 0 1mm; } h2 { font-size: 11.5pt; margin: 1.6mm 0 .4mm; } h3 { font-size: 9.6pt; }
  p, ul, ol { margin: 0; }
  ul { padding-left: 5mm; }
  .steps label { font-size: 10.8pt; min-height: 0; gap: 2mm; } input { width: 4.5mm; height: 4.5mm; }
  .steps > li { padding: .8mm 0; } .steps > li.safe { padding: 1mm 2mm; }
  .kinds { gap: 0 4mm; } .kinds > div { flex: 1 1 30%; }
  .back { columns: 2; column-gap: 7mm; break-before: page; }
  .back h2:first-child { margin-top: 0; } .back th { width: 62%; } .back { font-size: 9.1pt; }
  .back .steps > li { border: 0; padding: .3mm 0; } .back .steps label { font-size: 9.4pt; font-weight: normal; }
  .open { height: 6mm; } th, td { padding: .3mm 1mm; }
}
"""


def leak_card_html(
    standing: Standing | None,
    say: Texts = ENGLISH,
    contacts: Mapping[str, str] | None = None,
    *,
    synthetic: bool = False,
) -> str:
    """The card as one HTML page.

    Parameters
    ----------
    standing
        The home's own data; None leaves blanks to fill in by hand.
    say
        The language.
    contacts
        Numbers the community knows, by the names of :data:`survey_app.advice.leaking.CONTACTS`.
    synthetic
        Whether the home is invented, which the card then says.

    Returns
    -------
    str
        A complete page: every text escaped, no script, no address of another server.
    """
    digest = base64.b64encode(hashlib.sha256(_STYLE.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action 'none'"
    title = _text(say("leaking-card-title"))
    steps = "".join(_step(step, say) for step in leak_steps(say))
    made = f"<p>{_text(say('leaking-card-made', day=say.day(standing.as_of)))}</p>" if standing else ""
    return (
        f'<!DOCTYPE html>\n<html lang="{_text(say.language)}">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n<link rel="icon" href="data:,">\n'
        f"<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n"
        + (f'<p class="synthetic">{_text(say("record-synthetic"))}</p>\n' if synthetic else "")
        + f"<h1>{title}</h1>\n"
        f'<ol class="steps">{steps}</ol>\n'
        f'<div class="back">{_calls(say, contacts)}'
        f"{_section(say('leaking-not-head'), _list(say.lines('leaking-not')))}"
        f"{_home(standing, say)}"
        f"{_section(say('leaking-find-head'), _list(say.lines('leaking-find')))}"
        f"{_photographs(say)}"
        f"{_section(say('leaking-card-cautions'), _list(cautions(say)))}"
        f"{made}</div></main>\n</body>\n</html>\n"
    )


def _step(step: LeakStep, say: Texts) -> str:
    kinds = "".join(
        f"<div><h3>{_text(say(f'leaking-{energy}'))}</h3>{_list(step.variants[energy])}</div>"
        for energy in Energy
        if energy in step.variants
    )
    return (
        f"<li{' class=safe' if step.key == 'safe' else ''}>"
        f'<label><input type="checkbox"> {step.number}. {_text(step.title)}</label>'
        f"{_list(step.lines)}" + (f'<div class="kinds">{kinds}</div>' if kinds else "") + "</li>\n"
    )


def _calls(say: Texts, contacts: Mapping[str, str] | None) -> str:
    rows = [(f"{call.who}: {call.why}", call.number) for call in calls(say, contacts)]
    return _section(say("leaking-calls-head"), _table([*rows, (say("leaking-card-policy"), "")]))


def _home(standing: Standing | None, say: Texts) -> str:
    heater = standing.heater if standing else None
    kind = heater.kind if heater and heater.kind is not HeaterKind.UNKNOWN else None
    place = heater.place if heater and heater.place not in (Place.UNKNOWN, Place.OTHER) else None
    shutoff = heater.auto_shutoff if heater and heater.auto_shutoff is not Tri.UNKNOWN else None
    size = ""
    if heater and heater.tank_gallons:
        liters = say.number(heater.tank_gallons * _LITERS_PER_GALLON)
        size = say("record-size-gallons", gallons=f"{heater.tank_gallons:g}", liters=liters)
    ends = standing.warranty_end if standing and not standing.warranty_assumed else None
    ended = bool(ends and standing and ends.best < standing.as_of)
    rows = [
        (say("record-address"), readable(standing.home.address) if standing else ""),
        (say("record-kind"), say(f"kind-{_slug(kind)}") if kind else ""),
        (say("record-size"), size),
        (say("leaking-card-age"), _age(standing, say)),
        (say("record-place"), say(f"place-{_slug(place)}") if place else ""),
        (question("auto_shutoff").short(say), say(f"tri-{_slug(shutoff)}") if shutoff else ""),
        (
            say("leaking-card-warranty-ended" if ended else "leaking-card-warranty-end"),
            say("leaking-card-about", when=say.month(ends.best)) if ends else "",
        ),
        (say("leaking-card-cold-valve"), ""),
        (say("leaking-card-main"), ""),
        (say("leaking-card-breaker"), ""),
    ]
    return _section(say("leaking-card-home"), f"<p>{_text(say('leaking-card-blank'))}</p>{_table(rows)}")


def _age(standing: Standing | None, say: Texts) -> str:
    if standing is None or standing.age_years is None:
        return ""
    low, best, high = (round(years) for years in standing.age_years)
    day = say.day(standing.as_of)
    if high - low >= 2:
        return say("leaking-card-age-between", low=low, high=high, day=day)
    return say("leaking-card-age-years", best=str(best), count=best, day=day)


def _photographs(say: Texts) -> str:
    rows = "".join(
        f'<li><label><input type="checkbox"> <span>{_text(line)}</span></label></li>'
        for line in say.lines("leaking-photos")
    )
    ticks = f'<ul class="steps">{rows}</ul>'
    return _section(say("leaking-photos-head"), f"{ticks}<p>{_text(say('leaking-insurer'))}</p>")


def _section(head: str, body: str) -> str:
    return f"<section><h2>{_text(head)}</h2>{body}</section>\n"


def _list(lines: Sequence[str]) -> str:
    return "<ul>" + "".join(f"<li>{_text(line)}</li>" for line in lines) + "</ul>" if lines else ""


def _table(rows: Sequence[tuple[str, str]]) -> str:
    cells = "".join(
        f'<tr><th scope="row">{_text(head)}</th><td{"" if value else " class=open"}>{_text(value)}</td></tr>'
        for head, value in rows
    )
    return f"<table>{cells}</table>"


def _slug(word: str) -> str:
    return word.replace(" ", "-")


def _text(text: str) -> str:
    """Escaped for an element or a quoted attribute; what UTF-8 cannot carry becomes a question mark."""
    return escape(text.encode("utf-8", "replace").decode("utf-8"), quote=True)
