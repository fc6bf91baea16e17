"""Where the services live: the one place that names their addresses."""

from __future__ import annotations

HOSTS: dict[str, str] = {
    "nws": "https://api.weather.gov",
    "ncei": "https://www.ncei.noaa.gov",
    "open-meteo": "https://api.open-meteo.com",
    "open-meteo-archive": "https://archive-api.open-meteo.com",
}
