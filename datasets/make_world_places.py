#!/usr/bin/env python3
"""Makes the built-in places outside the US from the tables in datasets/records:
datasets/places/{canada,world,cities}_sites.tsv and {canada,world,cities}.csv.

    python3 datasets/make_world_places.py            # writes the six files
    python3 datasets/make_world_places.py --check    # fails if a committed file differs

Standard library only. datasets/README.md says where the records come from and what was done to them.
"""
import csv
import math
import pathlib
import sys
import unicodedata

sys.dont_write_bytecode = True
from make_time_zones import standard_offset_h  # noqa: E402

FOLDER = pathlib.Path(__file__).resolve().parent
SITE_COLUMNS = ["id", "source_id", "name", "country", "state", "latitude", "longitude", "elevation_m",
                "utc_offset_h", "record", "record_years", "temperatures", "licence", "note", "source"]
MONTH_COLUMNS = ["id", "month", "k_mean", "k_sd", "temp_mean_c", "k_persistence", "k_year_share",
                 "temp_range_c", "temp_sd_c", "temp_persistence", "temp_k_correlation", "range_k_slope"]

DEFAULT_PERSISTENCE = 0.30
YEAR_SHARE_UNKNOWN = 0.08   # typical years leave the odd ones out; estimates know no years at all
YEAR_SHARE_MEASURED = 0.05  # multi-year stations showed 0.03 to 0.13; their whole spread is in k_sd already
REGRESSION_NOTE = "the day-to-day spread of the sky comes from its mean by a regression"
CITY_TOO_NEAR_KM = 30.0     # of a place that knows more

# Town, state or territory, hours from UTC of the clocks' standard time; set by hand.
WORLD_TOWNS = {
    "at_graz": ("Graz", "", 1),
    "au_alicesprings": ("Alice Springs", "NT", 9.5),
    "au_brisbane": ("Brisbane", "QLD", 10),
    "au_cairns": ("Cairns", "QLD", 10),
    "au_canberra": ("Canberra", "ACT", 10),
    "au_coffsharbour": ("Coffs Harbour", "NSW", 10),
    "au_darwin": ("Darwin", "NT", 9.5),
    "au_hobart": ("Hobart", "TAS", 10),
    "au_melbourneairport": ("Melbourne Airport", "VIC", 10),
    "au_mildura": ("Mildura", "VIC", 10),
    "au_moree": ("Moree", "NSW", 10),
    "au_mountgambier": ("Mount Gambier", "SA", 9.5),
    "au_norfolkisland": ("Norfolk Island", "", 11),
    "au_nuriootpa": ("Nuriootpa", "SA", 9.5),
    "au_perthairport": ("Perth Airport", "WA", 8),
    "au_portland": ("Portland", "VIC", 10),
    "au_sale": ("Sale", "VIC", 10),
    "au_sydney": ("Sydney", "NSW", 10),
    "au_townsville": ("Townsville", "QLD", 10),
    "au_waggawagga": ("Wagga Wagga", "NSW", 10),
    "au_williamtown": ("Williamtown", "NSW", 10),
    "au_woomera": ("Woomera", "SA", 9.5),
    "basel": ("Basel", "", 1),
    "ch_bern": ("Bern", "", 1),
    "ch_sion": ("Sion", "", 1),
    "dresden": ("Dresden", "", 1),
    "dusseldorf": ("Düsseldorf", "", 1),
    "kassel": ("Kassel", "", 1),
    "muenchen": ("Munich", "", 1),
    "montelimar": ("Montélimar", "", 1),
    "perpignan": ("Perpignan", "", 1),
    "tours": ("Tours", "", 1),
    "fr_puechabon": ("Puéchabon", "", 1),
    "heathrow": ("London Heathrow", "", 0),
    "budapest": ("Budapest", "", 1),
    "ie_1375": ("Dunsany", "", 0),
    "ie_1575": ("Malin Head", "", 0),
    "ie_1775": ("Johnstown Castle", "", 0),
    "ie_1875": ("Athenry", "", 0),
    "ie_2275": ("Valentia", "", 0),
    "ie_2375": ("Belmullet", "", 0),
    "ie_275": ("Mace Head", "", 0),
    "ie_532": ("Dublin Airport", "", 0),
    "ie_cork": ("Cork Airport", "", 0),
    "maastricht": ("Maastricht", "", 1),
    "nl_knmi_de_bilt": ("De Bilt", "", 1),
    "oslo": ("Oslo", "", 1),
    "sun_stockholm": ("Stockholm", "", 1),
    "ljubljana": ("Ljubljana", "", 1),
}

