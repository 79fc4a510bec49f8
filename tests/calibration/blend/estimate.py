#!/usr/bin/env python3
"""Estimates the parameters of the blend from the built-in places, the world grid and two measured records.

    /usr/bin/python3 tests/calibration/blend/estimate.py                    # prints them; some 2 minutes
    /usr/bin/python3 tests/calibration/blend/estimate.py --out FILE.json    # writes them, too
    /usr/bin/python3 tests/calibration/blend/estimate.py --cpp              # as lists of weather/blend/blend_model.cpp
    /usr/bin/python3 tests/calibration/blend/estimate.py --from tests/calibration/blend/parameters.json --cpp

The last estimates nothing and prints what the file has; clang-format lays the lists out as they stand.

Of each statistic and each number of cycles a year, sites' departures from a regression are a Gaussian process with two
lengths and an error for each kind of site: its parameters by maximum likelihood, the regression by generalized least
squares, in turn. Sites of clearness that contradict grid and neighbors are found on the way and left out. Needs numpy
and scipy (Debian: python3-numpy, python3-scipy). ../BLEND.md says what came out.
"""
import argparse
import json
import pathlib

import numpy as np
from scipy.linalg import solve_triangular
from scipy.optimize import minimize

from blend_model import RELIEF_AT_LEAST_M
from places_and_grid import (BASIS, CYCLES, ELEVATION, K, KINDS, STATISTICS, YEARS_OF_SUNSHINE_SITES, Grid, Places,
                             beside_grid, distances_km, harmonics, regressors, spread_by_mean, stations,
                             stations_not_built_in, winter)

# What each statistic is regressed on.
TERMS = {
    "k_mean": ["one", "grid_mean", "grid_year", "winter", "spring", "latitude_winter", "latitude_spring",
               "land_winter", "low_height_winter", "low_height_spring", "grid_half"],
    "k_sd": ["one", "clearness", "clearness_squared", "latitude", "winter", "latitude_winter"],
    "k_persistence": ["one"],
    "temp_mean_c": ["one", "height", "height_winter", "height_spring", "winter"],
    "temp_range_c": ["one", "grid_range", "clearness", "land"],
    "temp_sd_c": ["one", "swing", "winter", "swing_winter"],
    "temp_persistence": ["one", "latitude"],
    "temp_k_correlation": ["one", "winter", "spring", "land", "latitude", "swing", "latitude_winter", "swing_winter"],
    "range_k_slope": ["one", "winter", "spring", "clearness", "latitude", "land"],
}
# Where the search begins: near_sd, far_sd and the sites' error by cycles a year; near_km, far_km.
BEGIN = {
    "k_mean": ([0.057, 0.035, 0.014], [0.09, 0.03, 0.02], [0.06, 0.045, 0.042], 120, 2000),
    "k_sd": ([0.03, 0.01, 0.005], [0.07, 0.025, 0.013], [0.03, 0.02, 0.02], 300, 3000),
    "k_persistence": ([0.1], [0.15], [0.2], 150, 1500),
    "temp_mean_c": ([3, 1.5, 0.5], [4, 2, 0.7], [2, 1.5, 1.2], 100, 1500),
    "temp_range_c": ([5, 1.5, 0.7], [4, 1.5, 0.7], [3, 1, 1], 80, 1500),
    "temp_sd_c": ([0.7, 0.3, 0.2], [1, 0.5, 0.3], [0.5, 0.4, 0.4], 200, 1500),
    "temp_persistence": ([0.1], [0.2], [0.15], 150, 1500),
    "temp_k_correlation": ([0.1, 0.1, 0.05], [0.4, 0.2, 0.1], [0.2, 0.2, 0.15], 150, 1500),
    "range_k_slope": ([6, 2, 1], [8, 4, 2], [6, 4, 3], 100, 1500),
}
NEAR_KM, FAR_KM = (20, 500), (300, 4000)  # lengths that the search may take

