"""Answers of weather services, written from their documentation for an invented place, and a server that gives them.

Open-Meteo: open-meteo.com/en/docs (columns under 'hourly' and 'daily', units beside them, 'error' and 'reason' on
refusal). National Weather Service: weather-gov.github.io/api (points, gridpoints: layers of spans with `uom`). NCEI:
ncei.noaa.gov/support/access-data-service-api-user-documentation (lists of flat objects, values as text).
"""

from __future__ import annotations

import json
import threading
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import parse_qs, urlsplit

import numpy as np

NOW = datetime(2026, 6, 12, 14, 0, tzinfo=UTC)
STATION = "XXI00000001"
Reply = tuple[int, dict[str, str], bytes]


def body(value: object) -> bytes:
    return json.dumps(value).encode()


def open_meteo(first: date = date(2026, 6, 11), days: int = 13, warmer_c: float = 0.0, **change: object) -> bytes:
    """Hours in UTC from a midnight: coolest at 4, warmest at 16; an hour of rain ends at 6 of each second day."""
    count = days * 24
    start = datetime(first.year, first.month, first.day, tzinfo=UTC)
    clock = np.arange(count) % 24
    temp = np.round(12 + warmer_c - 6 * np.cos(2 * np.pi * (clock - 4) / 24), 1)
    rain = np.where((clock == 6) & (np.arange(count) // 24 % 2 == 1), 4.5, 0.0)
    answer = {
        "latitude": 44.2,
        "longitude": -38.6,
        "utc_offset_seconds": 0,
        "timezone": "GMT",
        "hourly_units": {
            "time": "iso8601",
            "temperature_2m": "°C",
            "dew_point_2m": "°C",
            "relative_humidity_2m": "%",
            "precipitation": "mm",
            "wind_speed_10m": "m/s",
            "shortwave_radiation": "W/m²",
            "surface_pressure": "hPa",
        },
        "hourly": {
            "time": [(start + timedelta(hours=i)).strftime("%Y-%m-%dT%H:%M") for i in range(count)],
            "temperature_2m": temp.tolist(),
            "dew_point_2m": (temp - 4).tolist(),
            "relative_humidity_2m": [75] * count,
            "precipitation": rain.tolist(),
            "wind_speed_10m": [3.5] * (count - 5) + [None] * 5,
            "shortwave_radiation": [500.0] * count,
            "surface_pressure": [1008.2] * count,
        },
    }
    return body(answer | change)


def open_meteo_history(query: dict[str, list[str]]) -> bytes:
    first, last = (date.fromisoformat(query[name][0]) for name in ("start_date", "end_date"))
    days = [first + timedelta(days=i) for i in range((last - first).days + 1)]
    low = [
        round(8 - 8 * np.cos(2 * np.pi * (d.timetuple().tm_yday - 20) / 365.25) + d.toordinal() * 7 % 11 / 4, 1)
        for d in days
    ]
    return body(
        {
            "daily_units": {
                "time": "iso8601",
                "temperature_2m_min": "°C",
                "temperature_2m_max": "°C",
                "precipitation_sum": "mm",
            },
            "daily": {
                "time": [d.isoformat() for d in days],
                "temperature_2m_min": low,
                "temperature_2m_max": [round(v + 8, 1) for v in low],
                "precipitation_sum": [None if d.day == 31 else d.toordinal() % 5 * 0.6 for d in days],
            },
        }
    )


def nws_point() -> bytes:
    return body({"properties": {"gridId": "XXI", "gridX": 33, "gridY": "35", "timeZone": "Etc/GMT+3"}})


def nws_grid(start: datetime = datetime(2026, 6, 12, 6, tzinfo=UTC)) -> bytes:
    def spans(hours: int, values: list[float | None]) -> list[dict[str, object]]:
        return [
            {"validTime": f"{(start + timedelta(hours=i * hours)).isoformat()}/PT{hours}H", "value": v}
            for i, v in enumerate(values)
        ]

    temps = [round(12 - 6 * float(np.cos(2 * np.pi * (i + 2) / 24)), 1) for i in range(7 * 24)]
    return body(
        {
            "properties": {
                "updateTime": "2026-06-12T08:30:11+00:00",
                "temperature": {"uom": "wmoUnit:degC", "values": spans(1, [*temps])},
                "dewpoint": {"uom": "wmoUnit:degC", "values": spans(3, [8.0] * 56)},
                "relativeHumidity": {"uom": "wmoUnit:percent", "values": spans(3, [70] * 56)},
                "windSpeed": {"uom": "wmoUnit:km_h-1", "values": spans(12, [18.0] * 14)},
                "quantitativePrecipitation": {"uom": "wmoUnit:mm", "values": spans(6, [0.0, 3.0, None, 0.0] * 7)},
                "weather": {"values": []},
            }
        }
    )


def noaa_daily(query: dict[str, list[str]]) -> bytes:
    last = date.fromisoformat(query["endDate"][0])
    rows = []
    for i in range(400):
        day = last - timedelta(days=399 - i)
        rows.append(
            {
                "DATE": day.isoformat(),
                "STATION": query["stations"][0],
                "TMIN": f"{4 + i % 5:6.1f}",
                "TMIN_ATTRIBUTES": ",I,W" if i == 7 else ",,W",
                "TMAX": f"{14 + i % 7:.1f}",
                "TMAX_ATTRIBUTES": ",,W",
                "PRCP": f"{2.5 - i % 5 * 0.5:7.1f}",
                "PRCP_ATTRIBUTES": ",,W,0700",
            }
        )
    return body(rows)


def noaa_normals(query: dict[str, list[str]]) -> bytes:
    return body(
        [
            {
                "STATION": query["stations"][0],
                "DATE": f"{month:02d}",
                "MLY-TMIN-NORMAL": f"{20 + month:.1f}",
                "MLY-TMAX-NORMAL": f"{50 + month:.1f}",
                "MLY-PRCP-NORMAL": "-9999.00" if month == 12 else "2.00",
            }
            for month in range(1, 13)
        ]
    )


class Services:
    """A server on this machine that answers as services do. `replies` are given first, one a request."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, dict[str, str]]] = []
        """Path and headers of every request."""
        self.replies: list[Reply | Callable[[str], Reply]] = []
        self.headers: dict[str, str] = {}
        """Sent with every answer."""
        outer = self

        class Handler(BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                outer.asked.append((self.path, {k.lower(): v for k, v in self.headers.items()}))
                status, headers, content = outer.reply(self.path, dict(outer.asked[-1][1]))
                self.send_response(status)
                for name, value in {**outer.headers, **headers, "Content-Length": str(len(content))}.items():
                    self.send_header(name, value)
                self.end_headers()
                self.wfile.write(content)

            def log_message(self, *args: object) -> None:
                pass

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.base = f"http://127.0.0.1:{self._server.server_address[1]}"
        self._thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()

    def close(self) -> None:
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()

    def reply(self, path: str, headers: dict[str, str]) -> Reply:
        if self.replies:
            made = self.replies.pop(0)
            return made(path) if callable(made) else made
        if headers.get("if-none-match") and headers["if-none-match"] == self.headers.get("ETag"):
            return 304, {}, b""
        parts = urlsplit(path)
        query = parse_qs(parts.query)
        if parts.path == "/v1/forecast":
            return 200, {}, open_meteo()
        if parts.path == "/v1/archive":
            return 200, {}, open_meteo_history(query)
        if parts.path.startswith("/points/"):
            return 200, {}, nws_point()
        if parts.path == "/gridpoints/XXI/33,35":
            return 200, {}, nws_grid()
        if parts.path == "/access/services/data/v1":
            return 200, {}, (noaa_normals if "normals" in query["dataset"][0] else noaa_daily)(query)
        return 404, {}, body({"title": "Not Found", "detail": "nothing lies here"})
