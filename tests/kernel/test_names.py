import ast
import inspect
from types import ModuleType

import pytest

from .compiled import modules

PUBLIC = {
    "between": [
        "between_evidence",
        "between_variance",
        "local_scale",
        "mixture_half_width",
        "shared_variance",
    ],
    "between_assumed": [
        "AT_SURFACE",
        "DEPTH_READING_M",
        "FLOAT",
        "PILE_UP",
        "PROFILE_COMMON",
        "PROFILE_LENGTH",
        "PROFILE_SMOOTH",
        "PROFILE_UNEVEN",
        "ROD_M",
        "STANDS_IN",
        "SURFACE_COMMON",
        "TWO_POINTS",
        "ZERO_MS",
    ],
    "between_parts": [
        "common_profile_variance",
        "mean_unit_discharge",
        "meter_variance",
        "profile_deviation",
        "profile_length",
        "profile_share",
        "reading_variance_of",
        "readings_variance",
        "rod_variance",
        "widths_variance",
        "zero_variance",
    ],
    "between_prior": [
        "LEAST_DEVIATION",
        "SHAPE_DEVIATION",
        "SHAPE_LENGTHS",
        "UNEVENNESS",
        "UNEVENNESS_LENGTHS_M",
        "least_variance",
        "prior_weight",
        "shape_length_of",
        "unevenness_length_of",
        "unevenness_of",
        "weight_of",
        "weighted_sum",
    ],
    "discharge": [
        "last_distance_discharge",
        "mean_gauge_height_by_discharge",
        "mean_gauge_height_by_time",
        "mean_section_discharge",
        "mean_section_panel",
        "mid_section_discharge",
        "mid_section_discharge_full_end",
        "mid_section_discharge_triangular",
        "next_distance_discharge",
    ],
    "edge": [
        "WALL_DISTANCE",
        "WALL_RATIO",
        "edge_velocity_power_law",
        "wall_ratio",
        "wall_velocity",
    ],
    "iso_tables": [
        "EXPOSURE_SECONDS",
        "EXPOSURE_VELOCITY",
        "METER_VELOCITY",
        "VERTICALS",
        "exposure_uncertainty",
        "meter_uncertainty_group",
        "meter_uncertainty_individual",
        "profile_uncertainty",
        "verticals_uncertainty",
    ],
    "limits": [
        "above",
        "bed_change",
        "below",
        "clearly_above",
        "printed_above",
        "velocity_difference",
    ],
    "meter": [
        "revolutions_per_second",
        "velocity_from_rating",
        "velocity_from_two_part_rating",
    ],
    "scatter": [
        "FEWEST_RESIDUALS",
        "WITHOUT_RESIDUAL",
        "interpolated_variance",
        "interpolated_variance_uncertainty",
        "interpolation_residual",
        "interpolation_weight",
    ],
    "section": [
        "STANDARD_GRAVITY",
        "distance_from_last",
        "distance_to_next",
        "froude_number",
        "hydraulic_radius",
        "is_bank",
        "mean_depth",
        "panel_width",
        "panel_width_full_end",
        "panel_width_triangular",
        "section_area",
        "stretch_end",
        "trapezoid_area",
        "water_width",
        "wetted_perimeter",
    ],
    "totals": [
        "NO_SHARES",
        "ROUNDING",
        "amount_of",
        "has_shares",
        "share_of",
        "total_of",
        "without_rounding",
    ],
    "uncertainty": [
        "EACH_SYSTEMATIC",
        "HORIZONTAL_ANGLE",
        "components_uncertainty",
        "panels_uncertainty",
        "root_sum_of_squares",
        "velocity_area_uncertainty",
        "velocity_area_uncertainty_equal_panels",
        "verticals_component",
    ],
    "vertical": [
        "normal_velocity",
        "velocity_by_integration",
        "velocity_five_point",
        "velocity_from_surface",
        "velocity_half_depth",
        "velocity_one_point",
        "velocity_six_point",
        "velocity_three_point",
        "velocity_two_point",
        "velocity_two_tenths",
    ],
}

# Each of these gives other digits from one Python or one runtime to the next.
UNSTABLE = {"sum", "fsum", "hypot"}


def test_the_public_names_of_the_kernel() -> None:
    """A name is added to or taken from the kernel on purpose, never by the way."""
    names = {module.__name__.rsplit(".", 1)[1]: module.__all__ for module in modules()}

    assert names == PUBLIC
    assert all(listed == sorted(listed) for listed in names.values())


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.__name__)
def test_the_kernel_is_plain(module: ModuleType) -> None:
    """No decorator, power operator or unstable sum: the source means the same everywhere."""
    tree = ast.parse(inspect.getsource(module))
    nodes = list(ast.walk(tree))

    assert not any(n.decorator_list for n in nodes if isinstance(n, ast.FunctionDef))
    assert not any(isinstance(n, ast.Pow) for n in nodes)
    called = {getattr(n, "id", getattr(n, "attr", None)) for n in nodes}
    assert called.isdisjoint(UNSTABLE)
