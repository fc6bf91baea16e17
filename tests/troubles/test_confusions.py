"""The reference's table of classic confusions: of what looks alike, the sign that settles it puts the right one first.

Rows and signs are those of lookalikes.md ('Confusions'); here each is put in the words of the questions.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from kailyard.handbook.signs import causes, signs
from kailyard.troubles.leanings import Setting
from kailyard.troubles.weighing import Answer, weigh

TABLE: dict[tuple[str, str, str], dict[str, str]] = {
    ("Twisted, narrow young tomato leaves", "tomato", "new_growth_first strap_narrow"): {
        "gr_drift": "many_families edge_gradient spray_season",
        "gr_residue": "many_families after_manure_mulch -edge_gradient",
        "cmv": "mosaic_mottle scattered_single -new_leaves_normal",
        "broad_mite": "bronze_silver fruit_misshapen mites_under_lens",
    },
    ("Twisted, narrow young tomato leaves", "tomato", ""): {
        "leaf_roll": "roll_lower_leathery old_leaves_first -strap_narrow",
        "leaf_curl_virus": "new_growth_first cup_up stunted purple_tint",
        "cold_frost": "pucker_crinkle after_cold new_leaves_normal",
    },
    ("Yellow-white young leaflets", "tomato", "new_growth_first"): {
        "glyphosate": "yellow_leaflet_base edge_gradient",
        "fe_deficiency": "yellow_between_veins -edge_gradient",
        "bleacher": "bleached_white_new many_families spray_season -yellow_leaflet_base -after_cold",
    },
    ("White on squash leaves", "squash", ""): {
        "powdery_mildew_cucurbit": "white_powder_upper old_leaves_first",
        "natural_mottle": "silver_along_veins_symmetric -white_powder_upper",
        "downy_mildew_cucurbit": "angular_spots fuzz_underside -white_powder_upper",
    },
    ("Angular spots on cucumber", "cucumber", "angular_spots"): {
        "downy_mildew_cucurbit": "fuzz_underside",
        "angular_leaf_spot": "-fuzz_underside spots_fall_out",
    },
    ("Wilting squash or cucumber", "squash", ""): {
        "squash_vine_borer": "wilt_sudden_stays frass stem_hollow",
        "bacterial_wilt_cucurbit": "wilt_sudden_stays ooze_threads beetles_seen",
        "squash_bug": "wilt_sudden_stays bugs_seen eggs_present -stem_hollow",
        "phytophthora_blight": "wilt_sudden_stays stem_base_rot low_wet_area -frass",
        "drought": "wilt_day_recover hot_dry many_families",
    },
    ("Spots on tomato leaves", "tomato", ""): {
        "septoria_leaf_spot": "round_pale_centre specks_in_spots",
        "early_blight": "concentric_rings yellow_halo old_leaves_first",
        "bacterial_spot_speck": "water_soaked_greasy scabby_fruit_specks -round_pale_centre",
        "late_blight": "water_soaked_greasy fuzz_underside spreads_for_weeks",
    },
    ("Bad tomato fruit", "tomato", "fruit_only"): {
        "blossom_end_rot": "fruit_end_black",
        "sunscald": "fruit_white_papery exposed_side",
        "anthracnose": "fruit_sunken_spots -fruit_end_black spreads_for_weeks",
        "catface": "fruit_misshapen after_cold",
    },
    ("Shrivelled zucchini", "zucchini", ""): {
        "poor_pollination": "fruit_aborts",
        "blossom_end_rot": "fruit_end_black -fruit_aborts",
    },
    ("Wilting tomato, yellow", "tomato", ""): {
        "fusarium_wilt": "one_side_of_plant hot_dry vascular_brown",
        "verticillium_wilt": "v_lesion_from_edge vascular_brown -one_side_of_plant",
        "juglone": "wilt_sudden_stays edge_gradient -vascular_brown -stem_base_rot",
    },
    ("Scorched leaf tips on potato or bean", "potato", "leaf_edges_tips"): {
        "leafhopper_burn": "v_lesion_from_edge hoppers_sideways",
        "k_deficiency": "old_leaves_first -hoppers_sideways -hot_dry -tops_down_at_harvest",
    },
    ("Holes in leaves", "cabbage", ""): {
        "slugs": "ragged_holes slime -frass",
        "caterpillars_leaf": "ragged_holes frass -slime",
        "flea_beetles": "tiny_round_holes",
    },
    ("Seedling down", "cabbage", ""): {
        "cutworms": "stem_cut_soil -stem_base_rot",
        "damping_off": "stem_base_rot -stem_cut_soil",
    },
    ("Plant tops eaten", "lettuce", "overnight_no_spread"): {
        "rabbit": "clean_angled_cut",
        "deer": "torn_high -clean_angled_cut",
    },
    ("Lumps on roots", "cabbage", "root_galls"): {"clubroot": "stunted one_host_group -lumps_rub_off"},
    ("Lumps on roots", "bean", "root_galls"): {
        "root_knot": "stunted -lumps_rub_off",
        "legume_nodules": "lumps_rub_off",
    },
    ("Corky bumps under leaves", "cabbage", "corky_bumps"): {
        "edema": "after_wet -spreads_for_weeks -insects_seen plant_thrives",
        "thrips": "bronze_silver insects_seen -after_wet",
    },
    ("Squash flowers drop, no fruit", "squash", "flowers_drop"): {
        "male_flowers_first": "no_small_fruit_behind_flower",
        "poor_pollination": "fruit_aborts -no_small_fruit_behind_flower",
        "excess_nitrogen": "lush_no_fruit after_manure_mulch -fruit_aborts -no_small_fruit_behind_flower",
    },
    ("Low leaves yellow", "tomato", "old_leaves_first uniform_yellow"): {
        "natural_leaf_drop": "plant_thrives new_leaves_normal -round_pale_centre -concentric_rings",
        "n_deficiency": "stunted plain_yellow_no_spots -low_wet_area",
        "early_blight": "concentric_rings",
        "septoria_leaf_spot": "round_pale_centre specks_in_spots",
    },
    ("Bumps on tomato stem", "tomato", "stem_pimples_roots"): {
        "aerial_roots": "plant_thrives -twist_down -low_wet_area",
        "gr_drift": "twist_down new_growth_first many_families",
    },
    ("Misshapen tomato fruit", "tomato", ""): {
        "catface": "fruit_misshapen after_cold fruit_only",
        "zippering": "fruit_zip_scar",
        "plant_bugs": "pale_cloudy_fruit",
    },
    ("Hollow broccoli stem", "broccoli", "inside_hollow"): {
        "hollow_heart": "plant_thrives -corky_bumps",
        "b_deficiency": "tip_dies corky_bumps",
    },
    ("Corn ears spoilt", "corn", "overnight_no_spread"): {
        "raccoon": "ears_stripped fruit_only -torn_high -one_bite_fruit",
        "birds": "pecked_torn -ears_stripped",
        "squirrels": "one_bite_fruit -torn_high",
        "deer": "torn_high",
    },
    ("Onion tops down", "onion", ""): {
        "natural_end": "tops_down_at_harvest -fluffy_white_mould",
        "white_rot": "fluffy_white_mould hard_black_bodies",
    },
    ("Leaf edge cut", "bean", ""): {
        "leafcutter_bees": "half_moon_cuts",
        "caterpillars_leaf": "ragged_holes frass caterpillars_seen",
    },
}
OF_GROWN_PLANTS = {"Wilting squash or cucumber"}
"""Vines in fruit: what fells seedlings is no rival there."""
ROWS = [(*of, cause, said) for of, row in TABLE.items() for cause, said in row.items()]


def test_every_group_of_the_reference_is_here(shared: Path) -> None:
    text = (shared / "reference" / "troubles" / "lookalikes.md").read_text(encoding="utf-8")
    table = text.partition("## Confusions")[2].partition("## Worked cases")[0]
    groups = {
        line.split("|")[1].strip() for line in table.splitlines() if line.startswith("| ") and "Looks like" not in line
    }
    assert groups - {""} == {group for group, _, _ in TABLE}
    assert {cause for _, _, _, cause, _ in ROWS} <= set(causes())


@pytest.mark.parametrize(
    ("group", "crop", "shared_signs", "cause", "said"), ROWS, ids=[f"{r[0]}: {r[3]}" for r in ROWS]
)
def test_the_sign_that_settles_it_settles_it(group: str, crop: str, shared_signs: str, cause: str, said: str) -> None:
    answers: dict[str, Answer] = dict.fromkeys(shared_signs.split(), "yes")
    for sign in said.split():
        answers[sign.removeprefix("-")] = "no" if sign.startswith("-") else "yes"
    assert set(answers) <= set(signs())
    weighed = weigh(answers, Setting(crop, stage="fruit" if group in OF_GROWN_PLANTS else ""))
    assert weighed.order[0] == cause, [(id_, round(weighed.of(id_)[1], 2)) for id_ in weighed.order[:4]]
    rivals = [r for of, row in TABLE.items() if of[0] == group and of[1] == crop for r in row if r != cause]
    assert all(weighed.of(cause)[1] > 1.5 * weighed.of(rival)[1] for rival in rivals)
