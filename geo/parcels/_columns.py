"""Which column is the address? Counties name them in a hundred ways."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

import pandas as pd

from geo.parcels._crs import UnusableParcelFile

__all__ = ["clean_text", "find_columns", "years"]

# Names as counties give them, best first, compared without case, spaces and underscores
# (common practice, no source); shapefiles cut names to ten characters, so prefixes of ten count.
_NAMES: Mapping[str, Sequence[str]] = {
    "id": [
        "parcel_id",
        "parcelid",
        "parcel_no",
        "parcelno",
        "parcel_num",
        "parcel_number",
        "parcelnumber",
        "parcelnumb",
        "apn",
        "pin",
        "pid",
        "parcel",
        "parcelnb",
        "par_id",
        "tax_id",
        "taxid",
        "taxparcel",
        "tax_parcel",
        "tax_parcel_id",
        "account",
        "accountno",
        "account_no",
        "geo_id",
        "geoid",
        "prop_id",
        "propertyid",
        "property_id",
        "folio",
        "strap",
        "orig_parcel",
        "orig_parcel_id",
        "orig_parce",
        "parcel_id_",
        "parcel_id_nr",
        "gis_id",
        "id",
    ],
    "address": [
        "situs_address",
        "situsaddress",
        "situs_addr",
        "situsaddr",
        "site_address",
        "siteaddress",
        "site_addr",
        "siteaddr",
        "situs",
        "full_address",
        "fulladdress",
        "full_addr",
        "property_address",
        "propertyaddress",
        "prop_addr",
        "propaddr",
        "prop_address",
        "physical_address",
        "phys_addr",
        "location_address",
        "loc_addr",
        "street_address",
        "streetaddress",
        "address",
        "addr",
        "addr1",
        "address1",
        "location",
        "situs_full",
        "situs_line_1",
        "sitestreet",
    ],
    "built": [
        "built_year",
        "builtyear",
        "year_built",
        "yearbuilt",
        "yr_built",
        "yrbuilt",
        "yrblt",
        "yr_blt",
        "yearblt",
        "act_yr_blt",
        "actyrblt",
        "yearbuilt1",
        "year_blt",
        "built",
        "actual_year_built",
        "resyrblt",
        "res_yr_blt",
        "eff_yr_blt",
        "construction_year",
    ],
    "phase": [
        "phase",
        "phase_id",
        "phaseid",
        "phase_no",
        "building_phase",
        "subdivision",
        "subdiv",
        "subdivname",
        "subname",
        "sub_name",
        "subdivision_name",
        "plat",
        "plat_name",
        "platname",
        "tract_name",
        "filing",
    ],
    "land_use": [
        "land_use",
        "landuse",
        "landuse_cd",
        "land_use_cd",
        "land_use_code",
        "landusecode",
        "lu_code",
        "lucode",
        "use_code",
        "usecode",
        "use_cd",
        "prop_class",
        "propclass",
        "property_class",
        "class_cd",
        "dor_uc",
        "usedesc",
        "use_desc",
        "land_use_desc",
        "property_type",
    ],
    "units": [
        "units",
        "num_units",
        "numunits",
        "no_units",
        "unit_count",
        "unitcount",
        "res_units",
        "living_units",
        "dwelling_units",
        "du",
        "nunits",
        "unit",
        "unit_no",
        "unitno",
        "unit_number",
    ],
    "lon": ["longitude", "lon", "long", "lng", "x_coord", "xcoord", "x", "longitude_x", "point_x", "centroid_x"],
    "lat": ["latitude", "lat", "y_coord", "ycoord", "y", "latitude_y", "point_y", "centroid_y"],
}
_OPTIONS = {
    "id": "--id",
    "address": "--address",
    "built": "--built",
    "phase": "--phase",
    "land_use": "--land-use",
    "units": "--units",
}


def find_columns(columns: Sequence[str], given: Mapping[str, str | None], path: str) -> dict[str, str]:
    """Role -> column of the file, for the roles that were given or can be guessed.

    Raises
    ------
    UnusableParcelFile
        A named column is not there, or no column looks like an address; the file's columns are listed.
    """
    listed = ", ".join(columns)
    problems: list[str] = []
    used: dict[str, str] = {}
    folded = {_fold(c): c for c in reversed(columns)}
    for role, names in _NAMES.items():
        wanted = given.get(role)
        if wanted is not None:
            column = folded.get(_fold(wanted))
            if column is None:
                problems.append(f"there is no column '{wanted}'")
            else:
                used[role] = column
            continue
        for name in names:
            column = folded.get(_fold(name)) or folded.get(_fold(name)[:10])
            if column is not None and column not in used.values():
                used[role] = column
                break
    if "address" not in used and not problems:
        problems.append("no column looks like a street address; name it with --address COLUMN")
    if problems:
        raise UnusableParcelFile(f"{path}: {'; '.join(problems)}. The file's columns are: {listed}.")
    return used


def _fold(name: str) -> str:
    return re.sub(r"[^a-z0-9]", "", name.lower())


def clean_text(column: pd.Series) -> pd.Series:
    """Text with one space between words; missing values as an empty string; 12.0 as 12."""

    def one(value: object) -> str:
        if value is None or value is pd.NA or (isinstance(value, float) and value != value):
            return ""
        if isinstance(value, float) and value.is_integer():
            return str(int(value))
        text = re.sub(r"\s+", " ", str(value)).strip()
        return "" if text.lower() in ("nan", "none", "null", "<null>", "<na>", "nat") else text

    return pd.Series([one(v) for v in column.tolist()], index=column.index, dtype=object)


def years(column: pd.Series) -> pd.Series:
    """Whole years as nullable integers; anything outside 1600 to 2200, and 0, is missing."""
    digits = clean_text(column).str.extract(r"^(\d{4})\b")[0]
    number = pd.to_numeric(digits, errors="coerce")
    return number.where(number.between(1600, 2200)).astype("Int64")
