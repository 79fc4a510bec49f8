#!/usr/bin/env python3
"""The months of any place on Earth, each with its standard error: the program's model (weather/blend) once more, in
numpy, so that it can be estimated and judged.

    /usr/bin/python3 tests/calibration/blend/blend_model.py -- 38.57,-109.55 38.57,-109.55,1227   # height in m
    /usr/bin/python3 tests/calibration/blend/blend_model.py --site devils-lake-nd                 # by its own name

Takes the parameters from parameters.json beside it. Needs numpy.
"""
import argparse
import json
import pathlib

import numpy as np

from places_and_grid import (BASIS, CYCLES, ELEVATION, K, STATISTICS, TEMPERATURE, YEARS_OF_SUNSHINE_SITES,
                             Grid, Places, beside_grid, distance_km, distances_km, harmonics, regressors,
                             spread_by_mean, winter)

PARAMETERS = pathlib.Path(__file__).resolve().parent / "parameters.json"
NEIGHBORS = 40  # against 400, K differs by 0.0015 rms and temperatures by 0.08 K
NEXT_KM = 1e-9  # even at a site's own spot another place is another one
BOUNDS = dict(k_mean=(0.02, 0.80), k_sd=(0.03, 0.30), k_persistence=(0, 0.8), temp_mean_c=(-90, 60),
              temp_range_c=(1, 40), temp_sd_c=(0.5, 12), temp_persistence=(0, 0.9), temp_k_correlation=(-0.8, 0.8),
              range_k_slope=(-10, 40))
RELIEF_AT_LEAST_M = 100


def site_variance(model, statistic, cycles, kind, years):
    """Error variance of each site's waves of so many cycles; `model` as in parameters.json."""
    by_kind = model["departures"][cycles]["site_error"]
    variance = np.array([by_kind[k] for k in kind]) ** 2
    if model["month_error"] > 0:
        sun = (kind == "sunshine") & statistic.startswith("temp")  # their temperatures are measured
        measured = (kind == "measured") | sun
        n = np.where(sun, YEARS_OF_SUNSHINE_SITES, years)[measured]
        # A constant error is one of the yearly mean alone, which is the sum of months over sqrt 12.
        constant = 12 * model["instrument_error"] ** 2 if cycles == 0 else 0.0
        variance[measured] = model["month_error"] ** 2 / n + constant
    return variance