# Errors of measured months, over the square root of the years: K from year to year at the 14 stations of
# datasets/records (constants() prints it); the others as in weather/standard_errors.hpp.
MONTH_ERROR = dict(k_mean=0.050, k_sd=0.024, k_persistence=0.08, temp_mean_c=1.3, temp_range_c=1.1)
# Pyranometers and decades: common practice, no source.
INSTRUMENT_ERROR = dict(k_mean=0.011, k_sd=0.003, k_persistence=0.01, temp_mean_c=0.2, temp_range_c=0.3)
# At any place: k_persistence, months about their year at 22 measured places; others common practice, no source.
MORE_ERROR = dict(k_mean=0, k_sd=0.004, k_persistence=0.05, temp_mean_c=0.5, temp_range_c=0.5, temp_sd_c=0.1,
                  temp_persistence=0.02, temp_k_correlation=0.03, range_k_slope=0.5)
# The spread that single months of single years lack, in quadrature: the same 14 stations.
ONE_YEAR_LACKS = 0.042
# 27 sites from sunshine hours cannot tell their own error: of K they take that of cities. Of the spread, by judgment,
# a constant 0.010 of all months and less by wave: the method's error is common to all of them.
SUNSHINE_SPREAD_ERROR = [0.035, 0.012, 0.008]
# 25 sites of one year tell theirs of K badly: the yearly mean was estimated once and then held; of the waves,
# MONTH_ERROR pooled and given back, rounded.
ONE_YEAR_ERROR = [0.073, 0.040, 0.040]
# Modelled stations, not among the datasets, more than 2,000 km from any temperature: rms 2.47 K, less 1.4 K that they
# are off near sites and 1.58 K that the model's variance holds.
FAR_MORE_C = 1.27
# What persistence does not explain at nine stations: mean 0.094, SD between them 0.055, most of them drier than most
# camps; the built-in measured places take 0.05. The middle, by judgment.
YEAR_SHARE, YEAR_SHARE_ERROR = 0.07, 0.055

# A site contradicts its neighbors beyond so many standard errors, where at least so many others lie that near. Some 560
# sites of five free numbers each can be judged: one or so would be found by chance.
CONTRADICTS, NEAR_SITES, NEAR_SITES_KM = 3.5, 3, 300.0