# How a report names the owner, by the beginning of the record's column owner_and_terms.
OWNERS = {
    "Bureau of Meteorology": "Bureau of Meteorology, Australia",
    "ECA&D": "ECA&D, Klein Tank et al. 2002",
    "MeteoSwiss": "MeteoSwiss open data",
    "GeoSphere": "GeoSphere Austria, CC BY 4.0",
    "FLUXNET2015": "FLUXNET2015, CC BY 4.0",
    "Met Eireann": "Met Éireann, CC BY 4.0",
    "KNMI": "KNMI open data",
}

# ISO 3166-1, from memory.
COUNTRY_CODES = {
    "Afghanistan": "AF", "Albania": "AL", "Algeria": "DZ", "Angola": "AO", "Argentina": "AR", "Armenia": "AM",
    "Australia": "AU", "Austria": "AT", "Azerbaijan": "AZ", "Bangladesh": "BD", "Belarus": "BY", "Belgium": "BE",
    "Benin": "BJ", "Bolivia": "BO", "Bosnia and Herzegovina": "BA", "Botswana": "BW", "Brazil": "BR",
    "Bulgaria": "BG", "Burkina Faso": "BF", "Burundi": "BI", "Cameroon": "CM", "Canada": "CA",
    "Central African Republic": "CF", "Chad": "TD", "Chile": "CL", "China": "CN", "Colombia": "CO",
    "Congo, Democratic Republic of": "CD", "Congo, Republic of": "CG", "Cote d'Ivoire": "CI", "Croatia": "HR",
    "Cyprus": "CY", "Czech Republic": "CZ", "Denmark": "DK", "Djibouti": "DJ", "Ecuador": "EC", "Egypt": "EG",
    "El Salvador": "SV", "Equatorial Guinea": "GQ", "Eritrea": "ER", "Estonia": "EE", "Ethiopia": "ET",
    "Falkland Islands": "FK", "Faroe Islands": "FO", "Fiji": "FJ", "Finland": "FI", "France": "FR",
    "French Guiana": "GF", "Gabon": "GA", "Gambia": "GM", "Georgia": "GE", "Germany": "DE", "Ghana": "GH",
    "Greece": "GR", "Guinea": "GN", "Guinea-Bissau": "GW", "Guyana": "GY", "Honduras": "HN", "Hungary": "HU",
    "Iceland": "IS", "India": "IN", "Indonesia": "ID", "Iran": "IR", "Iraq": "IQ", "Ireland": "IE", "Israel": "IL",
    "Italy": "IT", "Japan": "JP", "Kazakhstan": "KZ", "Kenya": "KE", "Latvia": "LV", "Libya": "LY",
    "Lithuania": "LT", "Luxembourg": "LU", "Madagascar": "MG", "Malawi": "MW", "Mali": "ML", "Malta": "MT",
    "Mauritania": "MR", "Mexico": "MX", "Moldova": "MD", "Monaco": "MC", "Mongolia": "MN", "Montenegro": "ME",
    "Morocco": "MA", "Mozambique": "MZ", "Namibia": "NA", "Netherlands": "NL", "New Zealand": "NZ",
    "Nicaragua": "NI", "Niger": "NE", "Nigeria": "NG", "North Korea": "KP", "North Macedonia": "MK", "Norway": "NO",
    "Oman": "OM", "Pakistan": "PK", "Panama": "PA", "Papua New Guinea": "PG", "Paraguay": "PY", "Peru": "PE",
    "Philippines": "PH", "Poland": "PL", "Portugal": "PT", "Puerto Rico": "PR", "Romania": "RO", "Russia": "RU",
    "Saint Pierre and Miquelon": "PM", "Saudi Arabia": "SA", "Senegal": "SN", "Serbia": "RS", "Singapore": "SG",
    "Slovakia": "SK", "Slovenia": "SI", "Solomon Islands": "SB", "Somalia": "SO", "South Africa": "ZA",
    "South Korea": "KR", "South Sudan": "SS", "Spain": "ES", "Sudan": "SD", "Sweden": "SE", "Switzerland": "CH",
    "Taiwan": "TW", "Tanzania": "TZ", "Thailand": "TH", "Togo": "TG", "Tunisia": "TN", "Turkey": "TR",
    "Uganda": "UG", "Ukraine": "UA", "United Arab Emirates": "AE", "United Kingdom": "GB", "Uruguay": "UY",
    "Uzbekistan": "UZ", "Venezuela": "VE", "Vietnam": "VN", "Zambia": "ZM", "Zimbabwe": "ZW",
}
COUNTRY_NAMES = {code: name for name, code in COUNTRY_CODES.items()}
COUNTRY_NAMES.update(CD="Democratic Republic of the Congo", CG="Republic of the Congo", CI="Côte d'Ivoire")
CANADIAN_CITIES = {"Churchill": "MB", "Toronto": "ON"}  # those that are not left out as too near


