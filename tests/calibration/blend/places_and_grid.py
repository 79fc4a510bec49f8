"""What the blend is estimated from and described with: the built-in places, the world grid, measured daily records;
distances, waves of the year, regressors.

Nothing to run; estimate.py, blend_model.py and check.py import it. Names are those of weather/blend. Needs numpy.
"""
import csv
import pathlib
import sys

import numpy as np

ROOT = pathlib.Path(__file__).resolve().parents[3]
DATASETS = ROOT / "datasets"
sys.dont_write_bytecode = True
sys.path.insert(0, str(DATASETS))
from make_world_grid import daily_extraterrestrial  # noqa: E402

MONTHS = np.arange(12)
# Orthonormal columns over the months: the mean; cosine, sine of one cycle a year; of two. CYCLES: of each column.
BASIS = np.column_stack([np.full(12, 12 ** -0.5)] + [wave(2 * np.pi * cycles * MONTHS / 12) / 6 ** 0.5
                                                     for cycles in (1, 2) for wave in (np.cos, np.sin)])
CYCLES = np.array([0, 1, 1, 2, 2])
STATISTICS = ["k_mean", "k_sd", "k_persistence", "temp_mean_c", "temp_range_c", "temp_sd_c", "temp_persistence",
              "temp_k_correlation", "range_k_slope"]
KINDS = ["measured", "measured_one_year", "typical_us", "typical_elsewhere", "sunshine", "city"]
MORE_THAN_ONE_YEAR = 1.5
YEARS_OF_SUNSHINE_SITES = 8.0  # of their measured temperatures; datasets/records/world_sites.tsv has 4 to 15

# What a place's pooled months keep of waves of 0, 1 and 2 cycles: a quarter, a half and a quarter of means, thirds of
# spreads (weather/fit/sky_fit.cpp).
COSINE = np.cos(np.pi / 6)
POOLED_MEANS = np.array([1, (1 + COSINE) / 2, 0.75])
POOLED_SPREADS = np.array([1, (1 + 2 * COSINE) / 3, 2 / 3])
POOLED = {"k_mean": POOLED_MEANS, "k_sd": POOLED_SPREADS, "temp_sd_c": POOLED_SPREADS,
          "temp_k_correlation": POOLED_SPREADS, "range_k_slope": POOLED_SPREADS}

# Columns of the grid's cells.
ELEVATION, LAND, K, TEMPERATURE, RANGE = 0, 1, slice(2, 14), slice(14, 26), slice(26, 38)


def rows_of(path):
    """Rows of a table as dictionaries; lines with # are skipped."""
    with open(DATASETS / path, encoding="utf-8", newline="") as file:
        lines = [line for line in file if not line.startswith("#")]
    tabs = path.endswith(".tsv")
    return list(csv.DictReader(lines, delimiter="\t" if tabs else ",",
                               quoting=csv.QUOTE_NONE if tabs else csv.QUOTE_MINIMAL))


def distance_km(lat, lon, lats, lons):
    lat, lon, lats, lons = (np.radians(x) for x in (lat, lon, lats, lons))
    half = np.sin((lats - lat) / 2) ** 2 + np.cos(lat) * np.cos(lats) * np.sin((lons - lon) / 2) ** 2
    return 2 * 6371.0 * np.arcsin(np.sqrt(np.clip(half, 0, 1)))


def distances_km(lat, lon):
    """Between all pairs."""
    return distance_km(lat[:, None], lon[:, None], lat[None], lon[None])


class Grid:
    """datasets/world/grid.txt: of each cell the elevation in m, the land share 0..1, and twelve months each of
    clearness, mean temperature in degrees C and daily range in K."""

    def __init__(self):
        def months(line, first, width, unit):
            return [int(line[first + width * m:first + width * (m + 1)]) / unit for m in range(12)]
        lines = (DATASETS / "world" / "grid.txt").read_text(encoding="ascii").splitlines()
        self.cells = np.array([[int(line[:4]), int(line[4:7]) / 100] + months(line, 7, 3, 1000)
                               + months(line, 43, 4, 10) + months(line, 91, 3, 10) for line in lines])
        self.cells = self.cells.reshape(72, 144, 38)

    @staticmethod
    def _corners(lat, lon):
        y = np.clip((np.asarray(lat, float) + 88.75) / 2.5, 0, 71)
        x = (np.asarray(lon, float) + 178.75) / 2.5
        i, j = np.minimum(np.floor(y).astype(int), 70), np.floor(x).astype(int)
        return i, j % 144, (j + 1) % 144, (y - i)[..., None], (x - j)[..., None]

    def at(self, lat, lon):
        """Linear between the four nearest centers; beyond the outermost rows, as they say."""
        i, j, next_j, north, east = self._corners(lat, lon)
        south_row = (1 - east) * self.cells[i, j] + east * self.cells[i, next_j]
        north_row = (1 - east) * self.cells[i + 1, j] + east * self.cells[i + 1, next_j]
        return (1 - north) * south_row + north * north_row

    def relief_m(self, lat, lon):
        """Standard deviation of the four cells' elevations."""
        i, j, next_j, _, _ = self._corners(lat, lon)
        corners = [self.cells[a, b, ELEVATION] for a in (i, i + 1) for b in (j, next_j)]
        return np.std(np.stack(corners), axis=0)


