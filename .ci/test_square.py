#!/usr/bin/env python3
"""test_square.py PAGE.pgm: finds the 50 mm test square on a page rendered at 300 dpi and measures it.

Exit 0 when both sides, middle of stroke to middle of stroke, measure 50.0 +- 0.1 mm.
Knows nothing of Petitoile: it looks for a square of that size. Needs only Python.
"""

import sys

DPI = 300
SIDE, ALLOWED = 50.0, 0.1
PX = DPI / 25.4
DARK = 140  # of 255


def read_pgm(path):
    """Width, height and rows of a binary PGM."""
    data = open(path, "rb").read()
    fields, at = [], 0
    while len(fields) < 4:
        while data[at : at + 1].isspace():
            at += 1
        if data[at : at + 1] == b"#":
            at = data.index(b"\n", at)
            continue
        start = at
        while not data[at : at + 1].isspace():
            at += 1
        fields.append(data[start:at])
    if fields[0] != b"P5" or fields[3] != b"255":
        sys.exit(f"{path}: no 8-bit grey PGM")
    width, height = int(fields[1]), int(fields[2])
    pixels = data[at + 1 :]
    return width, height, [pixels[y * width : (y + 1) * width] for y in range(height)]


def runs(row):
    """Dark stretches of a row: (start, end)."""
    start = None
    for x, value in enumerate(row):
        if value < DARK:
            if start is None:
                start = x
        elif start is not None:
            yield start, x
            start = None
    if start is not None:
        yield start, len(row)


def middle(values):
    """Middle of a stroke across a few pixels, weighted by how dark they are; None when there is no stroke."""
    weights = [255 - value for value in values]
    total = sum(weights)
    if total < 100:
        return None
    return sum(i * weight for i, weight in enumerate(weights)) / total



def side_at(across, at, first, last):
    """Mean middle of the stroke near `at`, looked at along the half of the side that lies in its middle.

    Places where something else touches the stroke (a ruler, a word) would pull the middle aside: the median is taken.
    """
    quarter = (last - first) // 4
    found = []
    for along in range(first + quarter, last - quarter):
        place = middle([across(along, at + d) for d in range(-6, 7)])
        if place is None:
            return None
        found.append(at - 6 + place)
    return sorted(found)[len(found) // 2]


def main(path):
    width, height, rows = read_pgm(path)
    least, most = (SIDE - 0.7) * PX, (SIDE + 0.7) * PX
    edges = []
    for y, row in enumerate(rows):
        for start, end in runs(row):
            if least <= end - start <= most:
                edges.append((y, start, end))
    pixel_down = lambda x, y: rows[y][x] if 0 <= y < height and 0 <= x < width else 255
    pixel_across = lambda y, x: pixel_down(x, y)
    for y, start, end in edges:
        below = [e for e in edges if least <= e[0] - y <= most and abs(e[1] - start) < 4 and abs(e[2] - end) < 4]
        for other in below:
            top, bottom = side_at(pixel_down, y, start, end), side_at(pixel_down, other[0], start, end)
            left, right = side_at(pixel_across, start, y, other[0]), side_at(pixel_across, end, y, other[0])
            if None in (top, bottom, left, right):
                continue
            across, down = (right - left) / PX, (bottom - top) / PX
            print(f"{path}: test square {across:.3f} mm across, {down:.3f} mm down")
            good = abs(across - SIDE) <= ALLOWED and abs(down - SIDE) <= ALLOWED
            if not good:
                print(f"wanted {SIDE} +- {ALLOWED} mm", file=sys.stderr)
            return 0 if good else 1
    print(f"{path}: no square of about {SIDE} mm on this page", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
