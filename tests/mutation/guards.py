"""Which tests guard which module of formulas: the quickest and likeliest first."""

from __future__ import annotations

_EVERY = ("derive/formulas/test_formulas_ranges.py", "derive/formulas/test_formulas_refusals.py")

_OWN: dict[str, tuple[str, ...]] = {
    "air": ("references/test_ashrae_fundamentals.py", "derive/formulas/test_formulas_air.py"),
    "arches": ("references/test_computed_here.py", "derive/formulas/test_formulas_joinery.py"),
    "bins": ("references/test_circle_packing.py", "derive/formulas/test_formulas_storage.py"),
    "boxes": ("references/test_nfpa_70.py", "derive/formulas/test_formulas_electrical.py"),
    "circuits": (
        "references/test_nfpa_70.py",
        "references/test_iec.py",
        "derive/formulas/test_formulas_electrical.py",
    ),
    "conductors": (
        "references/test_nfpa_70.py",
        "references/test_iec.py",
        "derive/formulas/test_formulas_electrical.py",
    ),
    "constants": (
        "references/test_nist_sp_811.py",
        "references/test_ashrae_90_1.py",
        "references/test_ashrae_refrigeration.py",
        "references/test_asce_7.py",
        "references/test_en_1991_and_en_572.py",
        "references/test_nfpa_70.py",
        "derive/formulas/test_formulas_envelope.py",
    ),
    "cooling": (
        "references/test_fao_fisheries_340.py",
        "references/test_ashrae_refrigeration.py",
        "derive/formulas/test_formulas_cooling.py",
    ),
    "doors": ("derive/formulas/test_formulas_joinery.py",),
    "envelope": (
        "references/test_iso_6946.py",
        "references/test_lehrbuch_der_bauphysik.py",
        "derive/formulas/test_formulas_envelope.py",
    ),
    "glazing": (
        "references/test_iso_10077_1.py",
        "derive/formulas/test_formulas_glazing.py",
    ),
    "ground": ("references/test_iso_13370.py", "derive/formulas/test_formulas_ground.py"),
    "insulating_glass": (
        "references/test_gases.py",
        "references/test_en_673.py",
        "derive/formulas/test_formulas_glazing.py",
    ),
    "ladder": ("references/test_29_cfr_1926.py", "derive/formulas/test_formulas_joinery.py"),
    "low_voltage": ("references/test_nfpa_70.py", "derive/formulas/test_formulas_electrical.py"),
    "materials": (
        "references/test_en_iso_10456.py",
        "derive/formulas/test_formulas_materials.py",
    ),
    "moisture": (
        "references/test_iso_13788.py",
        "references/test_lehrbuch_der_bauphysik.py",
        "derive/formulas/test_formulas_moisture.py",
    ),
    "order_of_work": (
        "references/test_hendrickson.py",
        "derive/formulas/test_formulas_order_of_work.py",
    ),
    "range": (),
    "section": (
        "references/test_lehrbuch_der_bauphysik.py",
        "derive/formulas/test_formulas_section.py",
    ),
    "shelves": (
        "references/test_architectural_woodwork_standards.py",
        "references/test_nds.py",
        "derive/formulas/test_formulas_joinery.py",
    ),
    "steel_framing": (
        "references/test_ashrae_90_1.py",
        "derive/formulas/test_formulas_envelope.py",
    ),
    "storage": (
        "references/test_27_cfr_4_72.py",
        "derive/formulas/test_formulas_storage.py",
    ),
    "sun": (
        "references/test_ashrae_clear_sky.py",
        "references/test_ashrae_refrigeration.py",
        "derive/formulas/test_formulas_sun.py",
    ),
    "takeoff": ("derive/formulas/test_formulas_takeoff.py",),
    "weights": (
        "references/test_wood_handbook.py",
        "references/test_asce_7.py",
        "references/test_en_1991_and_en_572.py",
        "references/test_computed_here.py",
        "derive/formulas/test_formulas_joinery.py",
    ),
    "wood": ("references/test_wood_handbook.py", "derive/formulas/test_formulas_joinery.py"),
}

GUARDS = {module: (*own, *_EVERY) for module, own in _OWN.items()}
"""Module under `spec/derive/formulas/`: files under `tests/`."""
