#!/usr/bin/env python3
"""Makes the table of time zones, datasets/zones/clocks.tsv and datasets/zones/grid.txt, from the
boundaries in the npm package geo-tz and the rules of the machine's time-zone database:

    npm pack geo-tz && tar xzf geo-tz-*.tgz
    python3 datasets/make_time_zones.py package

Standard library only. PYTHONTZPATH names another time-zone database; it must be as new as the
boundaries. datasets/README.md says where the data come from and on which terms.
"""
import datetime
import functools
import json
import pathlib
import sys
import zoneinfo

OUT = pathlib.Path(__file__).resolve().parent / "zones"
YEARS = range(2027, 2037)  # clocks that agree on every date of these years are one
DEPTH = 14                 # halvings of the globe: cells of 0.022 by 0.011 degrees
LINE_DEPTH = 5             # a line of the grid is a cell of 11.25 by 5.625 degrees
COAST_DEPTH = 7            # cells of 2.8 by 1.4 degrees are the largest in which sea goes with land
SEA = "~"
SPLIT = "."
SYMBOLS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+-*/=<>@"
MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]
WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
DAY = datetime.timedelta(days=1)


# --- Boundaries: Geobuf, which is Protocol Buffers, as its public schema describes it ---

def varint(data, at):
    value = shift = 0
    while True:
        byte = data[at]
        at += 1
        value |= (byte & 127) << shift
        if byte < 128:
            return value, at
        shift += 7


def fields(data):
    """Number and value of each field: bytes, or an integer."""
    at = 0
    while at < len(data):
        key, at = varint(data, at)
        if key & 7 == 2:
            size, at = varint(data, at)
            yield key >> 3, data[at:at + size]
            at += size
        elif key & 7 == 0:
            value, at = varint(data, at)
            yield key >> 3, value
        else:
            sys.exit(f"geo.dat: field of type {key & 7}, which is not expected there")


def packed(data):
    at, out = 0, []
    while at < len(data):
        value, at = varint(data, at)
        out.append(value)
    return out


