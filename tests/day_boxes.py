"""Three boxes with their days, as a practitioner would describe them."""

from dataclasses import dataclass

from kits.physics.day_parts import Enclosure, Heater, Lamp, Mister, RoomDay, Start, box_of
from kits.physics.day_schedule import Schedule


@dataclass(frozen=True)
class Case:
    """A box, its schedule and the water it starts with."""

    box: Enclosure
    schedule: Schedule
    start: Start


# Glass of 4 and 5 mm 3.788 and 3.774 W/m2K with both faces indoors, plywood of 12 mm 2.838, mesh 5.
FOREST = Case(
    box_of(
        (0.45, 0.45, 0.6), u_w_m2k=(3.788, 5.0, 2.07), air_changes_h=5, soil_depth_m=0.08, leaf_area_m2=0.6
    ),
    Schedule(
        room=RoomDay(day_c=22, night_c=19, day_pct=45, night_pct=50),
        lamps=(
            Lamp(watts=50, from_h=8, until_h=20, soil_share=0.4, air_share=0.2),
            Lamp(watts=24, from_h=7, until_h=19, soil_share=0.3, air_share=0.2, leaf_klux=10),
        ),
        heater=Heater(watts=40, day_c=25, night_c=21),
        mister=Mister(litres_per_event=0.1, times_h=(8.5, 19.25)),
    ),
    Start(soil_water_l=5.0),
)
SCRUB = Case(
    box_of((1.2, 0.6, 0.6), u_w_m2k=(2.838, 5.0, 2.07), air_changes_h=12, soil_depth_m=0.05, wall_kg_m2=6),
    Schedule(
        room=RoomDay(day_c=22, night_c=17, day_pct=40, night_pct=50),
        lamps=(
            Lamp(watts=150, from_h=7, until_h=21, soil_share=0.5, air_share=0.25),
            Lamp(watts=39, from_h=8, until_h=20, soil_share=0.3, air_share=0.3, leaf_klux=5),
        ),
        heater=Heater(watts=100, day_c=26, night_c=20),
        mister=Mister(litres_per_event=0.05, times_h=(21.5,)),
    ),
    Start(soil_water_l=4.5),
)
DEEP_SOIL = Case(
    box_of(
        (0.9, 0.45, 0.45), u_w_m2k=(3.774, 3.8, 2.07), air_changes_h=2, soil_depth_m=0.2, leaf_area_m2=0.2
    ),
    Schedule(
        room=RoomDay(day_c=21, night_c=18, day_pct=40, night_pct=50),
        lamps=(Lamp(watts=75, from_h=9, until_h=21, soil_share=0.5, air_share=0.2),),
        heater=Heater(watts=60, day_c=27, night_c=23, soil_share=0.3),
        mister=Mister(litres_per_event=0.2, times_h=(7.5,)),
    ),
    Start(soil_water_l=30.0),
)
CASES = {"forest": FOREST, "scrub": SCRUB, "deep soil": DEEP_SOIL}
