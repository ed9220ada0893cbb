"""Reads cut files as others do: every NAME.json of a folder beside its NAME.svg and NAME.dxf.

Needs ezdxf and svgpathtools. NAME.json says what must be found, radii in mm:
{"circles": {"cut-inside": [19.16, 19.16]}, "arcs": {"cut-outside": [3.7, 30.0]}}
Circles are all there are on a layer; arcs are radii that must occur among those of a layer.
"""

import json
import logging
import math
import sys
import xml.etree.ElementTree as xml
from pathlib import Path

import ezdxf
import ezdxf.bbox
import svgpathtools

TOLERANCE = 1e-4
CUT = ("cut-inside", "cut-outside")
# What ezdxf adds to every drawing that has none: of later versions, or of things that are not there.
ADDED = {
    f"creating ACAD_{kind} dictionary"
    for kind in (
        "COLOR", "MATERIAL", "MLEADERSTYLE", "MLINESTYLE",
        "PLOTSETTINGS", "SCALELIST", "TABLESTYLE", "VISUALSTYLE",
    )
}
SVG = "{http://www.w3.org/2000/svg}"


class Log(logging.Handler):
    """Keeps what the DXF reader says: a sound file gives it nothing to say."""

    def __init__(self):
        super().__init__(logging.NOTSET)
        self.lines = []

    def emit(self, record):
        if record.getMessage() not in ADDED:
            self.lines.append(record.getMessage())


def must(holds, sentence):
    if not holds:
        raise SystemExit(sentence)


def close(a, b):
    return abs(a - b) < TOLERANCE


def read_dxf(path, log):
    """Circles and radii of arcs by layer, and the box around what is cut."""
    log.lines.clear()
    document = ezdxf.readfile(path)
    audit = document.audit()
    must(not audit.errors, f"{path}: errors: {[error.message for error in audit.errors]}")
    must(not audit.fixes, f"{path}: repairs: {[repair.message for repair in audit.fixes]}")
    must(not log.lines, f"{path}: {log.lines}")
    must(document.dxfversion == "AC1015", f"{path}: {document.dxfversion}")
    must(document.units == ezdxf.units.MM, f"{path}: unit {document.units}")
    must(document.header["$MEASUREMENT"] == 1, f"{path}: not metric")
    circles, arcs, cut = {}, {}, []
    for entity in document.modelspace():
        layer = entity.dxf.layer
        must(document.layers.has_entry(layer), f"{path}: no layer {layer}")
        if layer in CUT:
            cut.append(entity)
        if entity.dxftype() == "CIRCLE":
            circles.setdefault(layer, []).append(entity.dxf.radius)
        elif entity.dxftype() == "LWPOLYLINE":
            must(entity.closed, f"{path}: an open line on {layer}")
            corners = entity.get_points("xyb")
            for (x, y, bulge), (x2, y2, _) in zip(corners, corners[1:] + corners[:1]):
                chord = math.hypot(x2 - x, y2 - y)
                must(chord > 0, f"{path}: a piece without length on {layer}")
                if bulge:
                    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
                    arcs.setdefault(layer, []).append(radius)
        else:
            must(layer not in CUT, f"{path}: {entity.dxftype()} on {layer}")
    box = ezdxf.bbox.extents(cut, fast=False)
    return circles, arcs, [box.size.x, box.size.y]


def read_svg(path):
    """As read_dxf, from elements and path data in millimetres."""
    root = xml.parse(path).getroot()
    width, height = root.get("width"), root.get("height")
    must(width.endswith("mm") and height.endswith("mm"), f"{path}: {width}, {height}")
    view = [float(side) for side in root.get("viewBox").split()]
    must(view == [0, 0, float(width[:-2]), float(height[:-2])], f"{path}: a unit is no mm")
    circles, arcs, boxes = {}, {}, []
    for group in root.iter(SVG + "g"):
        layer = group.get("id")
        for circle in group.iter(SVG + "circle"):
            x, y, radius = (float(circle.get(name)) for name in ("cx", "cy", "r"))
            circles.setdefault(layer, []).append(radius)
            boxes.append((x - radius, x + radius, y - radius, y + radius))
        for element in group.iter(SVG + "path"):
            if layer not in CUT:
                continue
            line = svgpathtools.parse_path(element.get("d"))
            must(line.isclosed(), f"{path}: an open path in {layer}")
            boxes.append(line.bbox())
            found = [piece.radius.real for piece in line if isinstance(piece, svgpathtools.Arc)]
            arcs.setdefault(layer, []).extend(found)
    low, high = zip(*[((box[0], box[2]), (box[1], box[3])) for box in boxes])
    sides = [max(h[axis] for h in high) - min(l[axis] for l in low) for axis in (0, 1)]
    return circles, arcs, sides


def check(path, found, expected):
    circles, arcs, _ = found
    for layer in CUT:
        own, wanted = sorted(circles.get(layer, [])), sorted(expected["circles"].get(layer, []))
        same = len(own) == len(wanted) and all(map(close, own, wanted))
        must(same, f"{path}: circles on {layer}: {own}, not {wanted}")
        for radius in expected["arcs"].get(layer, []):
            there = any(close(radius, arc) for arc in arcs.get(layer, []))
            must(there, f"{path}: no arc of {radius} on {layer}")


def main(folder):
    log = Log()
    logging.getLogger("ezdxf").addHandler(log)
    logging.getLogger("ezdxf").setLevel(logging.DEBUG)
    names = sorted(Path(folder).glob("*.json"))
    must(names, f"{folder}: nothing to check")
    for name in names:
        expected = json.loads(name.read_text(encoding="utf-8"))
        dxf, svg = name.with_suffix(".dxf"), name.with_suffix(".svg")
        in_dxf, in_svg = read_dxf(dxf, log), read_svg(svg)
        check(dxf, in_dxf, expected)
        check(svg, in_svg, expected)
        for a, b in zip(in_dxf[2], in_svg[2]):
            must(abs(a - b) < 0.01, f"{name.stem}: DXF and SVG are {a} and {b} mm large")
        count = sum(map(len, in_dxf[0].values())), sum(map(len, in_dxf[1].values()))
        width, height = in_dxf[2]
        print(f"{name.stem}: sound, {count[0]} circles, {count[1]} arcs, {width:.3f} x {height:.3f} mm")


if __name__ == "__main__":
    main(sys.argv[1])