def rows_of(table):
    """Rows of a tab-separated table as dictionaries; lines with # are skipped."""
    with open(FOLDER / table, encoding="utf-8", newline="") as file:
        lines = [line for line in file if not line.startswith("#")]
    return list(csv.DictReader(lines, delimiter="\t", quoting=csv.QUOTE_NONE))


def by_place(rows, key):
    """Groups of twelve months in the order of the table."""
    groups = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    for place, months in groups.items():
        if [int(row["month"]) for row in months] != list(range(1, 13)):
            sys.exit(f"{place}: not twelve months in order")
    return groups


def slug(text):
    """Lower case with hyphens, without accents."""
    plain = unicodedata.normalize("NFKD", text.replace("ø", "o").replace("Ø", "O"))
    plain = plain.encode("ascii", "ignore").decode().lower()
    return "-".join("".join(c if c.isalnum() else " " for c in plain.replace("'", "")).split())


def distance_km(a, b):
    lat_a, lon_a, lat_b, lon_b = (math.radians(float(s[k])) for s in (a, b) for k in ("latitude", "longitude"))
    half = math.sin((lat_b - lat_a) / 2) ** 2 + math.cos(lat_a) * math.cos(lat_b) * math.sin((lon_b - lon_a) / 2) ** 2
    return 2 * 6371.0 * math.asin(math.sqrt(half))


def clock_offset_of(row):
    """Standard time where people keep clocks today; a record's own may be that of older laws."""
    return f"{standard_offset_h(float(row['latitude']), float(row['longitude'])):g}"


def spread_of_clearness(k_mean, latitude):
    """Standard deviation of daily clearness from its monthly mean: the project's own regression over 32 measured
    stations (leave-one-out rms 0.026)."""
    return -0.1002 + 0.9373 * k_mean - 1.0424 * k_mean ** 2 + 0.1249 * abs(float(latitude)) / 90


def day_to_day_persistence(lag1, year_share):
    """What is left of each month's lag-1 correlation without the part common to a month of one year. Single months
    are noisy: each takes the mean of itself and its neighbours."""
    pooled = [(lag1[m - 1] + lag1[m] + lag1[(m + 1) % 12]) / 3 for m in range(12)]
    return [min(0.8, max(0.0, (r - year_share) / (1 - year_share))) for r in pooled]


def month_row(place, month, k_mean, k_sd, persistence, year_share, temp_mean="", temp_range=""):
    # The spread must leave a beta distribution up to mean + 1.5 sd a shape: sd^2 < 0.98 mean 1.5 sd.
    if not 0.02 <= k_mean <= 0.80 or not 0.005 < k_sd < 1.47 * k_mean or k_mean + 1.5 * k_sd > 1.0:
        sys.exit(f"{place}, month {month}: clearness {k_mean} with spread {k_sd} cannot be modelled")
    return [place, month, f"{k_mean:.4f}", f"{k_sd:.4f}", temp_mean, f"{persistence:.4f}", f"{year_share:.4f}",
            temp_range, "", "", "", ""]


def canada():
    """Typical years known by their monthly means: the spread is a regression's."""
    sites, months = [], []
    for place, rows in by_place(rows_of("records/canada_monthly.tsv"), lambda r: r["id"]).items():
        first = rows[0]
        town, province = place.rsplit("-", 1)
        name = " ".join(word.capitalize() for word in town.split("-"))
        edition = first["source"].split(",")[0]
        sites.append(dict(
            id=place, source_id=first["name"].removesuffix(" CAN"), name=f"{name}, {province.upper()}, Canada",
            country="CA", state=province.upper(), latitude=first["latitude"], longitude=first["longitude"],
            elevation_m=first["elevation_m"], utc_offset_h=clock_offset_of(first),
            record="typical-year", record_years=1, temperatures="yes",
            source=f"{edition}, Environment and Climate Change Canada", note=REGRESSION_NOTE))
        for row in rows:
            k = float(row["k_mean"])
            months.append(month_row(place, row["month"], k, spread_of_clearness(k, first["latitude"]),
                                    DEFAULT_PERSISTENCE, YEAR_SHARE_UNKNOWN, row["temp_mean_c"], row["temp_range_c"]))
    return sites, months


