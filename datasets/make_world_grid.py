#!/usr/bin/env python3
"""Makes datasets/world/grid.txt, which the program carries, from datasets/records/world_grid.csv.

    python3 datasets/make_world_grid.py            # writes the file
    python3 datasets/make_world_grid.py --check    # fails if the committed file differs

One line of 127 characters and a line feed a cell, no head, so that cell (i, j), with its center at latitude
-88.75 + 2.5 i and longitude -178.75 + 2.5 j, begins at byte 128 (144 i + j):

    4 characters        elevation, m
    3 characters        land share, percent
    12 x 3 characters   clearness of the months, 1/1000
    12 x 4 characters   mean temperature of the months, 0.1 degrees C, at that elevation
    12 x 3 characters   mean daily range of temperature, 0.1 K

Standard library only. datasets/world/NOTICE.md says where the grid comes from.
"""
import csv
import math
import pathlib
import sys

FOLDER = pathlib.Path(__file__).resolve().parent
SOURCE = FOLDER / "records" / "world_grid.csv"
TARGET = FOLDER / "world" / "grid.txt"
ROWS, COLUMNS, CELL_DEG = 72, 144, 2.5
LINE_CHARACTERS = 127
DAYS_OF_MONTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
SOLAR_CONSTANT_KW_M2 = 1.361  # Kopp and Lean 2011, Geophysical Research Letters 38, L01706
# Under less light from outside, kWh/m2 a day, the source's steps of 0.01 are more than 2 % of clearness.
LEAST_EXTRATERRESTRIAL = 0.5


def daily_extraterrestrial(lat, day):
    """kWh/m2 on a level plane outside the atmosphere; day 0 is January 1. Declination and distance: Spencer 1971,
    Search 2:172, as in Iqbal 1983, An Introduction to Solar Radiation, sections 1.2 and 1.3."""
    g, latitude = 2 * math.pi * day / 365, math.radians(lat)
    declination = (0.006918 - 0.399912 * math.cos(g) + 0.070257 * math.sin(g) - 0.006758 * math.cos(2 * g)
                   + 0.000907 * math.sin(2 * g) - 0.002697 * math.cos(3 * g) + 0.00148 * math.sin(3 * g))
    nearness = (1.00011 + 0.034221 * math.cos(g) + 0.00128 * math.sin(g) + 0.000719 * math.cos(2 * g)
                + 0.000077 * math.sin(2 * g))
    sunset = math.acos(max(-1.0, min(1.0, -math.tan(latitude) * math.tan(declination))))
    return 24 / math.pi * SOLAR_CONSTANT_KW_M2 * nearness * (
        math.cos(latitude) * math.cos(declination) * math.sin(sunset)
        + sunset * math.sin(latitude) * math.sin(declination))


def monthly_extraterrestrial(lat):
    """The same as means of the twelve months."""
    means, first = [], 0
    for days in DAYS_OF_MONTHS:
        means.append(sum(daily_extraterrestrial(lat, day) for day in range(first, first + days)) / days)
        first += days
    return means


def without_gaps(values):
    """Missing months (None) of a year by linear interpolation between those before and after."""
    out = list(values)
    for m in range(12):
        if values[m] is None:
            before = next(k for k in range(1, 13) if values[(m - k) % 12] is not None)
            after = next(k for k in range(1, 13) if values[(m + k) % 12] is not None)
            out[m] = (values[(m - before) % 12] * after + values[(m + after) % 12] * before) / (before + after)
    return out


def clearness(lat, irradiation):
    """Months of the polar night take their clearness from those beside it, so that interpolation between cells never
    meets a hole."""
    known = [ghi / outside if outside >= LEAST_EXTRATERRESTRIAL else None
             for ghi, outside in zip(irradiation, monthly_extraterrestrial(lat))]
    return [min(0.999, max(0.0, k)) for k in without_gaps(known)]


def months_of(row, name):
    return [float(row[f"{name}_{m:02d}"]) for m in range(1, 13)]


def line_of(row):
    k = "".join("%3d" % round(1000 * x) for x in clearness(float(row["lat"]), months_of(row, "ghi")))
    mean = "".join("%4d" % round(10 * x) for x in months_of(row, "t_mean"))
    spread = "".join("%3d" % round(10 * x) for x in months_of(row, "t_range"))
    line = "%4d%3d" % (round(float(row["grid_elev_m"])), round(100 * float(row["land_frac"]))) + k + mean + spread
    if len(line) != LINE_CHARACTERS:
        sys.exit(f"{row['lat']}, {row['lon']}: a number is too long: {line}")
    return line


def main():
    lines = [None] * (ROWS * COLUMNS)
    with open(SOURCE, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            i = round((float(row["lat"]) + 90) / CELL_DEG - 0.5)
            j = round((float(row["lon"]) + 180) / CELL_DEG - 0.5)
            lines[COLUMNS * i + j] = line_of(row)
    if None in lines:
        sys.exit(f"{SOURCE.name}: {lines.count(None)} cells are missing")
    text = "\n".join(lines) + "\n"
    print(f"{len(lines)} cells, {len(text)} bytes")
    if "--check" not in sys.argv:
        TARGET.write_text(text, encoding="ascii", newline="\n")
    elif TARGET.read_text(encoding="ascii") != text:
        sys.exit(f"{TARGET.name} differs from what the script makes")


if __name__ == "__main__":
    main()