class Field:
    """Departures of one statistic at all sites that state it. Parameters of a number of cycles are logarithms: near_sd,
    near_km, far_sd, far_km, local_sd, the error of each kind, and for k_sd what all stations of 2020 share."""

    def __init__(self, statistic, grid, places, left_out=()):
        self.statistic = statistic
        use = places.states(statistic)
        use[list(left_out)] = False
        self.index = np.where(use)[0]
        values, k = places.value[statistic][use], places.value["k_mean"][use]
        self.lat, self.lon, self.kind, self.years = (x[use] for x in (places.lat, places.lon, places.kind,
                                                                      places.years))
        elevation_m, pooled = places.elevation_m[use], places.pooled[use]
        if statistic in ("k_mean", "k_sd"):
            more = stations_not_built_in()
            self.lat = np.append(self.lat, [s.lat for s in more])
            self.lon = np.append(self.lon, [s.lon for s in more])
            self.years = np.append(self.years, [s.years for s in more])
            self.kind = np.append(self.kind, ["measured"] * len(more))
            elevation_m = np.append(elevation_m, [np.nan] * len(more))
            pooled = np.append(pooled, [False] * len(more))
            k = np.vstack([k, [s.k_mean for s in more]])
            values = np.vstack([values, [getattr(s, statistic) for s in more]])
        cells = grid.at(self.lat, self.lon)
        self.kinds = self._kinds()
        if statistic == "k_sd":
            of_one_year = np.isin(self.kind, ["typical_us", "measured_one_year"])[:, None]
            values = np.where(of_one_year, np.hypot(values, ONE_YEAR_LACKS), values)
        self.months = beside_grid(statistic, values, cells)
        self.waves = harmonics(self.months, statistic, pooled)
        x = regressors(TERMS[statistic], self.lat, cells, elevation_m, k)
        self.x = np.einsum("nmp,mj->njp", x, BASIS)
        if statistic == "k_sd":  # what typical years lack, as two more terms
            lacks = (self.kind == "typical_us")[:, None] * spread_by_mean(k, self.lat)
            of_typical = [harmonics(-lacks * season, statistic, pooled) for season in (1, winter(self.lat)[0])]
            self.x = np.concatenate([self.x, np.stack(of_typical, -1)], -1)
        self.km = distances_km(self.lat, self.lon)
        one_year = self.kind == "measured_one_year"
        self.same_year = np.outer(one_year, one_year) if statistic == "k_sd" else None
        self.cycles = range(len(BEGIN[statistic][0]))
        self.parameters = [self._begin(c) for c in self.cycles]

    def _kinds(self):
        """Kinds with an error of their own; too few to be told apart share one."""
        if self.statistic in ("k_mean", "k_sd"):
            share = {"sunshine": "city"} if self.statistic == "k_mean" else {}
        else:
            share = {"typical_elsewhere": "typical_us", "measured_one_year": "typical_us", "sunshine": "typical_us"}
        self.error_kind = np.array([share.get(k, k) for k in self.kind])
        return [k for k in ("typical_us", "typical_elsewhere", "city", "measured_one_year")
                if (self.error_kind == k).any()]

    @property
    def has_local(self):
        return self.statistic == "k_sd"  # elsewhere the near length or the sites' errors hold it

    def _begin(self, cycles):
        near, far, error, near_km, far_km = BEGIN[self.statistic]
        kinds = [error[cycles]] * len(self.kinds)
        if self.statistic == "k_mean":
            kinds = [[0.060, 0.031, 0.072, ONE_YEAR_ERROR[0]], [0.045, 0.022, 0.030, ONE_YEAR_ERROR[1]],
                     [0.042, 0.024, 0.012, ONE_YEAR_ERROR[2]]][cycles]
        of_year = [error[cycles]] if self.statistic == "k_sd" else []
        near_sd = np.exp(-12) if self.statistic == "k_sd" else near[cycles]  # one length is enough for it
        return np.log([near_sd, near_km, far[cycles], far_km, error[cycles] * 0.7, *kinds, *of_year])

    def site_variance(self, p, cycles):
        variance = np.zeros(len(self.lat))
        for kind, log_error in zip(self.kinds, p[5:]):
            variance[self.error_kind == kind] = np.exp(2 * log_error)
        sun = self.kind == "sunshine"
        if self.statistic == "k_sd":
            variance[sun] = SUNSHINE_SPREAD_ERROR[cycles] ** 2
        if self.statistic in MONTH_ERROR:
            sun = sun & self.statistic.startswith("temp")
            measured = (self.kind == "measured") | sun
            n = np.where(sun, YEARS_OF_SUNSHINE_SITES, self.years)[measured]
            constant = 12 * INSTRUMENT_ERROR[self.statistic] ** 2 if cycles == 0 else 0.0
            variance[measured] = MONTH_ERROR[self.statistic] ** 2 / n + constant
        return variance

    def covariance(self, p, cycles):
        out = (np.exp(2 * p[0] - self.km / np.exp(p[1])) + np.exp(2 * p[2] - self.km / np.exp(p[3])))
        if self.same_year is not None:  # 2020 was what it was over 500 km
            out += np.where(self.same_year, np.exp(2 * p[-1] - self.km / 500), 0)
        local = np.exp(2 * p[4]) if self.has_local else 0.0
        out[np.diag_indices(len(out))] += self.site_variance(p, cycles) + local
        return out

    def _regress(self):
        terms = self.x.shape[-1]
        xx, xy = np.zeros((terms, terms)), np.zeros(terms)
        for cycles in self.cycles:
            columns = CYCLES == cycles
            root = np.linalg.cholesky(self.covariance(self.parameters[cycles], cycles))
            x = solve_triangular(root, self.x[:, columns].reshape(len(root), -1), lower=True).reshape(-1, terms)
            xx += x.T @ x
            xy += x.T @ solve_triangular(root, self.waves[:, columns], lower=True).ravel()
        variance = np.linalg.inv(xx)
        self.coefficients, self.errors = variance @ xy, np.sqrt(np.diag(variance))
        self.departures = self.waves - self.x @ self.coefficients

    def _search(self, cycles, steps):
        """Maximum likelihood of one number of cycles, the regression being held."""
        begin, waves = self.parameters[cycles], self.departures[:, CYCLES == cycles]
        held = set() if self.has_local else {4}
        if self.statistic == "k_sd":
            held |= {0, 1}
        if self.statistic == "k_mean":
            held.add(5 + self.kinds.index("measured_one_year"))
        free = [i for i in range(len(begin)) if i not in held]

        def whole(some):
            out = begin.copy()
            out[free] = some
            return out

        def minus_log_likelihood(some):
            try:
                root = np.linalg.cholesky(self.covariance(whole(some), cycles))
            except np.linalg.LinAlgError:
                return 1e9
            white = solve_triangular(root, waves, lower=True, check_finite=False)
            return 0.5 * (white ** 2).sum() + waves.shape[1] * np.log(np.diag(root)).sum()

        size = np.log(waves.std())
        lengths = {1: np.log(NEAR_KM), 3: np.log(FAR_KM)}
        found = minimize(minus_log_likelihood, begin[free], method="L-BFGS-B",
                         bounds=[lengths.get(i, (size - 5, size + 1.5)) for i in free],
                         options=dict(maxiter=steps, maxfun=12 * steps))
        self.parameters[cycles] = whole(found.x)
        return found.fun

    def fit(self, rounds=2, steps=15):
        for _ in range(rounds):
            self._regress()
            self.minus_log_likelihood = sum(self._search(cycles, steps) for cycles in self.cycles)
        self._regress()
        return self

    def leave_one_out(self):
        """What each site says less what the others say of it, and that difference's variance; (n, 5)."""
        off, variance = np.zeros_like(self.departures), np.zeros_like(self.departures)
        for cycles in self.cycles:
            columns = CYCLES == cycles
            inverse = np.linalg.inv(self.covariance(self.parameters[cycles], cycles))
            off[:, columns] = inverse @ self.departures[:, columns] / np.diag(inverse)[:, None]
            variance[:, columns] = (1 / np.diag(inverse))[:, None]
        return off, variance

    def as_written(self):
        count = len(TERMS[self.statistic])
        out = dict(terms=named(TERMS[self.statistic], self.coefficients[:count]),
                   term_errors=named(TERMS[self.statistic], self.errors[:count]), departures=[])
        for cycles in self.cycles:
            p = [float(f"{x:.5g}") for x in np.exp(self.parameters[cycles])]
            errors = dict(zip(self.kinds, p[5:]))
            if self.statistic == "k_mean":
                errors["sunshine"] = errors["city"]
            if self.statistic == "k_sd":
                errors["sunshine"] = SUNSHINE_SPREAD_ERROR[cycles]
            out["departures"].append(dict(
                near_sd=0.0 if self.statistic == "k_sd" else p[0], near_km=p[1], far_sd=p[2], far_km=p[3],
                local_sd=p[4] if self.has_local else 0.0,
                site_error={kind: errors.get(kind, errors["typical_us"]) for kind in KINDS}))
        out.update(month_error=MONTH_ERROR.get(self.statistic, 0),
                   instrument_error=INSTRUMENT_ERROR.get(self.statistic, 0), more_error=MORE_ERROR[self.statistic])
        return out


