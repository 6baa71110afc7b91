"""Weather files: from the text of daily or hourly temperatures to the year they make."""

from foundation.weather.text import WeatherError
from foundation.weather.year import WeatherYear, Winter, read_weather

__all__ = ["WeatherError", "WeatherYear", "Winter", "read_weather"]
