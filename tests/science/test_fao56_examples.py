"""Every row of the table of FAO-56 worked examples and annex tables, and the Fallon days, by this package's functions.

A row is met as printed within half its last digit (or the wider tolerance the table states, where the page itself
rounds in between), and in full precision to a millionth. Where the print is wrong the misprint is named here.
"""

import csv
import re
from collections import Counter
from datetime import date
from math import cos, radians, sin, sqrt
from pathlib import Path

import numpy as np
import pytest

from kailyard.science.air_moisture import day_deficit_kpa, relative_humidity_pct, vapour_pressure_deficit_kpa
from kailyard.science.evapotranspiration import (
    asce_reference_et_mm,
    fao_reference_et_mm,
    hargreaves_et_mm,
    penman_monteith_terms_mm,
    wind_at_2m_m_s,
)
from kailyard.science.hourly_evapotranspiration import fao_hourly_reference_et_mm
from kailyard.science.humidity import (
    atmospheric_pressure_kpa,
    mean_saturation_vapour_pressure_kpa,
    psychrometric_constant_kpa_c,
    saturation_slope_kpa_c,
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_dew_point_kpa,
    vapour_pressure_from_extremes_kpa,
    vapour_pressure_from_humidity_kpa,
    vapour_pressure_from_mean_humidity_kpa,
    vapour_pressure_from_wet_bulb_kpa,
)
from kailyard.science.net_radiation import (
    black_body_radiation_mj_m2,
    evaporation_equivalent_mm,
    hourly_net_longwave_mj_m2,
    hourly_soil_heat_mj_m2,
    monthly_soil_heat_mj_m2,
    monthly_soil_heat_so_far_mj_m2,
    net_longwave_mj_m2,
    net_shortwave_mj_m2,
)
from kailyard.science.radiation import (
    clear_sky_radiation_mj_m2,
    extraterrestrial_radiation_mj_m2,
    fao_sun,
    hourly_extraterrestrial_radiation_mj_m2,
    seasonal_correction_h,
    solar_time_angle_rad,
)
from kailyard.science.radiation_estimates import (
    radiation_from_sunshine_mj_m2,
    radiation_from_temperatures_mj_m2,
)
from kailyard.science.sun import fao_day_length_h

_mm = evaporation_equivalent_mm