def named(names, numbers):
    return {name: round(float(x), 6) for name, x in zip(names, numbers)}


def contradicting(field, places):
    """Sites, worst first, whose leave-one-out month is off by more than CONTRADICTS; those measured for years stay.
    Each one found is taken out before the next is looked for."""
    found, kept = [], np.arange(len(field.lat))
    inverses = [np.linalg.inv(field.covariance(p, cycles)) for cycles, p in enumerate(field.parameters)]
    while True:
        off, variance = np.zeros((len(kept), 5)), np.zeros((len(kept), 5))
        for cycles, inverse in enumerate(inverses):
            columns = CYCLES == cycles
            off[:, columns] = inverse @ field.departures[kept][:, columns] / np.diag(inverse)[:, None]
            variance[:, columns] = (1 / np.diag(inverse))[:, None]
        z = (off @ BASIS.T) / np.sqrt(variance @ (BASIS ** 2).T)
        near = (field.km[np.ix_(kept, kept)] < NEAR_SITES_KM).sum(axis=1) - 1
        judged = (near >= NEAR_SITES) & (field.kind[kept] != "measured") & (kept < len(field.index))
        worst = np.where(judged, np.abs(z).max(axis=1), 0)
        i = int(np.argmax(worst))
        if worst[i] <= CONTRADICTS:
            return found
        month = int(np.argmax(np.abs(z[i])))
        found.append(dict(index=field.index[kept[i]], id=places.id[field.index[kept[i]]], z=z[i],
                          worst=z[i, month], off=(off @ BASIS.T)[i, month]))
        kept = np.delete(kept, i)
        inverses = [without(inverse, i) for inverse in inverses]