class Blend:
    """As PlaceBlend of the program."""

    def __init__(self, parameters=None, neighbors=NEIGHBORS):
        self.parameters = parameters or json.loads(PARAMETERS.read_text(encoding="utf-8"))
        self.neighbors = neighbors
        self.grid = Grid()
        self.sites = Places(self.grid)
        self.contradicts = np.isin(self.sites.id, self.parameters["contradicting_sites"])
        self.height_unit = RELIEF_AT_LEAST_M + self.grid.relief_m(self.sites.lat, self.sites.lon)
        self.states = {s: self.sites.states(s) for s in STATISTICS}
        self.departures = {s: self._departures(s) for s in STATISTICS}

    def _departures(self, statistic):
        """Of all sites, as harmonics."""
        p, sites = self.parameters, self.sites
        values = beside_grid(statistic, self._complete(statistic), sites.grid)
        terms = p[statistic]["terms"]
        x = regressors(terms, sites.lat, sites.grid, sites.elevation_m, sites.value["k_mean"])
        return harmonics(values, statistic, sites.pooled) - (x @ np.array(list(terms.values()))) @ BASIS

    def _complete(self, statistic):
        """One year does not show how years differ, and typical years lack more in winter."""
        p, sites = self.parameters, self.sites
        values = sites.value[statistic]
        if statistic != "k_sd":
            return values
        of_one_year = np.isin(sites.kind, ["typical_us", "measured_one_year"])[:, None]
        values = np.where(of_one_year, np.hypot(values, p["one_year_lacks"]), values)
        lacks = p["typical_lacks"] + p["typical_lacks_in_winter"] * winter(sites.lat)[0]
        typical = (sites.kind == "typical_us")[:, None]
        return values + typical * spread_by_mean(sites.value["k_mean"], sites.lat) * lacks

    def _nearest(self, km, usable):
        used = np.where(usable)[0]
        return used[np.argsort(km[used], kind="stable")[:self.neighbors]]

    def _krige(self, statistic, km, allowed):
        """Harmonics of the departure and their variances, from km to each site."""
        sites, model = self.sites, self.parameters[statistic]
        used = self._nearest(km, allowed & self.states[statistic])
        between = distances_km(sites.lat[used], sites.lon[used])
        mean, variance = np.zeros(5), np.zeros(5)
        for cycles, field in enumerate(model["departures"]):
            def covariance(d, field=field):
                return (field["near_sd"] ** 2 * np.exp(-d / field["near_km"])
                        + field["far_sd"] ** 2 * np.exp(-d / field["far_km"]))
            local = field["local_sd"] ** 2
            among = covariance(between)
            among[np.diag_indices(len(used))] += local + site_variance(model, statistic, cycles, sites.kind[used],
                                                                       sites.years[used])
            here = covariance(km[used]) + local * (km[used] == 0)
            weights = np.linalg.solve(among, here)
            columns = CYCLES == cycles
            mean[columns] = weights @ self.departures[statistic][used][:, columns]
            variance[columns] = max(0.0, covariance(0.0) + local - weights @ here)
        return mean, variance

    def _prior_variance(self, statistic):
        out = np.zeros(5)
        for cycles, field in enumerate(self.parameters[statistic]["departures"]):
            out[CYCLES == cycles] = field["near_sd"] ** 2 + field["far_sd"] ** 2 + field["local_sd"] ** 2
        return out

    def _usual_height(self, lat, lon, km, allowed):
        """Above the grid's elevation, with its standard error, m."""
        sites, field = self.sites, self.parameters["height"]
        used = self._nearest(km, allowed & np.isfinite(sites.elevation_m))
        departure = (sites.elevation_m - sites.grid[:, ELEVATION])[used] / self.height_unit[used] - field["mean"]
        among = field["sd"] ** 2 * np.exp(-distances_km(sites.lat[used], sites.lon[used]) / field["km"])
        here = field["sd"] ** 2 * np.exp(-km[used] / field["km"])
        weights = np.linalg.solve(among, here)
        unit = RELIEF_AT_LEAST_M + float(self.grid.relief_m(lat, lon))
        return ((field["mean"] + weights @ departure) * unit,
                np.sqrt(max(0.0, field["sd"] ** 2 - weights @ here)) * unit)

    def _regression(self, statistic, lat, grid, elevation_m, k_mean):
        terms = self.parameters[statistic]["terms"]
        return regressors(terms, [lat], grid, [elevation_m], k_mean[None])[0] @ np.array(list(terms.values()))

    def months(self, lat, lon, elevation_m=None, leave_out_km=-1.0, own=None):
        """Values and variances of all statistics. `own` is the index of a site that is asked for by its name."""
        p, sites = self.parameters, self.sites
        km = np.maximum(distance_km(lat, lon, sites.lat, sites.lon), NEXT_KM)
        allowed = km > leave_out_km
        sky = allowed & ~self.contradicts
        if own is not None:
            km[own], sky[own], elevation_m = 0.0, True, sites.elevation_m[own]
        known = elevation_m is not None and np.isfinite(elevation_m)
        z = float(elevation_m) if known else np.nan
        grid = self.grid.at([lat], [lon])
        if not known:
            above, height_error = self._usual_height(lat, lon, km, allowed)
            usual = grid[0, ELEVATION] + above
            if own is None:     # a site's own months tell of its height
                z = usual
        instrument = p["k_mean"]["instrument_error"]
        values, variances = {}, {}

        def estimate(statistic, z=z):
            departure, variance = self._krige(statistic, km, sky if statistic in ("k_mean", "k_sd") else allowed)
            months = self._regression(statistic, lat, grid, z, values.get("k_mean", grid[0, K]))
            values[statistic] = months + BASIS @ departure
            variances[statistic] = BASIS ** 2 @ variance

        def close(statistic, more):
            values[statistic] = np.clip(values[statistic], *BOUNDS[statistic])
            variances[statistic] = variances[statistic] + more ** 2

        estimate("k_mean")
        values["k_mean"] = values["k_mean"] + grid[0, K]
        variances["k_mean"] = variances["k_mean"] * (1 + p["winter_variance"] * winter([lat])[0][0]) + instrument ** 2
        close("k_mean", p["higher_cycles_sd"])
        if own is not None and self.contradicts[own]:
            variances["k_mean"] = variances["k_mean"] + (sites.value["k_mean"][own] - values["k_mean"]) ** 2 / 4
        k = values["k_mean"]

        estimate("k_sd")
        slope = (self._regression("k_sd", lat, grid, z, k + 0.01)
                 - self._regression("k_sd", lat, grid, z, k - 0.01)) / 0.02
        variances["k_sd"] = variances["k_sd"] + slope ** 2 * variances["k_mean"]
        close("k_sd", p["k_sd"]["more_error"])

        by_height = 0.0
        if not known:
            by_height = (self._regression("temp_mean_c", lat, grid, usual + 50, k)
                         - self._regression("temp_mean_c", lat, grid, usual - 50, k)) / 100 * height_error
        estimate("temp_mean_c", z if known else usual)
        values["temp_mean_c"] = values["temp_mean_c"] + grid[0, TEMPERATURE]
        unknown = variances["temp_mean_c"] / (BASIS ** 2 @ self._prior_variance("temp_mean_c"))
        variances["temp_mean_c"] = variances["temp_mean_c"] + (p["far_more_c"] * unknown) ** 2 + by_height ** 2
        close("temp_mean_c", p["temp_mean_c"]["more_error"])

        for statistic in STATISTICS:
            if statistic not in values:
                estimate(statistic)
                close(statistic, p[statistic]["more_error"])
        return values, variances

    def with_errors(self, *place, **options):
        """months() as statistic -> (twelve values, twelve standard errors); that of k_mean with instruments and
        decades in it, which PlaceBlend leaves to weather/standard_errors.hpp."""
        values, variances = self.months(*place, **options)
        return {s: (values[s], np.sqrt(variances[s])) for s in STATISTICS}


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--site", action="store_true", help="built-in places by id instead of coordinates")
    parser.add_argument("place", nargs="+")
    asked = parser.parse_args()
    blend = Blend()
    np.set_printoptions(precision=3, suppress=True, linewidth=120)
    for place in asked.place:
        print(place)
        if asked.site:
            own = blend.sites.id.index(place)
            months = blend.with_errors(blend.sites.lat[own], blend.sites.lon[own], own=own)
        else:
            months = blend.with_errors(*map(float, place.split(",")))
        for statistic, (values, errors) in months.items():
            print(f"  {statistic:19s}{values}\n{'+/-':>20s} {errors}")


if __name__ == "__main__":
    main()