def _rows(shared: Path) -> list[dict[str, str]]:
    with (shared / "reference/water/eto-examples.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _numbers(inputs: str) -> dict[str, float]:
    return {k: float(v) for k, v in re.findall(r"(\w+)=(-?[\d.]+)", inputs)}


def _simple(row: dict[str, str]) -> float | None:
    """Rows of Examples 1 to 10, 13, 14 and of the annex tables, which need one function each."""
    at, what, name = _numbers(row["inputs"]), row["quantity"], row["id"]
    month = {"month", "day"} <= set(at)
    if what.startswith(("e0(", "e0 at")) and "T_C" in at:
        return float(saturation_vapour_pressure_kpa(at["T_C"]))
    if what.startswith("slope Delta") and "T_C" in at and name.startswith("T2.4"):
        return float(saturation_slope_kpa_c(at["T_C"]))
    if what.startswith("sigma T^4") and name.startswith("T2.8"):
        return float(black_body_radiation_mj_m2(at["T_C"]))
    if what.startswith("sigma T") and set(at) == {"T_C"}:
        return float(black_body_radiation_mj_m2(at["T_C"]))
    if what.startswith("day number") and month:
        year = 2024 if "leap year" in row["inputs"] else 2026
        return date(year, int(at["month"]), int(at["day"])).timetuple().tm_yday
    if what.startswith("wind conversion factor"):
        return float(wind_at_2m_m_s(1, at["z_m"]))
    if what.startswith(("P at elevation", "atmospheric pressure")) or (what == "P" and name == "E04-a"):
        return float(atmospheric_pressure_kpa(at["z_m"]))
    if what.startswith(("gamma at elevation", "psychrometric constant")):
        return float(psychrometric_constant_kpa_c(atmospheric_pressure_kpa(at["z_m"])))
    if name.startswith(("T2.6", "RA-")):
        return float(extraterrestrial_radiation_mj_m2(at["lat_deg"], at["J"]))
    if name.startswith("T2.7"):
        return float(fao_day_length_h(at["lat_deg"], at["J"]))
    return None


def _first_ten(name: str) -> float | None:
    """Examples 1 to 10, 13 and 14."""
    rio, south = radians(-22.9), {"latitude_deg": -20, "day_of_year": 246}
    sun, day = fao_sun(**south), {"tmin_c": 18, "tmax_c": 25}
    damp = vapour_pressure_from_extremes_kpa(**day, humidity_max_pct=82, humidity_min_pct=54)
    Ra = extraterrestrial_radiation_mj_m2(-22.90, 135)
    N = fao_day_length_h(-22.90, 135)
    Rs = radiation_from_sunshine_mj_m2(Ra, sunshine_h=220 / 31, daylight_h=N)
    assert rio == pytest.approx(-0.39968, abs=1e-5)
    P = atmospheric_pressure_kpa(1200)
    chain = {
        "E01-a": _mm(0.8 * 15),
        "E03-c": mean_saturation_vapour_pressure_kpa(15, 24.5),
        "E04-b": saturation_vapour_pressure_kpa(19.5),
        "E04-c": vapour_pressure_from_wet_bulb_kpa(25.6, 19.5, pressure_kpa=P),
        "E05-c": damp,  # misprint of Example 5: the displayed line lacks its division by 2
        "E05-d": vapour_pressure_from_mean_humidity_kpa(**day, humidity_mean_pct=68),
        "E06-a": day_deficit_kpa(**day, vapour_pressure_kpa=damp),
        "E07-a": radians(13 + 44 / 60),
        "E07-b": radians(-(22 + 54 / 60)),
        "E08-b": sun.inverse_distance,
        "E08-c": sun.declination,
        "E08-d": sun.sunset_angle,
        "E08-e": sin(radians(-20)) * sin(sun.declination),
        "E08-f": cos(radians(-20)) * cos(sun.declination),
        "E08-g": extraterrestrial_radiation_mj_m2(**south),
        "E08-h": _mm(extraterrestrial_radiation_mj_m2(**south)),
        "E09-a": fao_day_length_h(-20, 246),
        "E10-a": Ra,
        "E10-b": N,
        "E10-c": 220 / 31,
        "E10-d": Rs,
        "E10-e": _mm(Rs),
        "E13-a": monthly_soil_heat_mj_m2(14.1, 18.8),
        "E13-b": _mm(monthly_soil_heat_mj_m2(14.1, 18.8)),
        "E14-b": wind_at_2m_m_s(3.2, 10),
    }
    return None if name not in chain else float(chain[name])


def _rio() -> dict[str, float]:
    """Examples 11 and 12 (the print has -22.70 for 22°54' S, 38.7 for 38.8, 'Eq 39' for Eq 38, 7.7 for 7.6)."""
    Ra = extraterrestrial_radiation_mj_m2(-22.90, 135)
    Rs = radiation_from_sunshine_mj_m2(Ra, sunshine_h=220 / 31, daylight_h=fao_day_length_h(-22.90, 135))
    Rso = 0.75 * Ra
    Rnl = net_longwave_mj_m2(19.1, 25.1, vapour_pressure_kpa=2.1, clear_share=Rs / Rso)
    Rns = net_shortwave_mj_m2(Rs)
    return {
        "E11-a": Rso,
        "E11-d": 0.34 - 0.14 * sqrt(2.1),
        "E11-e": Rs / Rso,
        "E11-f": 1.35 * Rs / Rso - 0.35,
        "E11-g": Rnl,
        "E11-h": _mm(Rnl),
        "E12-a": Rns,
        "E12-b": Rns - Rnl,
        "E12-c": _mm(Rns - Rnl),
    }


def _temperature_only() -> dict[str, float]:
    """Examples 15 and 16 (16 writes its latitude as -0.24 rad where +0.24 is used; its Rn line takes off 2.9)."""
    Lyon = extraterrestrial_radiation_mj_m2(45.7167, 196)
    Rs = radiation_from_temperatures_mj_m2(Lyon, tmin_c=14.8, tmax_c=26.6)
    Bangkok = extraterrestrial_radiation_mj_m2(13.7333, 105)
    coast = radiation_from_temperatures_mj_m2(Bangkok, tmin_c=25.6, tmax_c=34.8, adjustment=0.19)
    Rso = 0.75 * Bangkok  # the table's own; Eq 37 with 2 m gives the same to 0.002
    Rnl = net_longwave_mj_m2(25.6, 34.8, vapour_pressure_kpa=2.85, clear_share=coast / Rso)
    Rn = net_shortwave_mj_m2(coast) - Rnl
    return {
        "E15-a": Lyon,
        "E15-b": Rs,
        "E15-c": _mm(Rs),
        "E16-a": Bangkok,
        "E16-b": coast,
        "E16-c": Rso,
        "E16-d": net_shortwave_mj_m2(coast),
        "E16-g": 0.34 - 0.14 * sqrt(2.85),
        "E16-h": coast / Rso,
        "E16-i": 1.35 * coast / Rso - 0.35,
        "E16-j": Rnl,
        "E16-k": Rn,
        "E16-l": _mm(Rn),
    }


def _full_day(
    *, low: float, high: float, ea: float, u2: float, Rs: float, latitude: float, J: int, z: float, G: float = 0
) -> dict[str, float]:
    """Everything between weather and ETo of Examples 17, 18 and 20, by quantity."""
    P = float(atmospheric_pressure_kpa(z))
    gamma = float(psychrometric_constant_kpa_c(P))
    mean = (low + high) / 2
    slope = float(saturation_slope_kpa_c(mean))
    below = slope + gamma * (1 + 0.34 * u2)
    Ra = float(extraterrestrial_radiation_mj_m2(latitude, J))
    Rso = float(clear_sky_radiation_mj_m2(Ra, z))
    Rnl = float(net_longwave_mj_m2(low, high, vapour_pressure_kpa=ea, clear_share=Rs / Rso))
    Rn = float(net_shortwave_mj_m2(Rs)) - Rnl
    deficit = float(day_deficit_kpa(low, high, vapour_pressure_kpa=ea))
    terms = penman_monteith_terms_mm(
        mean, net_radiation_mj_m2=Rn, soil_heat_mj_m2=G, deficit_kpa=deficit, wind_2m_m_s=u2, pressure_kpa=P
    )
    eto = fao_reference_et_mm(
        low,
        high,
        vapour_pressure_kpa=ea,
        radiation_mj_m2=Rs,
        wind_2m_m_s=u2,
        latitude_deg=latitude,
        day_of_year=J,
        elevation_m=z,
        soil_heat_mj_m2=G,
    )
    assert eto == pytest.approx(terms.radiation_term + terms.wind_term, rel=1e-12)
    return {
        "Tmean": mean,
        "slope": slope,
        "P": P,
        "gamma": gamma,
        "wind factor": 1 + 0.34 * u2,
        "slope part": slope / below,
        "gamma part": gamma / below,
        "aero": 900 * u2 / (mean + 273),
        "e0max": saturation_vapour_pressure_kpa(high),
        "e0min": saturation_vapour_pressure_kpa(low),
        "es": mean_saturation_vapour_pressure_kpa(low, high),
        "ea": ea,
        "deficit": deficit,
        "Ra": Ra,
        "N": fao_day_length_h(latitude, J),
        "Rs": Rs,
        "Rso": Rso,
        "share": Rs / Rso,
        "Rns": net_shortwave_mj_m2(Rs),
        "sigma max": black_body_radiation_mj_m2(high),
        "sigma min": black_body_radiation_mj_m2(low),
        "vapour factor": 0.34 - 0.14 * sqrt(ea),
        "cloud factor": 1.35 * Rs / Rso - 0.35,
        "Rnl": Rnl,
        "Rn": Rn,
        "net mm": _mm(Rn - G),
        "radiation term": terms.radiation_term,
        "wind term": terms.wind_term,
        "ETo": eto,
    }


def _lettered(prefix: str, keys: str, values: dict[str, float]) -> dict[str, float]:
    pairs = (pair.split("=") for pair in keys.split(", "))
    return {f"{prefix}-{letter}": values[key] for letter, key in pairs}


def _bangkok() -> dict[str, float]:
    """Example 17 (the print has 0.0667 once for gamma; its 0.0674 is itself 0.06735)."""
    G = float(monthly_soil_heat_so_far_mj_m2(29.2, 30.2))
    Ra, N = extraterrestrial_radiation_mj_m2(13.7333, 105), fao_day_length_h(13.7333, 105)
    Rs = float(radiation_from_sunshine_mj_m2(Ra, sunshine_h=8.5, daylight_h=N))
    got = _full_day(low=25.6, high=34.8, ea=2.85, u2=2, Rs=Rs, latitude=13.7333, J=105, z=2, G=G)
    keys = (
        "a=Tmean, b=slope, c=P, d=gamma, e=wind factor, f=slope part, g=gamma part, h=aero, i=e0max, j=e0min, k=es, "
        "l=deficit, m=Ra, n=N, p=Rs, q=Rso, r=share, s=Rns, t=sigma max, u=sigma min, v=Rnl, w=Rn, y=net mm, "
        "z1=radiation term, z2=wind term, z3=ETo, z4=ETo"
    )
    return {**_lettered("E17", keys, got), "E17-o": 8.5 / N, "E17-x": G}


def _brussels() -> dict[str, float]:
    """Example 18 (the print lacks the division by 2 in its line for es, and writes 9.25/16.3 for 9.25/16.1)."""
    u2 = float(wind_at_2m_m_s(10 / 3.6, 10))
    ea = float(vapour_pressure_from_extremes_kpa(12.3, 21.5, humidity_max_pct=84, humidity_min_pct=63))
    Ra, N = extraterrestrial_radiation_mj_m2(50.8, 187), fao_day_length_h(50.8, 187)
    Rs = float(radiation_from_sunshine_mj_m2(Ra, sunshine_h=9.25, daylight_h=N))
    got = _full_day(low=12.3, high=21.5, ea=ea, u2=u2, Rs=Rs, latitude=50.8, J=187, z=100)
    keys = (
        "c=P, d=slope, e=gamma, f=wind factor, g=slope part, h=gamma part, i=aero, j=e0max, k=e0min, l=es, m=ea, "
        "n=deficit, o=Ra, p=N, r=Rs, s=Rso, t=share, u=Rns, v=sigma max, w=sigma min, x=vapour factor, "
        "y=cloud factor, z1=Rnl, z2=Rn, z3=net mm, z4=radiation term, z5=wind term, z6=ETo, z7=ETo"
    )
    return {**_lettered("E18", keys, got), "E18-a": 10 / 3.6, "E18-b": u2, "E18-q": 9.25 / N}


def _brussels_gone_wrong() -> dict[str, float]:
    """The traps of Example 18: mean humidity alone, wind left at 10 m, a leap year's day number, es from the mean."""
    u2 = float(wind_at_2m_m_s(10 / 3.6, 10))
    right = float(vapour_pressure_from_extremes_kpa(12.3, 21.5, humidity_max_pct=84, humidity_min_pct=63))
    damp = float(vapour_pressure_from_mean_humidity_kpa(12.3, 21.5, humidity_mean_pct=73.5))

    def day(J: int, ea: float, u2: float) -> dict[str, float]:
        Ra, N = extraterrestrial_radiation_mj_m2(50.8, J), fao_day_length_h(50.8, J)
        Rs = float(radiation_from_sunshine_mj_m2(Ra, sunshine_h=9.25, daylight_h=N))
        return _full_day(low=12.3, high=21.5, ea=ea, u2=u2, Rs=Rs, latitude=50.8, J=J, z=100)

    usual = day(187, right, u2)
    low_es = penman_monteith_terms_mm(
        usual["Tmean"],
        net_radiation_mj_m2=usual["Rn"],
        deficit_kpa=saturation_vapour_pressure_kpa(usual["Tmean"]) - right,
        wind_2m_m_s=u2,
        pressure_kpa=usual["P"],
    )
    return {
        "E18-T1": day(187, damp, u2)["ETo"],
        "E18-T2": day(187, right, 10 / 3.6)["ETo"],
        "E18-T3": day(188, right, u2)["ETo"],
        "E18-T4": low_es.radiation_term + low_es.wind_term,
    }


def _lyon() -> dict[str, float]:
    """Example 20: humidity, radiation and wind all missing."""
    ea = float(vapour_pressure_from_dew_point_kpa(14.8))
    Ra = extraterrestrial_radiation_mj_m2(45.7167, 196)
    Rs = float(radiation_from_temperatures_mj_m2(Ra, tmin_c=14.8, tmax_c=26.6))
    place = {"low": 14.8, "high": 26.6, "ea": ea, "Rs": Rs, "latitude": 45.7167, "J": 196, "z": 200}
    got = _full_day(**place, u2=2)
    keys = (
        "a=Tmean, b=slope, c=gamma, d=slope part, e=gamma part, f=aero, g=ea, h=e0max, i=es, j=deficit, m=Ra, n=Rs, "
        "o=Rso, p=share, q=Rns, r=sigma max, s=sigma min, t=vapour factor, u=cloud factor, v=Rnl, w=Rn, x=net mm, "
        "y=radiation term, z1=wind term, z2=ETo"
    )
    driest = relative_humidity_pct(26.6, ea)
    return {
        **_lettered("E20", keys, got),
        "E20-k": driest,
        "E20-l": (driest + 100) / 2,
        "E20-z3": _full_day(**place, u2=1)["ETo"],
        "E20-z4": _full_day(**place, u2=3)["ETo"],
        "E20-z5": hargreaves_et_mm(14.8, 26.6, latitude_deg=45.7167, day_of_year=196),
    }


def _senegal() -> dict[str, float]:
    """Example 19 (Lz = 15, a clock of UTC-1, though Senegal has UTC; its night wind term 0.01 should be 0.02)."""
    latitude, longitude, z, J = 16.22, -16.25, 8, 274
    # The page turns 16°13' into 16.22 and goes on from that.
    angle, place = fao_sun(latitude, J), {"day_of_year": J, "utc_offset_h": -1}
    got = {
        "E19-dr": angle.inverse_distance,
        "E19-decl": angle.declination,
        "E19-b": 2 * np.pi * (J - 81) / 364,
        "E19-Sc": seasonal_correction_h(J),
        "E19-phi": radians(latitude),
    }
    gamma = float(psychrometric_constant_kpa_c(atmospheric_pressure_kpa(z)))
    for part, hour, T, humidity, u2, Rs in (("n", 2.5, 28, 90, 1.9, 0.0), ("d", 14.5, 38, 52, 3.3, 2.450)):
        w = float(solar_time_angle_rad(longitude, J, clock_h=hour, utc_offset_h=-1))
        Ra = float(hourly_extraterrestrial_radiation_mj_m2(latitude, longitude, clock_h=hour, **place))
        Rso = float(clear_sky_radiation_mj_m2(Ra, z))
        share = Rs / Rso if Rso else 0.8
        ea = float(vapour_pressure_from_humidity_kpa(T, humidity))
        Rnl = float(hourly_net_longwave_mj_m2(T, vapour_pressure_kpa=ea, clear_share=share))
        Rn = float(net_shortwave_mj_m2(Rs)) - Rnl
        G = float(hourly_soil_heat_mj_m2(Rn))
        slope = float(saturation_slope_kpa_c(T))
        deficit = float(vapour_pressure_deficit_kpa(T, humidity))
        below = slope + gamma * (1 + 0.34 * u2)
        eto = fao_hourly_reference_et_mm(
            T, vapour_pressure_kpa=ea, radiation_mj_m2=Rs, wind_2m_m_s=u2, clear_share=share, elevation_m=z
        )
        radiation, wind = 0.408 * slope * (Rn - G) / below, gamma * 37 / (T + 273) * u2 * deficit / below
        assert eto == pytest.approx(radiation + wind, rel=1e-10)
        values = {
            "D": slope, "e0": saturation_vapour_pressure_kpa(T), "ea": ea, "vpd": deficit, "w": w,
            "w1": w - np.pi / 24, "w2": w + np.pi / 24, "ra": Ra, "rso": Rso, "rns": net_shortwave_mj_m2(Rs),
            "s4": black_body_radiation_mj_m2(T, step="hour"), "hum": 0.34 - 0.14 * sqrt(ea), "ratio": share,
            "cl": 1.35 * share - 0.35, "rl": Rnl, "rn": Rn, "G": G, "rng": Rn - G, "mm": _mm(Rn - G),
            "a": radiation, "b": wind, "eto": eto,
        }  # fmt: skip
        got |= {f"E19-{part}-{key}": value for key, value in values.items()}
    return got


def _software(row: dict[str, str]) -> float:
    """Figure 18: a print-out of the FAO's own program, with its own rounding."""
    at = _numbers(row["inputs"])
    place = {"latitude_deg": at["lat_deg"], "day_of_year": at["J"]}
    Ra, N = extraterrestrial_radiation_mj_m2(**place), fao_day_length_h(**place)
    Rs = radiation_from_sunshine_mj_m2(Ra, sunshine_h=at["n_h"], daylight_h=N)
    if row["id"].endswith("-rs"):
        return float(Rs)
    low, high = at["Tmin_C"], at["Tmax_C"]
    ea = vapour_pressure_from_mean_humidity_kpa(low, high, humidity_mean_pct=at["RHmean_pct"])
    return float(
        fao_reference_et_mm(
            low,
            high,
            vapour_pressure_kpa=ea,
            radiation_mj_m2=Rs,
            wind_2m_m_s=at["wind_km_day"] / 86.4,
            elevation_m=at["z_m"],
            **place,
        )
    )


def _fallon_day(row: dict[str, str], **how: str) -> float:
    at = _numbers(row["inputs"])
    compute = asce_reference_et_mm if how else fao_reference_et_mm
    return float(
        compute(
            at["Tmin_C"],
            at["Tmax_C"],
            vapour_pressure_kpa=vapour_pressure_from_dew_point_kpa(at["Tdew_C"]),
            radiation_mj_m2=at["Rs_MJ_m2_d"],
            wind_2m_m_s=wind_at_2m_m_s(at["uz_m_s"], at["z_wind_m"]),
            latitude_deg=at["lat_deg"],
            day_of_year=at["J"],
            elevation_m=at["z_m"],
            **how,
        )
    )


def _got(row: dict[str, str], chains: dict[str, float]) -> float | None:
    name = row["id"]
    if name in chains:
        return float(chains[name])
    if name.startswith("F18"):
        return _software(row)
    if name.startswith("FALN"):
        return _fallon_day(row)
    one = _first_ten(name)
    return _simple(row) if one is None else one


def test_every_row_is_met_as_printed_and_in_full_precision(shared: Path) -> None:
    chains = {
        **_rio(),
        **_temperature_only(),
        **_bangkok(),
        **_brussels(),
        **_brussels_gone_wrong(),
        **_senegal(),
        **_lyon(),
    }
    rows = [r for r in _rows(shared) if not r["id"].startswith("POLAR")]  # polar limits: test_sun.py, test_radiation.py
    assert len(rows) == 834
    unknown, misses, off_print = [], [], Counter()
    for row in rows:
        got = _got(row, chains)
        if got is None:
            unknown.append((row["id"], row["quantity"]))
            continue
        if row["expected_printed"]:
            printed, wide = float(row["expected_printed"]), float(row["tolerance_to_use"].partition(" ")[0])
            if abs(got - printed) > wide * 1.0001:
                misses.append((row["id"], row["quantity"], got, printed))
            if abs(got - printed) > float(row["tolerance_of_printed_rounding"]) * 1.0001:
                off_print[re.match(r"T2\.\d|[A-Z]+\d*", row["id"]).group()] += 1
        full = float(row["computed_full_precision"])
        near = 2e-5 if row["id"].startswith("FALN") else 1e-6 * max(abs(full), 1)  # those inputs stand to 4 decimals
        if abs(got - full) > near:
            misses.append((row["id"], row["quantity"], got, full))
    assert unknown == [], unknown
    assert misses == [], misses
    # Outside half a printed digit: Example 17's gamma 0.0674 (0.06735), Example 19's latitude (16°13' rounded to 16.22)
    # and night wind term 0.01 (0.018), and cells of Tables 2.6 and 2.7 that are off the equation themselves;
    # the Fallon days, whose calculator has a fuller clear sky (next test).
    assert off_print == {"E17": 1, "E19": 2, "T2.6": 61, "T2.7": 11, "FALN": 13}


def test_the_fallon_days_are_met_with_the_calculators_clear_sky(shared: Path) -> None:
    # University of Idaho reference-ET calculator, printed to 0.01 mm; its clear sky is ASCE-EWRI appendix D. Two
    # days (15 June, 15 August) come out 0.007 off, within 0.003 of an open library made after that calculator.
    rows = [r for r in _rows(shared) if r["id"].startswith("FALN")]
    assert len(rows) == 15
    for row in rows:
        got = _fallon_day(row, clear_sky="humid")
        assert got == pytest.approx(float(row["expected_printed"]), abs=0.0076), row["id"]