def without(inverse, i):
    """Inverse of the matrix without row and column i."""
    less = inverse - np.outer(inverse[:, i], inverse[i]) / inverse[i, i]
    return np.delete(np.delete(less, i, 0), i, 1)


def winter_variance(field):
    """By how much more the squared errors of K, in units of the model's, are in winter than in the year."""
    off, variance = field.leave_one_out()
    squares = (off @ BASIS.T) ** 2 / (variance @ (BASIS ** 2).T)
    cosine = winter(field.lat)[0]
    judged = np.isin(field.kind, ["typical_us", "typical_elsewhere", "measured"])
    x = np.stack([np.ones_like(cosine), cosine], -1)[judged].reshape(-1, 2)
    level, season = np.linalg.lstsq(x, squares[judged].ravel(), rcond=None)[0]
    return round(float(season / level), 3)


def higher_cycles_sd(grid, places):
    """What months of measured places have beyond two cycles a year, without the noise of years."""
    more, measured = stations_not_built_in(), places.kind == "measured"
    cells = np.vstack([places.grid[measured], grid.at([s.lat for s in more], [s.lon for s in more])])
    k = np.vstack([places.value["k_mean"][measured], [s.k_mean for s in more]]) - cells[:, K]
    years = np.append(places.years[measured], [s.years for s in more])
    rest = ((k - k @ BASIS @ BASIS.T) ** 2).mean()
    noise = 7 / 12 * (MONTH_ERROR["k_mean"] ** 2 / years).mean()
    return round(float(np.sqrt(max(0.0, rest - noise))), 4)


def usual_heights(places):
    """How sites lie above the grid's elevation, over RELIEF_AT_LEAST_M and the relief: mean, SD and length."""
    use = np.isfinite(places.elevation_m)
    relief = Grid().relief_m(places.lat[use], places.lon[use])
    u = (places.elevation_m - places.grid[:, ELEVATION])[use] / (RELIEF_AT_LEAST_M + relief)
    km = distances_km(places.lat[use], places.lon[use])

    def mean_and_likelihood(p):
        among = np.exp(2 * p[0] - km / np.exp(p[1]))
        among[np.diag_indices(len(u))] += np.exp(2 * p[2])
        root = np.linalg.cholesky(among)
        one, white = (solve_triangular(root, x, lower=True) for x in (np.ones(len(u)), u))
        mean = (one @ white) / (one @ one)
        return mean, 0.5 * ((white - mean * one) ** 2).sum() + np.log(np.diag(root)).sum()

    found = minimize(lambda p: mean_and_likelihood(p)[1], np.log([0.7, 150, 0.5]), method="L-BFGS-B")
    return dict(mean=round(float(mean_and_likelihood(found.x)[0]), 3), sd=round(float(np.exp(found.x[0])), 3),
                km=float(f"{np.exp(found.x[1]):.2g}"))


def constants():
    """Prints what records say of constants that are set above."""
    known = stations()
    between = np.sqrt(np.mean([s.variance_between_years for s in known]))
    lacks = np.sqrt(np.mean([s.k_sd ** 2 - s.variance_within_month for s in known]))
    print(f"{len(known)} stations: SD of a month's mean K between years {between:.4f} (set: {MONTH_ERROR['k_mean']}), "
          f"spread that one year lacks {lacks:.4f} (set: {ONE_YEAR_LACKS})")