class Places:
    """The built-in places as arrays; `value` has twelve months of each statistic, nan where none is known."""

    def __init__(self, grid):
        sites, months = [], {}
        for layer in ("us", "canada", "world", "cities"):
            sites += [(layer, row) for row in rows_of(f"places/{layer}_sites.tsv")]
            for row in rows_of(f"places/{layer}.csv"):
                months.setdefault(row["id"], {})[int(row["month"])] = row

        def column(name):
            return np.array([float(row[name] or "nan") for _, row in sites])
        self.id = [row["id"] for _, row in sites]
        self.layer = np.array([layer for layer, _ in sites])
        self.lat, self.lon, self.elevation_m = column("latitude"), column("longitude"), column("elevation_m")
        self.years = column("record_years")
        self.kind = np.array([self._kind(layer, row) for layer, row in sites])
        self.value = {s: np.array([[float(months[i][m][s] or "nan") for m in range(1, 13)] for i in self.id])
                      for s in STATISTICS}
        self.grid = grid.at(self.lat, self.lon)
        # Made from the means by a regression, and a default.
        made = np.isin(self.kind, ["typical_elsewhere", "city"])
        self.value["k_sd"][made] = np.nan
        self.value["k_persistence"][made] = np.nan
        self.pooled = self.layer == "us"  # months of one year lean on those beside them

    @staticmethod
    def _kind(layer, row):
        if row["record"] == "measured":
            return "measured" if float(row["record_years"]) > MORE_THAN_ONE_YEAR else "measured_one_year"
        if row["record"] == "typical-year":
            return "typical_us" if layer == "us" else "typical_elsewhere"
        return "sunshine" if layer == "world" else "city"

    def states(self, statistic):
        """Which places say something of it that helps elsewhere; a temperature needs its height."""
        known = np.isfinite(self.value[statistic]).all(axis=1)
        return known & np.isfinite(self.elevation_m) if statistic == "temp_mean_c" else known


def winter(lat):
    """Cosine and sine of the year, 1 and 0 in January, turned round in the south and fading in the tropics."""
    share = np.clip(np.asarray(lat, float) / 23.45, -1, 1)[:, None]
    return share * np.cos(2 * np.pi * MONTHS / 12), share * np.sin(2 * np.pi * MONTHS / 12)


def regressors(names, lat, grid, elevation_m, k_mean):
    """(n, 12, names) of n places; an elevation of nan is unknown and taken for the grid's. See
    weather/blend/regressors.hpp."""
    lat = np.asarray(lat, float)
    one = np.ones((len(lat), 12))
    cosine, sine = winter(lat)
    latitude = (np.minimum(np.abs(lat), 65) / 90 - 0.45)[:, None] * one
    land = (grid[:, LAND] - 0.6)[:, None] * one
    height = np.nan_to_num(np.clip((np.asarray(elevation_m, float) - grid[:, ELEVATION]) / 1000, -3, 3))
    height = height[:, None] * one
    low = np.clip(height, -1.5, 1.5)
    clearness = np.clip(k_mean, 0.20, 0.75) - 0.5
    waves = grid[:, K] @ BASIS
    of_cycles = [waves[:, CYCLES == c] @ BASIS[:, CYCLES == c].T for c in range(3)]
    yearly = grid[:, TEMPERATURE] @ BASIS
    swing = (np.hypot(yearly[:, 1], yearly[:, 2]) / 6 ** 0.5 / 10 - 1)[:, None] * one
    made = dict(one=one, winter=cosine, spring=sine, latitude=latitude, land=land,
                grid_mean=np.clip(of_cycles[0], 0.25, 0.70) - 0.5, grid_year=of_cycles[1], grid_half=of_cycles[2],
                latitude_winter=latitude * cosine, latitude_spring=latitude * sine, land_winter=land * cosine,
                height=height, height_winter=height * cosine, height_spring=height * sine,
                low_height_winter=low * cosine, low_height_spring=low * sine,
                clearness=clearness, clearness_squared=clearness ** 2,
                swing=swing, swing_winter=swing * cosine, grid_range=grid[:, RANGE] / 10 - 1)
    return np.stack([made[name] for name in names], -1)


