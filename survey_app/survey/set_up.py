"""`SetUp`: the community's name, its settings, its parcels and streets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from geo.parcels import ParcelFile
from survey_app.access import Action
from survey_app.joins import homes_on_parcels
from survey_app.records import Home, Parcel
from survey_app.settings import Settings, values_of, write_settings
from survey_app.store import JoinCandidate
from survey_app.survey.answers import address_book_changed
from survey_app.survey.context import Context
from survey_app.survey.handed_back import HomesWouldGo, LoadReport
from survey_app.survey.rereading import reread
from survey_app.survey.sheets import PRINTED

__all__ = ["SetUp"]


class SetUp:
    """What a survey begins with and is changed by now and then, for the volunteer. Refused to everybody else."""

    def __init__(self, context: Context) -> None:
        context.require(Action.SET_UP)
        self._context = context

    def name_community(self, name: str, *, synthetic: bool, open_doors: bool = False) -> None:
        """Name the community and say whether it is invented."""
        with self._context.write("name the community") as write:
            write.set_community(name=name, synthetic=synthetic, open_doors=open_doors and synthetic)

    def change_settings(self, settings: Settings) -> None:
        """Store new settings; each change is in the change log with the value before."""
        before, after = values_of(self._context.settings()), values_of(settings)
        with self._context.write("change settings") as write:
            write.set_community(settings=write_settings(settings))
            for name, value in after.items():
                if before[name] != value:
                    write.log("setting", name, before[name], value)

    def load_parcels(
        self, file: ParcelFile, *, home_uses: frozenset[str] | None = None, drop_missing: bool = False
    ) -> LoadReport:
        """Store parcels and the homes on them; homes that something is on file for are never dropped.

        Raises
        ------
        HomesWouldGo
            When other homes of the survey are not in the file and `drop_missing` does not say that they go.
        """
        phases, parcels, homes = homes_on_parcels(file, home_uses=home_uses)
        with self._context.write("load parcels") as write:
            answered = write.homes_with_history()
            known = {h.home_id: h for h in write.homes()}
            parcels_before = {p.parcel_id for p in write.parcels()}
            nothing_printed = self._nothing_printed()
            gone = set(known) - {h.home_id for h in homes}
            kept = sorted(gone & answered)
            if gone - answered and not drop_missing:
                raise HomesWouldGo(tuple(known[k].address for k in sorted(gone - answered)))
            write.set_community(local_epsg=file.local_epsg)
            write.put(phases)
            write.put(parcels)
            write.put([_with_facts(h, known.get(h.home_id)) for h in homes], over=known.values())
            # A heater may be as old as the house: what answers mean rests on the county's year, too.
            reread(write, {h.home_id for h in homes if h.home_id in answered and _another_year(h, known)})
            dropped = sorted(gone - answered)
            write.drop(JoinCandidate, "home_id", dropped)
            write.drop_access_codes(dropped)
            write.drop_sheets(known if nothing_printed else dropped)
            write.drop(Home, "home_id", dropped)
            still = {h.parcel_id for h in homes} | {known[k].parcel_id for k in kept}
            write.drop(Parcel, "parcel_id", sorted(parcels_before - {p.parcel_id for p in parcels} - still))
        address_book_changed(self._context)
        return LoadReport(
            parcels=len(parcels),
            homes=len(homes),
            phases=len(phases),
            repaired=file.repaired,
            refused=file.refused,
            assumed=file.assumed,
            kept_without_parcel=tuple(known[k].address for k in kept),
        )

    def load_streets(self, lines: Sequence[tuple[str, str, bytes]]) -> int:
        """Store street lines (name, kind, well-known binary in WGS 84) for the map's background."""
        with self._context.write("load streets") as write:
            # Nobody holds a number before letters are printed: the better way gives them anew.
            write.drop_sheets(write.sheets() if self._nothing_printed() else ())
            return write.put_streets(lines)

    def _nothing_printed(self) -> bool:
        """Whether no letter was ever made, so that nobody holds a sheet with a number."""
        with self._context.read() as records:
            return records.last_change(PRINTED) is None


def _with_facts(new: Home, old: Home | None) -> Home:
    """A reloaded home is the county's in what the county says, and keeps what its people told."""
    if old is None:
        return new
    return replace(
        old,
        parcel_id=new.parcel_id,
        address=new.address,
        street=new.street,
        phase_id=new.phase_id,
        built_year=new.built_year,
    )


def _another_year(new: Home, known: Mapping[str, Home]) -> bool:
    return new.home_id in known and known[new.home_id].built_year != new.built_year
