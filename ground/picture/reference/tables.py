"""Writes the color tables: tables.json (reference) and ../tables.ts (what the program carries).

cividis: as Matplotlib distributes it, rounded to 8 bits. source: nunez-2018
balanced: ours. Two hues of one lightness, mirror-wise, through a light grey: in CIE L*a*b* (D65), L* falls from 96 in the
middle to 30 at both ends, chroma rises from 0 to 46, hue 270 deg (blue) below and 55 deg (orange) above; where a color
lies outside sRGB, chroma is reduced in steps of 0.5 until it lies inside.
night: ours, for a dark page. The same two hues through a dark gray: L* rises from 14 in the middle to 76 at both ends,
chroma as above.
All have 255 entries used for values; index 255 is kept for "no value".

Run from this folder: python3 tables.py
"""
import json

import matplotlib
import numpy as np

def cividis():
    table = matplotlib.colormaps["cividis"](np.linspace(0, 1, 255))[:, :3]
    return np.rint(table * 255).astype(int)

def to_srgb(L, a, b):
    fy = (L + 16) / 116
    f = np.array([fy + a / 500, fy, fy - b / 200])
    xyz = np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * np.array([0.95047, 1.0, 1.08883])
    m = np.array([[3.2404542, -1.5371385, -0.4985314], [-0.9692660, 1.8760108, 0.0415560], [0.0556434, -0.2040259, 1.0572252]])
    linear = m @ xyz
    inside = bool(np.all(linear >= -1e-6) and np.all(linear <= 1 + 1e-6))
    linear = np.clip(linear, 0, 1)
    return np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055), inside

def color(L, chroma, hue):
    while True:
        rgb, inside = to_srgb(L, chroma * np.cos(np.radians(hue)), chroma * np.sin(np.radians(hue)))
        if inside or chroma <= 0:
            return np.rint(rgb * 255).astype(int)
        chroma -= 0.5

def balanced():
    rows = []
    for t in np.linspace(-1, 1, 255):
        rows.append(color(96 - 66 * abs(t), 46 * min(1, 1.6 * abs(t)), 270 if t < 0 else 55))
    return np.array(rows)

def night():
    rows = []
    for t in np.linspace(-1, 1, 255):
        rows.append(color(14 + 62 * abs(t), 46 * min(1, 1.6 * abs(t)), 270 if t < 0 else 55))
    return np.array(rows)

def hexes(table):
    return "".join("%02x%02x%02x" % tuple(row) for row in table)

tables = {"cividis": hexes(cividis()), "balanced": hexes(balanced()), "night": hexes(night())}

with open("tables.json", "w") as out:
    json.dump(
        {"source": "computed by tables.py with Matplotlib %s and NumPy %s" % (matplotlib.__version__, np.__version__),
         "tolerance": 0, "why": "a color table is equal or it is another one", **tables}, out, indent=1)
    out.write("\n")

def literal(text):
    return " +\n".join("  '%s'" % text[at:at + 102] for at in range(0, len(text), 102))

with open("../tables.ts", "w") as out:
    out.write("/** Color tables of 255 entries, six hex digits each. Written by reference/tables.py; don't edit. */\n\n")
    out.write("/** From dark blue to yellow, evenly spaced to the eye, also with a color vision deficiency. source: nunez-2018 */\n")
    out.write("export const cividis =\n%s\n\n" % literal(tables["cividis"]))
    out.write("/** For signed values: blue below, orange above, equally dark at equal distance from a light middle. Ours. */\n")
    out.write("export const balanced =\n%s\n\n" % literal(tables["balanced"]))
    out.write("/** The same on a dark page: equally light at equal distance from a dark middle. Ours. */\n")
    out.write("export const night =\n%s\n" % literal(tables["night"]))
