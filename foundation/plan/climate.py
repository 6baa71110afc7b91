"""The year that the heat is computed for, from whatever was given of it, and what is odd about it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import NoReturn

from foundation import units
from foundation.climate import (
    BASE,
    AnnualWave,
    wave_from_degree_days,
    wave_from_months,
    wave_from_swing,
)
from foundation.model.heat import ClimateUsed
from foundation.model.problem import Problem
from foundation.plan.lines import PlanError
from foundation.project import Project
from foundation.weather import WeatherError, WeatherYear, read_weather

F = 1 / 1.8
SWINGS = (25 * F, 33 * F)
"""Half the yearly swing in cold climates, either side of the assumed one [practice]. [K]"""
DEGREE_DAYS_DIFFER = 0.1
"""A single year's degree days lie about so far off the mean year's [practice]. [-]"""
INDEX_DIFFERS = (0.3, 100 * F)
"""A freezing index is told where it is off by both: single winters scatter widely [practice]. [-, K·d]"""
WAVE_DIFFERS = (1.5, 2.0)
"""Mean and amplitude of two waves of one place differ no more, single years included [practice]. [K]"""


@dataclass(frozen=True)
class _Year:
    wave: AnnualWave
    source: str
    assumed: str = ""


def climate_of(project: Project, weather_text: str = "") -> ClimateUsed | None:
    """The year to compute with: of the weather file, else of monthly means, else of the degree days.

    Degree days need the same year's freezing index beside them, or a swing, which is assumed where it is not typed.

    Parameters
    ----------
    project : Project
        The project.
    weather_text : str
        Text of the weather file, "" for none.

    Returns
    -------
    ClimateUsed or None
        The year; None where nothing of it was given.

    Raises
    ------
    PlanError
        If what was given makes no year.
    """
    typed = project.climate
    _refuse_mixed(project)
    year = _from_weather(project, weather_text) or _from_months(project) or _from_degree_days(project)
    if year is None:
        if typed.weather:
            _refuse(
                "climate.weather",
                typed.weather,
                f'the file "{typed.weather}" was not read; open it with the project.',
            )
        return None
    return ClimateUsed(
        mean=year.wave.mean,
        amplitude=year.wave.amplitude,
        degree_days=year.wave.degree_days_below(BASE),
        freezing_index=year.wave.freezing_index,
        design_temperature=typed.design_temperature,
        design_index=typed.design_index,
        source=year.source + (f" ({typed.source})" if typed.source else ""),
        assumed=year.assumed,
    )


def climate_details(project: Project, weather_text: str) -> WeatherYear | None:
    """What the weather file says day by day: its own degree days, winter by winter both freezing indexes.

    Parameters
    ----------
    project : Project
        The project, which names the file.
    weather_text : str
        Text of the weather file, "" for none.

    Returns
    -------
    WeatherYear or None
        The year; None without a text.

    Raises
    ------
    PlanError
        If no year can be read from it.
    """
    if not weather_text:
        return None
    name = project.climate.weather or "weather file"
    try:
        return read_weather(weather_text, name)
    except WeatherError as error:
        raise PlanError(
            tuple(Problem("climate.weather", name, sentence) for sentence in error.sentences)
        ) from None


def climate_notices(project: Project, weather_text: str = "") -> tuple[Problem, ...]:
    """What is wrong or odd about the climate that was given.

    Parameters
    ----------
    project : Project
        The project.
    weather_text : str
        Text of the weather file, "" for none.

    Returns
    -------
    tuple of Problem
        What makes it no climate, fatal; else where two of its sources differ, not fatal.
    """
    try:
        used = climate_of(project, weather_text)
        weather = climate_details(project, weather_text)
    except PlanError as error:
        return error.problems
    if used is None:
        return ()
    return (
        *_weather_notices(project, weather),
        *_other_notices(project, weather),
        *_design_notices(project, used, weather),
    )


def _from_weather(project: Project, weather_text: str) -> _Year | None:
    found = climate_details(project, weather_text)
    if found is None:
        return None
    write = _writer(project)
    many = f"{found.years} years" if found.years > 1 else "one year"
    source = (
        f"{project.climate.weather or 'weather file'}: wave fitted to the days of {many} from {found.first}; "
        f"counted {write(found.degree_days_below(), 'degree_days')} below {write(BASE, 'temperature')}, freezing index "
        f"{write(found.by_curve, 'degree_days')} by the curve, {write(found.by_sum, 'degree_days')} by the plain sum"
    )
    return _Year(found.wave, source, "; ".join(found.notes))


def _from_months(project: Project) -> _Year | None:
    monthly = project.climate.monthly
    if not monthly:
        return None
    try:
        return _Year(wave_from_months(monthly), "monthly means as typed")
    except ValueError as error:
        _refuse("climate.monthly", "", f"{error}.")


def _from_degree_days(project: Project) -> _Year | None:
    typed = project.climate
    write = _writer(project)
    if typed.degree_days is None:
        if typed.freezing_index is not None:
            _refuse(
                "climate.degree_days",
                "",
                "type them beside the freezing index, of the same years; neither does alone.",
            )
        return None
    heating = f"{write(typed.degree_days, 'degree_days')} below {write(typed.base, 'temperature')}"
    index, swing = typed.freezing_index, write(typed.swing, "temperature_difference")
    if index:
        try:
            return _Year(
                wave_from_degree_days(typed.degree_days, index, base=typed.base),
                "degree days and freezing index as typed",
            )
        except ValueError:
            _refuse(
                "climate.freezing_index",
                write(index, "degree_days"),
                f"{write(index, 'degree_days')} with {heating} make no year on Earth.{_usual(project)} Take both from "
                "the same years; a design winter's index goes into climate.design_index.",
            )
    assumed = "swing" not in typed.model_fields_set
    if index == 0:
        try:
            wave = wave_from_degree_days(
                typed.degree_days, 0.0, base=typed.base, assumed_amplitude=typed.swing
            )
        except ValueError:
            _refuse(
                "climate.swing",
                swing,
                f"{heating} without any freezing make no year with half a swing of {swing}.{_usual(project)} "
                "Type that index, or a smaller swing.",
            )
        return _Year(
            wave, "degree days as typed, no freezing", f"half the yearly swing, {swing}" if assumed else ""
        )
    try:
        wave = wave_from_swing(typed.degree_days, typed.swing, base=typed.base)
    except ValueError:
        _refuse(
            "climate.degree_days",
            write(typed.degree_days, "degree_days"),
            f"{heating} with half a swing of {swing} make no year on Earth. Check the degree days and their base, "
            "or type a smaller swing.",
        )
    if assumed:
        return _Year(wave, "degree days as typed, swing assumed", _swing_words(project))
    return _Year(wave, f"degree days and half a swing of {swing} as typed")


def _swing_words(project: Project) -> str:
    """The assumed swing, and what its band does to mean and freezing index."""
    typed = project.climate
    write = _writer(project)
    words = f"half the yearly swing, {write(typed.swing, 'temperature_difference')}"
    ends = _with_swings(project)
    if len(ends) < len(SWINGS):
        return words
    least, most = (write(swing, "temperature_difference") for swing in SWINGS)
    low, high = sorted(end.mean for end in ends)
    few, many = sorted(end.freezing_index for end in ends)
    return (
        f"{words}: from {least} to {most} the mean lies between {write(low, 'temperature')} and "
        f"{write(high, 'temperature')}, the freezing index between {write(few, 'degree_days')} and "
        f"{write(many, 'degree_days')}"
    )


def _usual(project: Project) -> str:
    """Sentence with the freezing indexes that go with the typed degree days in cold climates."""
    found = sorted(wave.freezing_index for wave in _with_swings(project))
    if len(found) < len(SWINGS):
        return ""
    low, high = (_writer(project)(index, "degree_days") for index in found)
    return f" In cold climates {low} to {high} go with these degree days."


def _with_swings(project: Project) -> list[AnnualWave]:
    """Waves with the typed degree days; those that no place on Earth has are left out."""
    typed = project.climate
    found = []
    for swing in SWINGS:
        with suppress(ValueError):
            found.append(wave_from_swing(typed.degree_days or 0.0, swing, base=typed.base))
    return found


def _refuse_mixed(project: Project) -> None:
    typed = project.climate
    if (
        typed.freezing_index is None
        or typed.design_index is None
        or typed.freezing_index < typed.design_index
    ):
        return
    mean, design = (
        _writer(project)(index, "degree_days") for index in (typed.freezing_index, typed.design_index)
    )
    _refuse(
        "climate.freezing_index",
        mean,
        f"{mean} is no less than the design winter's {design}. It belongs to the same years as the degree days, "
        "whose winters are milder; leave it out if only the design winter's is known.",
    )


def _weather_notices(project: Project, weather: WeatherYear | None) -> Iterator[Problem]:
    name = project.climate.weather
    if weather is None:
        if name:
            yield _notice(
                "climate.weather", name, f'the file "{name}" was not read; what else was given is used.'
            )
        return
    if weather.years == 1:
        yield _notice(
            "climate.weather", name, "one year of weather is no mean year; several years would do better."
        )
    for note in weather.notes:
        yield _notice("climate.weather", name, f"{note}.")


def _other_notices(project: Project, weather: WeatherYear | None) -> Iterator[Problem]:
    """Where what was given beside the source in use says something else."""
    typed = project.climate
    write = _writer(project)
    try:
        months = wave_from_months(typed.monthly) if typed.monthly else None
    except ValueError as error:
        months = None
        yield _notice("climate.monthly", "", f"{error}; the weather file is used.")
    used: WeatherYear | AnnualWave | None = weather or months
    if used is None:
        return
    found = "the weather file gives" if weather else "the monthly means give"
    counted = used.degree_days_below(typed.base)
    if typed.degree_days and abs(counted - typed.degree_days) > DEGREE_DAYS_DIFFER * typed.degree_days:
        given = write(typed.degree_days, "degree_days")
        yield _notice(
            "climate.degree_days",
            given,
            f"{given} are typed, {found} {write(counted, 'degree_days')} below "
            f"{write(typed.base, 'temperature')}; the latter is used. Leave out what does not hold.",
        )
    if not weather:
        return
    index = typed.freezing_index
    share, least = INDEX_DIFFERS
    if index is not None and abs(weather.by_curve - index) > max(share * index, least):
        given = write(index, "degree_days")
        yield _notice(
            "climate.freezing_index",
            given,
            f"{given} are typed, the weather file gives {write(weather.by_curve, 'degree_days')} by the curve; the "
            "weather file is used. Leave out what does not hold.",
        )
    if months and any(
        abs(one - other) > most
        for one, other, most in zip(
            (months.mean, months.amplitude),
            (weather.wave.mean, weather.wave.amplitude),
            WAVE_DIFFERS,
            strict=True,
        )
    ):
        yield _notice(
            "climate.monthly",
            "",
            f"the months are typed with a yearly mean of {write(months.mean, 'temperature')}, the weather file has "
            f"{write(weather.wave.mean, 'temperature')}, or their swings differ; the weather file is used. Leave out "
            "what does not hold.",
        )


def _design_notices(project: Project, used: ClimateUsed, weather: WeatherYear | None) -> Iterator[Problem]:
    write = _writer(project)
    if used.design_index is not None and weather and weather.worst_by_curve > used.design_index:
        given, worst = (write(index, "degree_days") for index in (used.design_index, weather.worst_by_curve))
        yield _notice(
            "climate.design_index",
            given,
            f"{given} are less than the {worst} of the coldest winter in the weather file; a design winter is the "
            "coldest of 30 years or more.",
        )
    coldest = used.mean - used.amplitude
    if used.design_temperature is not None and used.design_temperature > coldest:
        yield _notice(
            "climate.design_temperature",
            write(used.design_temperature, "temperature"),
            f"{write(used.design_temperature, 'temperature')} are warmer than a usual January day of this year, "
            f"{write(coldest, 'temperature')}; a design temperature is colder.",
        )


def _writer(project: Project) -> Callable[[float, str], str]:
    return lambda value, kind: units.write(value, kind, project.units)


def _notice(place: str, value: str, reason: str) -> Problem:
    return Problem(place, value, f"{place}: {reason}", fatal=False)


def _refuse(place: str, value: str, reason: str) -> NoReturn:
    raise PlanError((Problem(place, value, f"{place}: {reason}"),)) from None