def estimate():
    grid = Grid()
    places = Places(grid)
    # The fit and the search for sites that contradict it in turn, twice.
    field = Field("k_mean", grid, places).fit(rounds=1, steps=10)
    for _ in range(2):
        every = Field("k_mean", grid, places)
        every.parameters, every.departures = field.parameters, every.waves - every.x @ field.coefficients
        found = contradicting(every, places)
        left_out = [site["index"] for site in found]
        field = Field("k_mean", grid, places, left_out)
        field.parameters = [p.copy() for p in every.parameters]
        field.fit(rounds=1, steps=10)
    for site in sorted(found, key=lambda site: site["id"]):
        months = ",".join(str(m + 1) for m in range(12) if abs(site["z"][m]) > 3)
        print(f"contradicts: {site['id']}, months {months}, z {site['worst']:.1f}, by {site['off']:.3f}", flush=True)
    out = {}
    for statistic in STATISTICS:
        if statistic != "k_mean":
            fitted = Field(statistic, grid, places, left_out if statistic == "k_sd" else ()).fit()
        else:
            fitted = field
        out[statistic] = fitted.as_written()
        show(statistic, out[statistic], fitted.minus_log_likelihood)
        if statistic == "k_sd":
            lacks, errors = fitted.coefficients[-2:], fitted.errors[-2:]
    out.update(one_year_lacks=ONE_YEAR_LACKS)
    for name, number, error in zip(("typical_lacks", "typical_lacks_in_winter"), lacks, errors):
        out.update({name: round(float(number), 4), f"{name}_error": round(float(error), 4)})
    out.update(winter_variance=winter_variance(field), higher_cycles_sd=higher_cycles_sd(grid, places),
               far_more_c=FAR_MORE_C, year_share=YEAR_SHARE, year_share_error=YEAR_SHARE_ERROR,
               height=usual_heights(places), contradicting_sites=sorted(site["id"] for site in found))
    for name in list(out)[len(STATISTICS):]:
        print(f"{name}: {out[name]}")
    constants()
    return out


def show(statistic, model, minus_log_likelihood=None):
    fit = "" if minus_log_likelihood is None else f": -log likelihood {minus_log_likelihood:.1f}"
    print(f"{statistic}{fit}")
    errors = model["term_errors"]
    print("  " + ", ".join(f"{name} {x:g} +- {errors[name]:.2g}" for name, x in model["terms"].items()))
    for cycles, field in enumerate(model["departures"]):
        numbers = ", ".join(f"{name} {field[name]:g}" for name in list(field)[:5])
        print(f"  {cycles} cycles: {numbers}; " + ", ".join(f"{k} {e:g}" for k, e in field["site_error"].items()),
              flush=True)


def as_cpp(parameters):
    """Lists as in weather/blend/blend_model.cpp."""
    def braces(items):
        return "{" + ", ".join(items) + "}"
    lines = []
    for statistic in STATISTICS:
        model = parameters[statistic]
        terms = braces(f"{{R::{name}, {x:.6g}}}" for name, x in model["terms"].items())
        fields = braces(braces([f"{field[name]:.6g}" for name in ("near_sd", "near_km", "far_sd", "far_km", "local_sd")]
                               + [braces(f"{field['site_error'][kind]:.6g}" for kind in KINDS)])
                        for field in model["departures"])
        errors = ", ".join(f"{model[name]:g}" for name in ("month_error", "instrument_error", "more_error"))
        lines.append(f"// {statistic}\n{{{terms},\n {fields},\n {errors}}},")
    return "\n".join(lines)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--from", dest="source", type=pathlib.Path, help="take them from this file, estimate nothing")
    parser.add_argument("--out", type=pathlib.Path, help="write them to this file")
    parser.add_argument("--cpp", action="store_true", help="print them as lists of C++, too")
    asked = parser.parse_args()
    if asked.source:
        parameters = json.loads(asked.source.read_text(encoding="utf-8"))
    else:
        parameters = estimate()
    if asked.out:
        asked.out.write_text(json.dumps(parameters, indent=1) + "\n", encoding="utf-8")
    if asked.cpp:
        print(as_cpp(parameters))


if __name__ == "__main__":
    main()
