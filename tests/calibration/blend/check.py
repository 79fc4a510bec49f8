#!/usr/bin/env python3
"""Judges the blend of parameters.json at places that it is not told: tables of ../BLEND.md.

    /usr/bin/python3 tests/calibration/blend/check.py          # by group of places: some 2 minutes
    /usr/bin/python3 tests/calibration/blend/check.py --far    # measured places without all sites within 300 km, too
    /usr/bin/python3 tests/calibration/blend/check.py --own    # only what a site's own months gain by their neighbors

Clearness in hundredths. "Nearest" is the nearest other site, "grid" the world grid alone, "mean" the regression of
spread on clearness of the grid. Errors of the place's own record count in z. Needs numpy.
"""
import sys

import numpy as np

from blend_model import Blend
from places_and_grid import K, STATISTICS, distance_km, spread_by_mean, stations_not_built_in

# Months from local winter on; places in the south are turned by half a year.
SEASONS = {"winter": [11, 0, 1], "spring": [2, 3, 4], "summer": [5, 6, 7], "autumn": [8, 9, 10], "year": range(12)}
SAME_KM = 0.5        # nearer sites are the place itself
FAR_KM = 300.0
PAIR_KM = 60.0       # within which a typical year is compared with a measured station
NOT_STATED = np.full(12, np.nan)

# Variance of what a place's own record is off by, from years n: K from year to year and the usual error of k_sd
# (weather/standard_errors.hpp); typical years 0.042 a month, of which pooling leaves 0.4, and 0.0124 of all months;
# estimates as their sites' errors, in round figures.
MEASURED = (lambda n: 0.050 ** 2 / n, lambda n: 0.024 ** 2 / n)
TYPICAL_US = (lambda n: 0.4 * 0.042 ** 2 + 0.0124 ** 2, None)
TYPICAL_ELSEWHERE = (lambda n: 0.026 ** 2, None)
SUNSHINE = (lambda n: 0.024 ** 2, lambda n: 0.010 ** 2)
CITY = (lambda n: 0.024 ** 2, None)


def rms(errors):
    return np.sqrt(np.nanmean(np.square(errors)))


class Judged:
    """Twelve months of one place: what is known of it, and what others say."""

    def __init__(self, blend, lat, lon, elevation_m, k_mean, k_sd, years, leave_out_km):
        sites = blend.sites
        km = distance_km(lat, lon, sites.lat, sites.lon)
        km = np.where(km <= leave_out_km, np.inf, km)
        with_spread = np.where(blend.states["k_sd"], km, np.inf)
        cell = blend.grid.at([lat], [lon])[:, K]
        said = blend.with_errors(lat, lon, elevation_m=elevation_m, leave_out_km=leave_out_km)
        months = dict(k=k_mean, sd=k_sd, nearest=sites.value["k_mean"][np.argmin(km)], grid=cell[0],
                      nearest_sd=sites.value["k_sd"][np.argmin(with_spread)],
                      by_mean=spread_by_mean(cell, np.array([lat]))[0],
                      blend=said["k_mean"][0], error=said["k_mean"][1],
                      blend_sd=said["k_sd"][0], error_sd=said["k_sd"][1], years=np.full(12, years))
        for name, values in months.items():
            setattr(self, name, np.roll(values, -6) if lat < 0 else values)


def line(label, of_season):
    print(f"  {label:12s}" + "".join(f"{of_season(list(months)):9.2f}" for months in SEASONS.values()))


def table(title, places, own_errors):
    def column(name):
        return np.array([getattr(place, name) for place in places])
    print(f"\n{title} ({len(places)} places){'':4s}" + "".join(f"{season:>9s}" for season in SEASONS))
    kinds = [("K", "k", ("nearest", "grid", "blend"), "error", own_errors[0])]
    if np.isfinite(column("sd")).any():
        kinds.append(("SD", "sd", ("nearest_sd", "by_mean", "blend_sd"), "error_sd", own_errors[1]))
    for what, truth, ways, error, own in kinds:
        for way, label in zip(ways, ("nearest", "grid" if what == "K" else "mean", "blend")):
            off = column(way) - column(truth)
            line(f"{what} {label}", lambda m, off=off: 100 * rms(off[:, m]))
        line("bias", lambda m: 100 * np.nanmean(off[:, m]))
        if own is None:
            continue
        line("its error", lambda m: 100 * rms(column(error)[:, m]))
        z = off / np.sqrt(column(error) ** 2 + own(column("years")))
        line("|z| < 1", lambda m: (np.abs(z[:, m]) < 1).mean())
        line("|z| < 2", lambda m: (np.abs(z[:, m]) < 2).mean())
        line("rms of z", lambda m: rms(z[:, m]))
    sys.stdout.flush()


def built_in(blend, kind, leave_out_km=SAME_KM):
    s = blend.sites
    return [Judged(blend, s.lat[i], s.lon[i], s.elevation_m[i], s.value["k_mean"][i], s.value["k_sd"][i], s.years[i],
                   leave_out_km) for i in np.where(s.kind == kind)[0]]