def world():
    """Places known by statistics of daily records."""
    sites, months = [], []
    groups = by_place(rows_of("records/world_monthly.tsv"), lambda r: r["id"])
    for site in rows_of("records/world_sites.tsv"):
        town, state, offset_h = WORLD_TOWNS[site["id"]]
        place = f"{slug(town)}-{site['country'].lower()}"
        rows = groups[site["id"]]
        measured = site["record"] == "measured"  # mixed ones count as estimated
        share = YEAR_SHARE_MEASURED if measured else YEAR_SHARE_UNKNOWN
        warm = all(r["temp_max_c"] and r["temp_min_c"] for r in rows)
        elevation = f"{float(site['elevation_m']):g}" if site["elevation_m"] else ""
        owner = next(name for start, name in OWNERS.items() if site["owner_and_terms"].startswith(start))
        where = [town, state, COUNTRY_NAMES[site["country"]]]
        sites.append(dict(
            id=place, source_id=site["id"], name=", ".join(part for part in where if part), country=site["country"],
            state=state, latitude=site["latitude"], longitude=site["longitude"], elevation_m=elevation,
            utc_offset_h=offset_h, record="measured" if measured else "estimated",
            record_years=f"{int(site['n_days']) / 365.25:.1f}" if measured else "",
            temperatures="yes" if warm else "no",
            source=owner if measured else f"from sunshine hours; {owner}"))
        persistence = day_to_day_persistence([float(r["lag1_k"]) for r in rows], share)
        for row, phi in zip(rows, persistence):
            mean = spread = ""
            if warm:
                high, low = float(row["temp_max_c"]), float(row["temp_min_c"])
                mean, spread = f"{(high + low) / 2:.2f}", f"{high - low:.1f}"
            months.append(month_row(place, row["month"], float(row["k_mean"]), float(row["sd_k"]), phi, share, mean,
                                    spread))
    return sites, months


def cities(better):
    """Cities estimated from sunshine hours, but for those near a place that knows more."""
    sites, months = [], []
    groups = by_place(rows_of("records/world_cities_estimated.tsv"), lambda r: (r["country"], r["city"]))
    for (country, city), rows in groups.items():
        first = rows[0]
        if any(distance_km(first, site) <= CITY_TOO_NEAR_KM for site in better):
            continue
        code = COUNTRY_CODES[country]
        state = CANADIAN_CITIES[city] if code == "CA" else ""
        place = f"{slug(city)}-{(state or code).lower()}"
        name = ", ".join(dict.fromkeys(part for part in (city, state, COUNTRY_NAMES[code]) if part))
        sites.append(dict(
            id=place, source_id=f"{city}, {country}", name=name, country=code, state=state,
            latitude=first["latitude"], longitude=first["longitude"], elevation_m="",
            utc_offset_h=clock_offset_of(first), record="estimated", record_years="",
            temperatures="no", source="from monthly sunshine hours; coordinates from GeoNames",
            licence="CC BY-SA 4.0, GeoNames CC BY 4.0",
            note=REGRESSION_NOTE))
        for row in rows:
            months.append(month_row(place, row["month"], float(row["k_mean_est"]), float(row["sd_k_est"]),
                                    float(row["lag1_k_default"]), YEAR_SHARE_UNKNOWN))
    return sites, months


def text_of(head, delimiter, columns, rows):
    lines = [f"# {line}" for line in head] + [delimiter.join(columns)]
    lines += [delimiter.join(str(cell) for cell in row) for row in rows]
    return "\n".join(lines) + "\n"


MADE = "Made by datasets/make_world_places.py; columns as in us_sites.tsv and us.csv, empty cells are unknown."
HEADS = {
    "canada": ["Built-in places in Canada, from typical years; owner: Environment and Climate Change Canada.", MADE],
    "world": ["Built-in places outside North America, from statistics of daily records; owners in the sites' column"
              " source.", MADE],
    "cities": ["ESTIMATED from monthly sunshine hours, not measured. Under CC BY-SA 4.0, with coordinates from GeoNames"
               " (CC BY 4.0):", "see cities_NOTICE.md.", MADE],
}


def main():
    us = rows_of("places/us_sites.tsv")
    layers = {"canada": canada(), "world": world()}
    layers["cities"] = cities(us + layers["canada"][0] + layers["world"][0])

    ids = [site["id"] for site in us] + [site["id"] for sites, _ in layers.values() for site in sites]
    if repeated := sorted({i for i in ids if ids.count(i) > 1}):
        sys.exit(f"ids that occur twice: {', '.join(repeated)}")

    differ = []
    for layer, (sites, months) in layers.items():
        site_rows = [[site.get(column, "") for column in SITE_COLUMNS] for site in sites]
        texts = {f"{layer}_sites.tsv": text_of(HEADS[layer], "\t", SITE_COLUMNS, sorted(site_rows)),
                 f"{layer}.csv": text_of(HEADS[layer], ",", MONTH_COLUMNS,
                                         sorted(months, key=lambda row: (row[0], int(row[1]))))}
        for name, text in texts.items():
            path = FOLDER / "places" / name
            if "--check" not in sys.argv:
                path.write_text(text, encoding="utf-8")
            elif path.read_text(encoding="utf-8") != text:
                differ.append(name)
        print(f"{layer}: {len(sites)} places")
    if differ:
        sys.exit(f"differ from what the script makes: {', '.join(differ)}")


if __name__ == "__main__":
    main()
