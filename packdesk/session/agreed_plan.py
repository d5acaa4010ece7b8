"""What was worked out becomes what was agreed: its figures are copied for good."""

from __future__ import annotations

from typing import TYPE_CHECKING

from packdesk.session.figures import AgreedLine, LoadFigures

if TYPE_CHECKING:  # at run time it would load numpy before the window is up
    from packdesk.planning.loads import PailLoad
    from packdesk.planning.planned import PlannedLine


def agreed_line(planned: PlannedLine) -> AgreedLine:
    """Copy what a person agreed to, rounded to what it was shown with."""
    return AgreedLine(
        line=planned.line,
        food=planned.food,
        food_name=planned.food_name,
        lot=planned.lot,
        mass_g=round(planned.mass_g, 1),
        pouch=planned.pouch,
        pouch_name=planned.pouch_name,
        liner=planned.liner,
        zip=planned.zip,
        count=planned.count,
        fill_mass_g=round(planned.fill_mass_g, 1),
        last_fill_mass_g=round(planned.last_fill_mass_g, 1),
        capacity_l=round(planned.capacity_l, 2),
        bulk_density_g_per_cc=round(planned.bulk_density_g_per_cc, 3),
        solid_density_g_per_cc=round(planned.solid_density_g_per_cc, 3),
        residual_gas_cc=round(planned.residual_gas_cc, 1),
        air_cc=round(planned.air_cc, 1),
        oxygen_need_cc=round(planned.oxygen_need_cc, 1),
        recommended_cc=round(planned.recommended_cc, 1),
        absorbers_cc=planned.absorbers_cc,
        quality_years_low=planned.quality_years_low,
        quality_years_high=planned.quality_years_high,
        years_to_one_percent=(
            round(planned.years_to_one_percent, 1)
            if planned.years_to_one_percent is not None
            else None
        ),
        low_oxygen=planned.low_oxygen,
        dusty=planned.dusty,
        allergens=planned.allergens,
        caution=planned.caution,
        label_caution=planned.label_caution,
        film=planned.film,
        warnings=planned.warnings,
        never=planned.never,
        against_advice=planned.against_advice,
    )


def recorded_figures(load: PailLoad) -> LoadFigures:
    """Copy what the heat calculation of a load rests on, rounded to what it is known to."""
    return LoadFigures(
        radius_mm=round(load.radius_mm, 1),
        fill_height_mm=round(load.fill_height_mm, 1),
        conductivity_w_m_k=round(load.conductivity_w_m_k, 4),
        heat_capacity_j_kg_k=round(load.heat_capacity_j_kg_k, 1),
        bulk_density_kg_m3=round(load.bulk_density_kg_m3, 1),
        freezer_coefficient_w_m2_k=load.freezer_coefficient_w_m2_k,
        room_coefficient_w_m2_k=load.room_coefficient_w_m2_k,
        start_temp_c=load.start_temp_c,
        freezer_temp_c=load.freezer_temp_c,
        container_height_mm=load.container_height_mm,
    )