def not_built_in(blend, leave_out_km=0.0):
    return [Judged(blend, s.lat, s.lon, None, s.k_mean, s.k_sd, s.years, leave_out_km)
            for s in stations_not_built_in()]


def groups(blend):
    table("Measured, Europe", built_in(blend, "measured"), MEASURED)
    table("Davis and Reno", not_built_in(blend), MEASURED)
    table("US, one measured year", built_in(blend, "measured_one_year"), (MEASURED[0], None))
    table("US, typical years", built_in(blend, "typical_us"), TYPICAL_US)
    table("Canada, typical years", built_in(blend, "typical_elsewhere"), TYPICAL_ELSEWHERE)
    table("Australia and Europe, sunshine hours", built_in(blend, "sunshine"), SUNSHINE)
    table("Cities, sunshine hours", built_in(blend, "city"), CITY)


def other_statistics(blend):
    """All but clearness and its spread; every third of the typical years of the US."""
    sites = blend.sites
    print("\nOther statistics, rms and bias at the places; error that the model states; rms without the place's height")
    for statistic in STATISTICS:
        if statistic in ("k_mean", "k_sd"):
            continue
        for kind in ("measured", "typical_us", "typical_elsewhere", "sunshine"):
            at = np.where(blend.states[statistic] & (sites.kind == kind))[0][::3 if kind == "typical_us" else 1]
            if not len(at):
                continue
            off, error, lowland = [], [], []
            for i in at:
                for z, found in ((sites.elevation_m[i], off), (None, lowland)):
                    said = blend.with_errors(sites.lat[i], sites.lon[i], elevation_m=z, leave_out_km=SAME_KM)[statistic]
                    found.append(said[0] - sites.value[statistic][i])
                    if found is off:
                        error.append(said[1])
            print(f"  {statistic:19s}{kind:18s}{len(at):4d} rms {rms(off):6.3f} bias {np.mean(off):6.3f} "
                  f"error {rms(error):6.3f} without height {rms(lowland):6.3f}", flush=True)


def own_months(blend):
    """Typical years close to a measured station, by their own name: as filed, leaning on their neighbors, and neighbors
    without them. The measured station is kept out where it is built in."""
    sites, p = blend.sites, blend.parameters
    known = [(s.name, s.lat, s.lon, s.k_mean, s.k_sd, True, None) for s in stations_not_built_in()]
    for i in np.where(np.isin(sites.kind, ["measured", "measured_one_year"]))[0]:
        many = sites.kind[i] == "measured"
        spread = sites.value["k_sd"][i] if many else np.hypot(sites.value["k_sd"][i], p["one_year_lacks"])
        known.append((sites.id[i], sites.lat[i], sites.lon[i], sites.value["k_mean"][i], spread, many, i))
    contradicts = blend.contradicts
    for many, label in ((True, "years"), (False, "one year, 2020")):
        off = {way: [] for way in ("filed", "leaning", "neighbors")}
        off_sd = {way: [] for way in off}
        for name, lat, lon, k, sd, is_many, built in known:
            if is_many != many:
                continue
            typical = np.isin(sites.kind, ["typical_us", "typical_elsewhere"])
            for i in np.where(typical & (distance_km(lat, lon, sites.lat, sites.lon) < PAIR_KM))[0]:
                blend.contradicts = contradicts.copy()
                if built is not None:
                    blend.contradicts[built] = True
                leaning = blend.with_errors(sites.lat[i], sites.lon[i], own=i)
                without = blend.with_errors(sites.lat[i], sites.lon[i], elevation_m=sites.elevation_m[i],
                                            leave_out_km=SAME_KM)
                blend.contradicts = contradicts
                said = dict(filed={s: sites.value[s][i] for s in ("k_mean", "k_sd")},
                            leaning={s: leaning[s][0] for s in leaning},
                            neighbors={s: without[s][0] for s in without})
                for way, months in said.items():
                    off[way].append(months["k_mean"] - k)
                    off_sd[way].append(months["k_sd"] - sd)
                print(f"  {name}, {sites.id[i]}: K " + ", ".join(f"{way} {100 * rms(off[way][-1]):.2f}" for way in off))
        print(f"{len(off['filed'])} pairs within {PAIR_KM:.0f} km, measured for {label}")
        for what, errors in (("K", off), ("SD", off_sd)):
            if errors["filed"]:
                print(f"  {what}: " + ", ".join(f"{way} {100 * rms(e):.2f} (bias {100 * np.nanmean(e):+.2f})"
                                                for way, e in errors.items()), flush=True)


def main():
    blend = Blend()
    if "--own" not in sys.argv:
        groups(blend)
        if "--far" in sys.argv:
            far = built_in(blend, "measured", FAR_KM) + not_built_in(blend, FAR_KM)
            table(f"Measured places, all sites within {FAR_KM:.0f} km left out", far, MEASURED)
        other_statistics(blend)
    own_months(blend)


if __name__ == "__main__":
    main()
