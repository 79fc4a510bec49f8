#!/usr/bin/env python3
"""Makes the outlines of land, datasets/coast/land.txt, from Natural Earth's 1:110 million in the npm
package world-atlas:

    npm pack world-atlas && tar xzf world-atlas-*.tgz
    python3 datasets/make_coast.py package/land-110m.json

Standard library only. datasets/README.md says on which terms the data come.
"""
import json
import pathlib
import sys

OUT = pathlib.Path(__file__).resolve().parent / "coast" / "land.txt"


def decoded(topology):
    """Arcs in degrees; in the file each point is a step from the last, in units of `scale`."""
    scale, move = topology["transform"]["scale"], topology["transform"]["translate"]
    arcs = []
    for arc in topology["arcs"]:
        at, points = [0, 0], []
        for step in arc:
            at = [at[0] + step[0], at[1] + step[1]]
            points.append((round(at[0] * scale[0] + move[0], 2), round(at[1] * scale[1] + move[1], 2)))
        arcs.append(points)
    return arcs


def ring_of(parts, arcs):
    points = []
    for part in parts:
        piece = arcs[part] if part >= 0 else arcs[~part][::-1]
        points += piece[1:] if points else piece
    return points


def unwrapped(ring):
    """The ring with longitudes that go on beyond 180 degrees; one round a pole is closed over it."""
    out = [ring[0]]
    for x, y in ring[1:]:
        before = out[-1][0]
        out.append((before + (x - before + 180.0) % 360.0 - 180.0, y))
    if abs(out[-1][0] - out[0][0]) > 180.0:
        pole = 90.0 if out[0][1] > 0 else -90.0
        out += [(out[-1][0], pole), (out[0][0], pole), out[0]]
    return out


def clipped(ring, west, east):
    """What lies between two meridians."""
    for edge, side in ((west, 1.0), (east, -1.0)):
        out = []
        for (xa, ya), (xb, yb) in zip(ring, ring[1:]):
            a_in, b_in = side * (xa - edge) >= 0.0, side * (xb - edge) >= 0.0
            if a_in:
                out.append((xa, ya))
            if a_in != b_in:
                out.append((edge, ya + (yb - ya) * (edge - xa) / (xb - xa)))
        ring = out + out[:1]
        if not out:
            return []
    return ring


def main(path):
    topology = json.load(open(path, encoding="utf-8"))
    arcs = decoded(topology)
    with open(OUT, "w", encoding="utf-8") as out:
        out.write("# Outlines of land, Natural Earth 1:110 million, public domain; made by datasets/make_coast.py.\n"
                  "# A line is a closed ring, islands and lakes alike: longitude,latitude in hundredths of a degree.\n")
        for geometry in topology["objects"]["land"]["geometries"]:
            polygons = geometry["arcs"] if geometry["type"] == "MultiPolygon" else [geometry["arcs"]]
            for polygon in polygons:
                for parts in polygon:
                    ring = unwrapped(ring_of(parts, arcs))
                    for turn in (-360.0, 0.0, 360.0):
                        piece = clipped([(x + turn, y) for x, y in ring], -180.0, 180.0)
                        if len(piece) > 3:
                            out.write(" ".join(f"{round(100 * x)},{round(100 * y)}" for x, y in piece) + "\n")


if __name__ == "__main__":
    main(sys.argv[1])
