# SPDX-License-Identifier: Apache-2.0
"""Roles from columns' names; common practice, no source: the names are a person's guess."""

import pytest

from sumpwright.logs.channel_name import name_and_unit, roles_of

CARS = [
    {"time": "Time", "pressure": "Oil Press", "rpm": "Engine Speed", "speed": "GPS Speed",
     "ax": "LongAcc", "longitude": "GPS Long", "ay": "LatAcc", "latitude": "GPS Lat",
     "yaw_rate": "YawRate", "throttle": "Throttle Pos", "gear": "Gear", "lap": "Lap Number",
     "temperature": "Oil Temp", "inlet": "Pump Inlet Pressure"},
    {"time": "t", "pressure": "p_oil", "rpm": "n_eng", "temperature": "T_oil", "ax": "a_x",
     "ay": "a_y", "az": "a_z", "speed": "v"},
    {"time": "Zeit", "pressure": "Öldruck", "rpm": "Motordrehzahl", "temperature": "Öltemperatur",
     "ay": "Querbeschleunigung", "speed": "Geschwindigkeit", "gear": "Gang"},
    {"time": "Temps", "pressure": "Pression huile", "rpm": "Régime moteur",
     "temperature": "Température huile", "speed": "Vitesse"},
]  # fmt: skip
OTHERS = ["Fuel Pressure", "Oil Pressure Warning", "Lap Time", "Gearbox Oil Temp", "Coolant Temp"]


@pytest.mark.parametrize("car", CARS)
def test_knows_the_usual_names_among_others(car) -> None:
    names = [*OTHERS, *car.values()]
    found = {role: names[k] for role, k in roles_of(names, [""] * len(names)).items()}
    assert found == car


def test_takes_no_other_pressure_temperature_or_lap_time() -> None:
    assert roles_of(OTHERS, [""] * len(OTHERS)) == {}


def test_a_unit_of_something_else_rules_a_column_out() -> None:
    assert roles_of(["Oil Pressure", "Oil Pressure"], ["V", "bar"])["pressure"] == 1
    assert "pressure" not in roles_of(["Oil Pressure"], ["rpm"])


@pytest.mark.parametrize(
    ("cell", "parts"),
    [("Oil P [bar]", ("Oil P", "bar")), ("Oil T (°C)", ("Oil T", "°C")),
     ("oil_p_psi", ("oil_p", "psi")), ("RPM", ("RPM", "")), ("acc_x", ("acc_x", ""))],
)  # fmt: skip
def test_parts_a_name_from_its_unit(cell, parts) -> None:
    assert name_and_unit(cell) == parts


@pytest.mark.parametrize("cell", ["Eng RPM", "Engine RPM", "eng_rpm", "Motor RPM", "RPM"])
@pytest.mark.parametrize("unit", ["", "rpm", "1/min"])
def test_a_unit_that_names_its_quantity_is_part_of_the_name(cell: str, unit: str) -> None:
    name, own = name_and_unit(cell)
    assert roles_of([name], [unit or own]) == {"rpm": 0}
