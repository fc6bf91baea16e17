"""What all forms of NOAA's GHCN-Daily share: elements, tenths, the mark for missing, quality flags.

As published in section III of NOAA's readme for GHCN-Daily (NCEI); the words for the flags are ours, from memory.
"""

from __future__ import annotations

from kailyard.errors import DataError
from kailyard.weather.files import shown
from kailyard.weather.options import ReadOptions

ELEMENTS = {"TMIN": "tmin", "TMAX": "tmax", "PRCP": "rain"}
"""Temperatures in tenths of °C, rain in tenths of mm."""
MISSING = -9999

_FLAGS = {
    "D": "duplicate of another stretch",
    "G": "gap in the distribution",
    "I": "contradicts another value",
    "K": "same value too long",
    "L": "part of a total over several days",
    "M": "far beyond what is known",
    "N": "zero where it cannot be",
    "O": "outlier for the place and season",
    "R": "range against the day before or after",
    "S": "out of line with neighbours",
    "T": "jump in time",
    "W": "too warm for snow",
    "X": "bounds",
    "Z": "found wrong by hand",
}


def flag_rule(flag: str) -> str:
    """The rule's name for a value whose quality flag is not blank."""
    words = _FLAGS.get(flag)
    return f"quality flag {shown(flag, 3)}" + (f": {words}" if words else "")


def one_station(stations: set[str], file: str, options: ReadOptions) -> str:
    """The station to read.

    Raises
    ------
    DataError
        If the file has several and none is named, or the named one is not there.
    """
    names = ", ".join(shown(s, 12) for s in sorted(stations)[:5]) + (", …" if len(stations) > 5 else "")
    if options.station:
        if options.station not in stations:
            raise DataError(f"{file}: no station '{shown(options.station, 12)}'. Stations found: {names or 'none'}.")
        return options.station
    if len(stations) != 1:
        raise DataError(f"{file}: {len(stations)} stations where one is wanted: {names or 'none'}. Say which to read.")
    return next(iter(stations))


def source_words(station: str, file: str, options: ReadOptions) -> str:
    """What the record is, in words."""
    return options.source or f"GHCN-Daily station {shown(station, 12)}, file {file}"
