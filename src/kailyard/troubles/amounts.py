"""How much to mix: from the rate typed off the label, the area, and the gardener's own walk with the sprayer."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.science.spray_sums import (
    product_for_a_mix_ml,
    product_for_a_tank_ml,
    spray_for_a_bed_l,
    spray_rate_of_a_test,
)
from kailyard.troubles.label import Label


@dataclass(frozen=True, slots=True)
class Amount:
    """What the sums come to. None: it does not follow from what is known."""

    mix_l: float | None
    """Water and product together. [L]"""
    product: float | None
    product_unit: str
    """'mL' or 'g', as the label's rate has it; ''."""
    says: str


def walked_ml_m2(used_l: float, plot_m2: float) -> float:
    """What the gardener's own sprayer lays down at the gardener's own pace. [mL/m²]"""
    return float(spray_rate_of_a_test(used_l, plot_m2).rate)


def amount(label: Label, area_m2: float, spray_ml_m2: float | None) -> Amount:
    """Mix and product for an area; no rate is taken from anywhere but the label record.

    Parameters
    ----------
    area_m2 : float
        Ground or canopy to be sprayed. [m²]
    spray_ml_m2 : float or None
        Of `walked_ml_m2`; None where nobody has walked it. [mL/m²]
    """
    unit = "g" if label.rate_unit.startswith("g") else "mL"
    by_area = label.rate_unit.endswith("m²")
    if label.rate_unit == "":
        return Amount(None, None, "", "Read the label for the rate; it is not typed yet.")
    if by_area and label.rate is not None:
        product = label.rate * area_m2
        if spray_ml_m2 is None:
            says = f"{product:.3g} {unit} of product by your label; walk your sprayer to know in how much water."
            return Amount(None, product, unit, says)
        mix = float(spray_for_a_bed_l(area_m2, spray_ml_m2))
        product = float(product_for_a_tank_ml(label_ml_m2=label.rate, spray_ml_m2=spray_ml_m2, tank_l=mix)[0])
        return Amount(mix, product, unit, _mixed(mix, product, unit))
    if spray_ml_m2 is None:
        return Amount(
            None, None, unit, "Walk your sprayer with clean water first: how much the bed takes is not known."
        )
    mix = float(spray_for_a_bed_l(area_m2, spray_ml_m2))
    if label.rate is None:
        return Amount(mix, None, "", f"Spray to wet: about {mix:.2g} L by your own walk. Mix that, and no more.")
    product = float(product_for_a_mix_ml(label.rate, mix))
    return Amount(mix, product, unit, _mixed(mix, product, unit))


def _mixed(mix: float, product: float, unit: str) -> str:
    return f"{product:.3g} {unit} of product in {mix:.3g} L, by your label and your own walk. Mix that, and no more."
