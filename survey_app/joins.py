"""Which home an answer belongs to: certain, for the volunteer to decide, or none.

The rule that nothing overrides: never silently the wrong house. What the address
match calls certain is joined; everything else waits with its candidates.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from numbers import Integral
from typing import TYPE_CHECKING

from geo.addresses import AddressBook, Candidate, Differs, Doubt, MatchStatus, parse
from survey_app.records import Home, Parcel, Phase

if TYPE_CHECKING:
    from geo.parcels import ParcelFile
    from survey_app.texts import Texts

__all__ = ["Join", "JoinState", "address_book", "homes_on_parcels", "join_all"]


class JoinState(StrEnum):
    """What became of an answer's address."""

    JOINED = "joined"
    DOUBTFUL = "doubtful"
    NO_HOME = "no such home"
    SECOND = "second answer"
    SET_ASIDE = "set aside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """An answer's address, decided or not. ``why`` is for the volunteers and kept with the answer, in English."""

    state: JoinState
    home_id: str | None
    why: str
    candidates: tuple[Candidate, ...] = ()
    doubt: Doubt | None = None
    differs: tuple[Differs, ...] = ()

    def why_waits(self, say: Texts) -> str:
        """Why a person has to look at the address, in one language.

        Raises
        ------
        ValueError
            When nobody has to: the address is joined.
        """
        if self.state is JoinState.SECOND:
            return say("waits-second")
        if self.doubt is None:
            raise ValueError("This answer's address waits for nobody: ask only for one that is not joined.")
        how = ", ".join(say(f"waits-how-{_name(one)}") for one in self.differs) or say("waits-how-writing")
        return say(f"waits-{_name(self.doubt)}", how=how)


def address_book(homes: Iterable[Home]) -> AddressBook:
    """The addresses of a community, ready to be matched."""
    return AddressBook([(home.home_id, home.address) for home in homes])


def join_all(book: AddressBook, typed: Sequence[str]) -> list[Join]:
    """The join of each typed address."""
    states = {
        MatchStatus.CERTAIN: JoinState.JOINED,
        MatchStatus.DOUBTFUL: JoinState.DOUBTFUL,
        MatchStatus.NONE: JoinState.NO_HOME,
    }
    return [
        Join(
            state=states[match.status],
            home_id=match.place_id if match.status is MatchStatus.CERTAIN else None,
            why=match.why,
            candidates=match.candidates,
            doubt=match.doubt,
            differs=match.differs,
        )
        for match in book.match_all(list(typed))
    ]


def homes_on_parcels(
    file: ParcelFile, *, home_uses: frozenset[str] | None = None
) -> tuple[list[Phase], list[Parcel], list[Home]]:
    """Phases, parcels and the homes that stand on them.

    A parcel without a house number holds no home: nobody can answer for it. Where
    `home_uses` is given, only parcels of these land uses hold homes.

    Returns
    -------
    tuple of lists
        Phases, parcels, homes; several homes share a parcel that lists units.
    """
    parcels: list[Parcel] = []
    homes: list[Home] = []
    years: dict[str, list[int]] = {}
    frame = file.parcels
    outlines = frame.geometry.to_wkb()
    for row, outline in zip(frame.itertuples(index=False), outlines, strict=True):
        built = int(row.built_year) if isinstance(row.built_year, Integral) else None
        phase = _text(row.phase)
        use = _text(row.land_use)
        parcels.append(
            Parcel(
                parcel_id=row.parcel_id,
                address=row.address,
                built_year=built,
                phase_id=phase,
                land_use=use,
                lon=float(row.lon),
                lat=float(row.lat),
                area_m2=float(row.area_m2),
                outline_wkb=outline,
            )
        )
        if phase is not None:
            years.setdefault(phase, [])
        if not row.has_number or (home_uses is not None and use not in home_uses):
            continue
        if phase is not None and built is not None:
            years[phase].append(built)
        for unit in row.units or ("",):
            typed = f"{row.address} Unit {unit}" if unit else row.address
            address = parse(typed)
            homes.append(
                Home(
                    home_id=f"{row.parcel_id}/{unit}" if unit else row.parcel_id,
                    parcel_id=row.parcel_id,
                    address=address.display(),
                    street=address.street(),
                    phase_id=phase,
                    built_year=built,
                )
            )
    phases = [
        Phase(phase_id=p, first_built_year=min(found, default=None), last_built_year=max(found, default=None))
        for p, found in sorted(years.items())
    ]
    return phases, parcels, homes


def _name(one: Doubt | Differs) -> str:
    return one.name.lower().replace("_", "-")


def _text(value: object) -> str | None:
    return value if isinstance(value, str) and value else None
