"""Field types of the project file: text with a unit at the border, SI floats inside."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo

from foundation import units


def _reader(kind: str) -> Callable[[Any, ValidationInfo], Any]:
    """Validator that reads text of one kind of quantity into SI and lets SI floats made by code pass."""

    def read(value: Any, info: ValidationInfo) -> Any:
        if isinstance(value, str):
            return units.read(value, kind)
        # A bare number in the file has no unit; only our own code may hand floats in, and says so.
        if isinstance(value, int | float) and not isinstance(value, bool):
            if info.context and info.context.get("si"):
                return float(value)
            return units.read(str(value), kind)
        raise ValueError(f'"{value}" is not text with a unit: write it in quotes, such as {EXAMPLES[kind]}.')

    return read


EXAMPLES = {
    "length": '"12\'-6 1/2\\""',
    "number": '"0.75"',
    "money": '"$115"',
    "money_per_volume": '"$190/yd³"',
    "money_per_area": '"$7.00/ft²"',
    "money_per_length": '"$1.10/ft"',
    "temperature": '"40 °F"',
    "pressure": '"3000 psi"',
    "resistance": '"R-10"',
    "conductivity": '"0.87 Btu/h·ft·°F"',
    "temperature_difference": '"29 °F"',
    "degree_days": '"8410 °F·d"',
    "density": '"110 pcf"',
    "force": '"2000 lb"',
    "percent": '"40 %"',
    "power": '"13,200 Btu/h"',
    "heat_flux": '"22 Btu/h·ft²"',
    "transmittance": '"0.30 Btu/h·ft²·°F"',
    "volume": '"600 ft³"',
    "area": '"600 ft²"',
}


@dataclass(frozen=True)
class Kind:
    """Mark on a field type that says which kind of quantity its text holds.

    Attributes
    ----------
    name : str
        A kind that :func:`foundation.units.read` knows.
    """

    name: str


Length = Annotated[float, BeforeValidator(_reader("length")), Kind("length")]
Number = Annotated[float, BeforeValidator(_reader("number")), Kind("number")]
Money = Annotated[float, BeforeValidator(_reader("money")), Kind("money")]
MoneyPerVolume = Annotated[float, BeforeValidator(_reader("money_per_volume")), Kind("money_per_volume")]
Temperature = Annotated[float, BeforeValidator(_reader("temperature")), Kind("temperature")]
Pressure = Annotated[float, BeforeValidator(_reader("pressure")), Kind("pressure")]
Resistance = Annotated[float, BeforeValidator(_reader("resistance")), Kind("resistance")]
Conductivity = Annotated[float, BeforeValidator(_reader("conductivity")), Kind("conductivity")]
TemperatureDifference = Annotated[
    float, BeforeValidator(_reader("temperature_difference")), Kind("temperature_difference")
]
DegreeDays = Annotated[float, BeforeValidator(_reader("degree_days")), Kind("degree_days")]
Density = Annotated[float, BeforeValidator(_reader("density")), Kind("density")]
Force = Annotated[float, BeforeValidator(_reader("force")), Kind("force")]
Percent = Annotated[float, BeforeValidator(_reader("percent")), Kind("percent")]
Power = Annotated[float, BeforeValidator(_reader("power")), Kind("power")]
HeatFlux = Annotated[float, BeforeValidator(_reader("heat_flux")), Kind("heat_flux")]
Transmittance = Annotated[float, BeforeValidator(_reader("transmittance")), Kind("transmittance")]
Volume = Annotated[float, BeforeValidator(_reader("volume")), Kind("volume")]
Area = Annotated[float, BeforeValidator(_reader("area")), Kind("area")]
MoneyPerLength = Annotated[float, BeforeValidator(_reader("money_per_length")), Kind("money_per_length")]
MoneyPerArea = Annotated[float, BeforeValidator(_reader("money_per_area")), Kind("money_per_area")]


def _date(value: Any) -> Any:
    """TOML dates pass; text is read as an ISO date."""
    if isinstance(value, str):
        try:
            return datetime.date.fromisoformat(value.strip())
        except ValueError:
            raise ValueError(f'"{value}" is not a date: write year-month-day, such as 2026-03-03.') from None
    return value


Date = Annotated[datetime.date, BeforeValidator(_date), Kind("date")]


class Section(BaseModel):
    """A table of the project file: unknown keys are errors, nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True, allow_inf_nan=False)


def assumed(default: Any, why: str, description: str, **bounds: Any) -> Any:
    """A field that may be left out: what is taken instead, and why, is marked wherever it shows.

    Parameters
    ----------
    default : object
        Value taken when the field is left out, in SI units.
    why : str
        Where the value comes from.
    description : str
        What the field says.
    **bounds
        Limits for pydantic's ``Field``.

    Returns
    -------
    object
        The pydantic field.
    """
    return Field(default, description=description, json_schema_extra={"assumed": why}, **bounds)