def rings_of(geometry, scale):
    """Closed rings of a polygon or of several; holes need no mark under the even-odd rule."""
    kind, lengths, coordinates, rings = 0, None, [], []
    for number, value in fields(geometry):
        if number == 1:
            kind = value
        elif number == 2:
            lengths = packed(value)
        elif number == 3:
            coordinates = [(v >> 1) ^ -(v & 1) for v in packed(value)]
        elif number == 4:
            rings += rings_of(value, scale)
    if kind == 4:
        counts = lengths or [len(coordinates) // 2]
    elif kind == 5:
        counts = [len(coordinates) // 2]
        if lengths:  # polygons, then for each its rings, then for each ring its points
            counts, at = [], 1
            for _ in range(lengths[0]):
                counts += lengths[at + 1:at + 1 + lengths[at]]
                at += 1 + lengths[at]
    elif kind == 6:
        return rings
    else:
        sys.exit(f"geo.dat: geometry of type {kind}, which is not expected there")
    at = 0
    for count in counts:
        x = y = 0
        ring = []
        for _ in range(count):
            x, y = x + coordinates[at], y + coordinates[at + 1]
            at += 2
            ring.append((x / scale, y / scale))
        rings.append(ring)
    return rings


def features_of(data):
    """Zone and rings of each feature."""
    keys, scale, collection = [], 1e6, b""
    for number, value in fields(data):
        if number == 1:
            keys.append(value.decode())
        elif number == 3:
            scale = 10.0 ** value
        elif number == 4:
            collection = value
    if keys != ["tzid"]:
        sys.exit(f"geo.dat: properties {keys}, expected tzid alone")
    for _, feature in fields(collection):
        zone, rings = "", []
        for number, value in fields(feature):
            if number == 1:
                rings = rings_of(value, scale)
            elif number == 13:
                zone = next(v for n, v in fields(value) if n == 1).decode()
        yield zone, rings


def rasters(features, west, south, depth):
    """Rows from the north of the zones at the centers of a cell's smallest cells."""
    n = 2 ** (DEPTH - depth)
    dx, dy = 360.0 / 2 ** DEPTH, 180.0 / 2 ** DEPTH
    rows = [[None] * n for _ in range(n)]
    for zone, rings in features:
        crossings = [[] for _ in range(n)]
        for ring in rings:
            x0, y0 = ring[-1]
            for x1, y1 in ring:
                low, high = (y0, y1) if y0 < y1 else (y1, y0)
                # Rows whose center lies in [low, high), counted from the south.
                first = max(0, -int(-(((low - south) / dy - 0.5)) // 1))
                row = first
                while row < n and south + (row + 0.5) * dy < high:
                    y = south + (row + 0.5) * dy
                    if y >= low:
                        crossings[row].append(x0 + (y - y0) * (x1 - x0) / (y1 - y0))
                    row += 1
                x0, y0 = x1, y1
        for row, at in enumerate(crossings):
            at.sort()
            for begin, end in zip(at[::2], at[1::2]):
                for column in range(n):
                    if begin <= west + (column + 0.5) * dx < end and rows[n - 1 - row][column] is None:
                        rows[n - 1 - row][column] = zone
    return rows


def joined(parts, depth):
    """One leaf where the four parts hold no two clocks: what is sea goes with the land close by."""
    if all(isinstance(p, str) for p in parts):
        clocks = set(parts)
        if depth >= COAST_DEPTH and len(clocks) > 1:
            clocks -= {SEA}
        if len(clocks) == 1:
            return clocks.pop()
    return parts


def tree_of_rows(rows, symbol_of, depth):
    n = len(rows)
    if n == 1:
        return symbol_of[rows[0][0]]
    h = n // 2
    return joined([tree_of_rows([row[x:x + h] for row in rows[y:y + h]], symbol_of, depth + 1)
                   for y in (0, h) for x in (0, h)], depth)


def tree_of(node, names, data, symbol_of, depth=0, x=0, y=0):
    """Leaves are symbols, other nodes lists of four: north-west, north-east, south-west, south-east."""
    if node is None:
        return SEA
    if isinstance(node, list):
        return symbol_of[names[node[0]]]
    if "pos" in node:
        features = features_of(data[node["pos"]:node["pos"] + node["len"]])
        west, south = -180.0 + x * 360.0 / 2 ** depth, 90.0 - (y + 1) * 180.0 / 2 ** depth
        return tree_of_rows(rasters(features, west, south, depth), symbol_of, depth)
    return joined([tree_of(node.get(key), names, data, symbol_of, depth + 1, 2 * x + right, 2 * y + low)
                   for key, right, low in (("b", 0, 0), ("a", 1, 0), ("c", 0, 1), ("d", 1, 1))], depth)


def text_of(tree):
    return tree if isinstance(tree, str) else SPLIT + "".join(text_of(part) for part in tree)


def lines_of(tree, depth=0):
    """Rows of lines from the north, each row from the west."""
    size = 2 ** (LINE_DEPTH - depth)
    if isinstance(tree, str):
        return [[tree] * size for _ in range(size)]
    if depth == LINE_DEPTH:
        return [[text_of(tree)]]
    nw, ne, sw, se = (lines_of(part, depth + 1) for part in tree)
    return [a + b for a, b in zip(nw, ne)] + [a + b for a, b in zip(sw, se)]


# --- Clocks ---

def offsets_of(zone):
    """Hours from UTC at noon of each date, which is what campers go by on that date."""
    info = zoneinfo.ZoneInfo(zone)
    date, out = datetime.datetime(YEARS[0], 1, 1, 12), []
    while date.year <= YEARS[-1]:
        out.append(date.replace(tzinfo=info).utcoffset().total_seconds() / 3600.0)
        date += DAY
    return tuple(out)


def on_or_after(year, month, day, weekday):
    date = datetime.date(year, month, day)
    return date + (weekday - date.weekday()) % 7 * DAY


def rule_of(dates):
    """'Mar Sun>=8' where one such rule gives the date of every year; else nothing."""
    weekday = dates[0].weekday()
    earliest = min(dates, key=lambda d: (d.month, d.day))
    # As laws say it, the first to fourth or last of a month, before any other day.
    last = 24 if earliest.month in (4, 6, 9, 11) else 25
    for day in (1, 8, 15, 22, last, earliest.day):
        if all(on_or_after(d.year, earliest.month, day, weekday) == d for d in dates):
            return f"{MONTHS[earliest.month - 1]} {WEEKDAYS[weekday]}>={day}"
    return None


def summer_of(offsets):
    """Standard offset, what summer adds, and when, as the table says it."""
    standard, ahead = min(offsets), max(offsets)
    if standard == ahead:
        return standard, 0.0, ""
    if len(set(offsets)) > 2:
        sys.exit("a clock has more than two offsets")
    days = [datetime.date(YEARS[0], 1, 1) + i * DAY for i in range(len(offsets))]
    begins = [d for i, d in enumerate(days) if i and offsets[i] == ahead != offsets[i - 1]]
    ends = [d for i, d in enumerate(days) if i and offsets[i] == standard != offsets[i - 1]]
    if len(begins) == len(ends) == len(YEARS):
        begin, end = rule_of(begins), rule_of(ends)
        if begin and end:
            return standard, ahead - standard, f"{begin} .. {end}"
    if offsets[0] == ahead:
        begins.insert(0, days[0])
    if offsets[-1] == ahead:
        ends.append(days[-1] + DAY)
    return standard, ahead - standard, " ".join(f"{b}..{e}" for b, e in zip(begins, ends))


# --- Reading the table again ---

def end_of_tree(cell, at):
    if cell[at] != SPLIT:
        return at + 1
    at += 1
    for _ in range(4):
        at = end_of_tree(cell, at)
    return at


@functools.cache
def committed(name):
    return (OUT / name).read_text().splitlines()


def standard_offset_h(latitude, longitude):
    """Hours from UTC of standard time at a place on land, by the committed table."""
    offset_h = {row.split("\t")[0]: float(row.split("\t")[2]) for row in committed("clocks.tsv")[1:]}
    x, y, cells = (longitude + 180) / 360, (90 - latitude) / 180, 2 ** LINE_DEPTH
    cell = committed("grid.txt")[int(y * cells) * cells + int(x * cells)]
    x, y, at = x * cells % 1, y * cells % 1, 0
    while cell[at] == SPLIT:
        x, y, at = 2 * x, 2 * y, at + 1
        for _ in range(2 * int(y) + int(x)):
            at = end_of_tree(cell, at)
        x, y = x % 1, y % 1
    return offset_h[cell[at]]


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    folder = pathlib.Path(sys.argv[1])
    index = json.loads((folder / "data/timezones.geojson.index.json").read_text())
    data = (folder / "data/timezones.geojson.geo.dat").read_bytes()
    version = json.loads((folder / "package.json").read_text())["version"]

    clocks, symbol_of = {}, {None: SEA}  # clocks: offsets -> zones
    for zone in sorted(index["timezones"]):
        clocks.setdefault(offsets_of(zone), []).append(zone)
    rows = ["clock\tzones\tutc_offset_h\tsummer_h\tsummer"]
    for symbol, (offsets, zones) in zip(SYMBOLS, clocks.items(), strict=False):
        symbol_of.update({zone: symbol for zone in zones})
        standard, ahead, when = summer_of(offsets)
        rows.append(f"{symbol}\t{', '.join(zones)}\t{standard:g}\t{ahead:g}\t{when}")
    tree = tree_of(index["lookup"], index["timezones"], data, symbol_of)
    OUT.mkdir(exist_ok=True)
    (OUT / "clocks.tsv").write_text("\n".join(rows) + "\n")
    (OUT / "grid.txt").write_text("\n".join(cell for row in lines_of(tree) for cell in row) + "\n")
    print(f"geo-tz {version}: {len(clocks)} clocks")


if __name__ == "__main__":
    main()
