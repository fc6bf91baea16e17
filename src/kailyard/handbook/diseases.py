"""Diseases as scouting and weather need them: what favours each, where it shows first, which rule tells its risk."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, partial
from types import MappingProxyType

from kailyard.errors import DataError
from kailyard.handbook.troubles import FOLDER, CropWords, troubles
from kailyard.handbook.whole_tables import read_table

_rows_of = partial(read_table, FOLDER)


@dataclass(frozen=True, slots=True)
class Disease:
    """One row of the table of diseases. Every figure keeps the mark of its own column."""

    id: str
    name: str
    pathogen: str
    pathogen_type: str
    hosts: str
    temp_min_c: float | None
    temp_best_low_c: float | None
    temp_best_high_c: float | None
    temp_max_c: float | None
    temp_status: str
    """Of the best range; the single cells beyond it are often recalled."""
    moisture_need: str
    first_seen_where: str
    survives_in: str
    away_years_low: float | None
    """Years without a host that the ground needs."""
    away_years_high: float | None
    away_status: str
    away_source: str
    seedborne: str
    spread: str
    cultural_controls: str
    resistance_available: str
    resistance_code: str
    code_status: str
    yield_effect: str
    facts_status: str
    facts_source: str


@dataclass(frozen=True, slots=True)
class RiskModel:
    """A published rule of weather, and what it speaks of."""

    id: str
    """As in `science.disease_days.DISEASE_DAYS` or `troubles.soil_days.SOIL_DAYS`."""
    name: str
    troubles: tuple[str, ...]
    crops: tuple[str, ...]
    """Words of the lists of hosts."""
    level: float
    """Value from which the rule says that the weather favours it."""
    crop_levels: Mapping[str, float]
    """Another level for one crop, by a word of the lists of hosts: potato acts at a smaller sum."""
    level_after: float | None
    """Level of the sum that begins once something was done about it; None where the paper has no such sum."""
    sums: bool
    """True where the level is reached by a sum over days."""
    begins: str
    """'after picking': the sum begins when this year's picking is over, as the fern of asparagus does; '' else."""
    only_found: bool
    """Told only where it was found in the garden before."""
    needs_hours: bool
    """It asks for long damp spells, which made hours do not hold: told on observed and forecast hours only."""
    says: str
    """What it means that the level is reached, with '{level}' where it stands."""
    status: str
    source: str
    note: str


_DISEASE_COLUMNS = tuple(Disease.__dataclass_fields__)
_MODELS = "risk_models.csv"
_NUMBERS = ("temp_min_c", "temp_best_low_c", "temp_best_high_c", "temp_max_c", "away_years_low", "away_years_high")
_MODEL_COLUMNS = (
    *("id", "name", "troubles", "crops", "level", "crop_levels", "level_after", "sums", "begins", "only_found"),
    "needs_hours",
    *("says", "status", "source", "note"),
)


def number(file: str, cell: str) -> float | None:
    """A cell as a number; None where it is empty, DataError where it is none."""
    if not cell:
        return None
    try:
        return float(cell)
    except ValueError:
        raise DataError(
            f"troubles/{file}: '{cell}' is no number. Leave the cell empty where nothing is known."
        ) from None


def words(cell: str) -> tuple[str, ...]:
    """Words of a cell, parted by ';'."""
    return tuple(part.strip() for part in cell.split(";") if part.strip())


@cache
def diseases() -> Mapping[str, Disease]:
    """Every disease by its id, which is that of a trouble."""
    found: dict[str, Disease] = {}
    for cells in _rows_of("diseases.csv", _DISEASE_COLUMNS):
        row = dict(zip(_DISEASE_COLUMNS, cells, strict=True))
        figures = {column: number("diseases.csv", row.pop(column)) for column in _NUMBERS}
        found[row["id"]] = Disease(**row, **figures)  # type: ignore[arg-type]  # columns and fields are the same names
    _known("diseases.csv", found)
    return MappingProxyType(found)


@cache
def risk_models() -> Mapping[str, RiskModel]:
    """Every rule of weather that speaks of a garden crop, by its id."""
    found: dict[str, RiskModel] = {}
    for cells in _rows_of(_MODELS, _MODEL_COLUMNS):
        row = dict(zip(_MODEL_COLUMNS, cells, strict=True))
        at = number(_MODELS, row["level"])
        if at is None:
            raise DataError(f"troubles/{_MODELS}: {row['id']} has no level.")
        levels = {
            crop: number(_MODELS, level) for crop, _, level in (w.partition("=") for w in words(row["crop_levels"]))
        }
        found[row["id"]] = RiskModel(
            id=row["id"],
            name=row["name"],
            troubles=words(row["troubles"]),
            crops=words(row["crops"]),
            level=at,
            crop_levels=MappingProxyType({crop: level for crop, level in levels.items() if level is not None}),
            level_after=number(_MODELS, row["level_after"]),
            sums=row["sums"] == "yes",
            begins=row["begins"],
            only_found=row["only_found"] == "yes",
            needs_hours=row["needs_hours"] == "yes",
            says=row["says"],
            status=row["status"],
            source=row["source"],
            note=row["note"],
        )
    _known("risk_models.csv", [each for model in found.values() for each in model.troubles])
    return MappingProxyType(found)


def speaks_of(model: RiskModel, crop: CropWords) -> bool:
    """Whether a rule was made for a crop."""
    return any(word in crop.words for word in model.crops)


def _known(file: str, ids: Mapping[str, object] | list[str]) -> None:
    strange = sorted(set(ids) - set(troubles()))
    if strange:
        raise DataError(f"troubles/{file}: no trouble is called {', '.join(strange)}.")