def harmonics(values, statistic, pooled):
    """Waves (n, 5) of months (n, 12); what pooling took of them is given back to places that are pooled."""
    waves = values @ BASIS
    if statistic in POOLED:
        waves[pooled] /= POOLED[statistic][CYCLES]
    return waves


def beside_grid(statistic, values, grid):
    """What is regressed: departures from the grid where it knows the statistic itself."""
    if statistic == "k_mean":
        return values - grid[:, K]
    return values - grid[:, TEMPERATURE] if statistic == "temp_mean_c" else values


def spread_by_mean(k, lat):
    """Of daily clearness; datasets/README.md has the regression."""
    return np.clip(-0.1002 + 0.9373 * k - 1.0424 * k * k + 0.1249 * np.abs(lat)[:, None] / 90, 0.05, 0.20)


class Station:
    """Statistics by month of daily clearness that was measured in several years."""

    def __init__(self, name, lat, lon, days):
        """days: dates as year, month, day, and irradiation in kWh/m2."""
        self.name, self.lat, self.lon = name, lat, lon
        outside = {}
        by_month, by_year = {}, {}
        for year, month, day, ghi in days:
            if (month, day) not in outside:
                first = sum([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][:month - 1])
                outside[month, day] = daily_extraterrestrial(lat, first + day - 1)
            k = ghi / outside[month, day]
            by_month.setdefault(month, []).append(k)
            by_year.setdefault(month, {}).setdefault(year, []).append(k)
        self.years = sum(len(v) for v in by_month.values()) / 365.25
        self.k_mean = np.array([np.mean(by_month[m]) for m in range(1, 13)])
        self.k_sd = np.array([np.std(by_month[m], ddof=1) for m in range(1, 13)])
        whole = {m: [v for v in years.values() if len(v) >= 25] for m, years in by_year.items()}
        self.variance_between_years = np.array([np.var([np.mean(v) for v in whole[m]], ddof=1) for m in range(1, 13)])
        self.variance_within_month = np.array([np.mean([np.var(v, ddof=1) for v in whole[m]]) for m in range(1, 13)])


# Coordinates as the owners of the records state them.
RECORDS = [("Davis, California", "us_ca_davis.csv", None, 38.536, -121.776),
           ("near Reno, Nevada", "us_nv_reno.csv", None, 39.503, -119.738),
           ("Bern", "ch_bern.csv", None, 46.991, 7.464), ("Sion", "ch_sion.csv", None, 46.219, 7.330),
           ("Graz", "europe_daily.csv", "at_graz", 47.078, 15.449),
           ("De Bilt", "europe_daily.csv", "nl_knmi_de_bilt", 52.1, 5.18),
           ("Dunsany", "europe_daily.csv", "ie_1375", 53.516, -6.66),
           ("Malin Head", "europe_daily.csv", "ie_1575", 55.372, -7.339),
           ("Johnstown Castle", "europe_daily.csv", "ie_1775", 52.298, -6.497),
           ("Athenry", "europe_daily.csv", "ie_1875", 53.289, -8.786),
           ("Valentia", "europe_daily.csv", "ie_2275", 51.938, -10.241),
           ("Belmullet", "europe_daily.csv", "ie_2375", 54.228, -10.007),
           ("Mace Head", "europe_daily.csv", "ie_275", 53.326, -9.901),
           ("Dublin Airport", "europe_daily.csv", "ie_532", 53.428, -6.241)]


def stations():
    """All stations with daily records of several years. The first two are not among the built-in places."""
    tables, found = {}, []
    for name, file, station, lat, lon in RECORDS:
        table = tables.setdefault(file, rows_of(f"records/{file}"))
        days = [(*map(int, row["date"].split("-")), float(row["ghi_kwh_m2"])) for row in table
                if row["ghi_kwh_m2"] and station in (None, row.get("id"))]
        found.append(Station(name, lat, lon, days))
    return found


def stations_not_built_in():
    return stations()[:2]
