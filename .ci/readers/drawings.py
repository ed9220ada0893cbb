#!/usr/bin/env python3
"""Reads the cut files of a folder as others do, and fails on any flaw.

Usage: drawings.py FOLDER KERF    Needs: ezdxf, svgpathtools

Beside each NAME.json, which is what `gazewright check --json` prints, lie NAME-PART.svg and NAME-PART.dxf
of plate, foam, head, guard and smallest head, cut with this kerf, mm. What must be found in them is worked out here, from the
project's own fields.
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

PARTS = ("plate", "foam", "head", "guard", "smallest-head")
CUT = ("cut-inside", "cut-outside")
TOLERANCE = 1e-4
# How far the chords of an outline may lie off its curve, mm.
CHORD = 0.05
# The program's own choices, mm: how much larger a slot is than its tie, which is also the radius of its
# corners, how much wider a cable hole is than its sheath, and how far foam stands off what a ring
# sweeps and off a cable hole.
SLOT_CLEARANCE = 0.7
HOLE_CLEARANCE = 0.5
FOAM_CLEARANCE = 3.0
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


class Found:
    """What a file holds: circles (x, y, radius) and radii of arcs by layer, the ends of the pieces of all other
    outlines, and a box around what is cut."""

    def __init__(self):
        self.circles = {layer: [] for layer in CUT}
        self.arcs = {layer: [] for layer in CUT}
        self.pieces = []
        self.box = []

    def size(self):
        return [self.box[1] - self.box[0], self.box[3] - self.box[2]]


def must(holds, sentence):
    if not holds:
        raise SystemExit(sentence)


def close(found, wanted):
    same = len(found) == len(wanted)
    return same and all(abs(a - b) < TOLERANCE for a, b in zip(found, wanted))


def occurs(wanted, found):
    return any(close([one], [wanted]) for one in found)


def read_dxf(path, log):
    log.lines.clear()
    document = ezdxf.readfile(path)
    audit = document.audit()
    must(not audit.errors, f"{path}: errors: {[error.message for error in audit.errors]}")
    must(not audit.fixes, f"{path}: repairs: {[repair.message for repair in audit.fixes]}")
    must(not log.lines, f"{path}: {log.lines}")
    must(document.dxfversion == "AC1015", f"{path}: {document.dxfversion}")
    must(document.units == ezdxf.units.MM, f"{path}: unit {document.units}")
    must(document.header["$MEASUREMENT"] == 1, f"{path}: not metric")
    found, cut = Found(), []
    for entity in document.modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        must(document.layers.has_entry(layer), f"{path}: no layer {layer}")
        if layer not in CUT:
            continue
        cut.append(entity)
        if kind == "CIRCLE":
            x, y, _ = entity.dxf.center
            found.circles[layer].append((x, y, entity.dxf.radius))
            continue
        must(kind == "LWPOLYLINE", f"{path}: {kind} on {layer}")
        must(entity.closed, f"{path}: an open line on {layer}")
        corners = entity.get_points("xyb")
        for (x, y, bulge), (x2, y2, _) in zip(corners, corners[1:] + corners[:1]):
            chord = math.hypot(x2 - x, y2 - y)
            must(chord > 0, f"{path}: a piece without length on {layer}")
            found.pieces.append((complex(x, y), complex(x2, y2)))
            if bulge:
                found.arcs[layer].append(chord * (1 + bulge * bulge) / (4 * abs(bulge)))
    box = ezdxf.bbox.extents(cut, fast=False)
    found.box = [box.extmin.x, box.extmax.x, box.extmin.y, box.extmax.y]
    return found


def read_svg(path):
    root = xml.parse(path).getroot()
    width, height = root.get("width"), root.get("height")
    must(width.endswith("mm") and height.endswith("mm"), f"{path}: {width}, {height}")
    view = [float(side) for side in root.get("viewBox").split()]
    must(view == [0, 0, float(width[:-2]), float(height[:-2])], f"{path}: a unit is no mm")
    found, boxes = Found(), []
    for group in root.iter(SVG + "g"):
        layer = group.get("id")
        if layer not in CUT:
            continue
        for circle in group.iter(SVG + "circle"):
            x, y, radius = (float(circle.get(name)) for name in ("cx", "cy", "r"))
            found.circles[layer].append((x, y, radius))
            boxes.append((x - radius, x + radius, y - radius, y + radius))
        for element in group.iter(SVG + "path"):
            line = svgpathtools.parse_path(element.get("d"))
            must(line.isclosed(), f"{path}: an open path in {layer}")
            boxes.append(line.bbox())
            arcs = [piece.radius.real for piece in line if isinstance(piece, svgpathtools.Arc)]
            found.arcs[layer].extend(arcs)
            found.pieces.extend((piece.start, piece.end) for piece in line)
    left, right, low, high = zip(*boxes)
    found.box = [min(left), max(right), min(low), max(high)]
    return found


def into_frame(svg, dxf):
    """Puts an SVG into the DXF's frame: a page has its corner at the origin, and y runs down."""
    left, top = svg.box[0] - dxf.box[0], svg.box[2] + dxf.box[3]
    svg.pieces = [
        tuple(complex(end.real - left, top - end.imag) for end in ends) for ends in svg.pieces
    ]
    for layer, circles in svg.circles.items():
        svg.circles[layer] = [(x - left, top - y, radius) for x, y, radius in circles]


def seat_radii(project, eye):
    """Radii of an eye's opening at the plate's front and back, mm."""
    parts = eye["parts"] or project["parts"]
    ((kind, seat),) = parts["seat"].items()
    if kind == "Plain":
        return [seat["opening_diameter"] / 2] * 2
    sphere = parts["ball_diameter"] / 2 + seat["running_clearance"]
    height = seat["centre_height"]
    return [math.sqrt(sphere**2 - z**2) for z in (height, height + project["plate"]["thickness"])]


def cable_holes(report):
    """Radius of the round ends of each cable hole, mm. Each hole's edge is a finding, and all lean."""
    drives = {drive["name"]: drive["cable"] for drive in report["project"]["drives"]}
    edges = [found["part"] for found in report["findings"] if found["id"] == "hole_edge"]
    return [(drives[name]["sheath_diameter"] + HOLE_CLEARANCE) / 2 for name in edges]


def check_plate(path, found, report, kerf):
    project = report["project"]
    radii = [seat_radii(project, eye) for eye in project["eyes"]]
    # A flat cutter leaves a straight wall, through which the ball must not fall.
    wanted = [(*eye["centre"], min(own) - kerf / 2) for eye, own in zip(project["eyes"], radii)]
    circles = found.circles["cut-inside"]
    same = len(circles) == len(wanted) and all(map(close, sorted(circles), sorted(wanted)))
    must(same, f"{path}: openings {circles}, not {wanted}")
    must(not found.circles["cut-outside"], f"{path}: a circle is cut outside")
    corners = [SLOT_CLEARANCE - kerf / 2 for _ in project["ties"] for _ in range(4)]
    # A half circle is one arc or two, as rounding has it.
    ends = [radius - kerf / 2 for radius in cable_holes(report)]
    arcs = found.arcs["cut-inside"]
    of_slots = [radius for radius in arcs if occurs(radius, corners)]
    must(close(of_slots, corners), f"{path}: corners of slots {of_slots}, not {corners}")
    of_holes = [radius for radius in arcs if not occurs(radius, corners)]
    enough = 2 * len(ends) <= len(of_holes) <= 4 * len(ends)
    must(enough, f"{path}: {len(of_holes)} arcs of {len(ends)} cable holes")
    for radius in of_holes:
        must(occurs(radius, ends), f"{path}: a cable hole of {radius} mm radius, not of {ends}")
    if project["plate"]["outline"] == "Band" and not project["plate"]["trim_to_head"]:
        for front, _ in radii:
            rim = front + project["plate"]["rim"] + kerf / 2
            there = occurs(rim, found.arcs["cut-outside"])
            must(there, f"{path}: no arc of {rim} mm around an opening")
    check_size(path, found, report, kerf)


def check_foam(path, found, report, kerf):
    wanted = [
        eye["sweep_reach_mm"] + FOAM_CLEARANCE - kerf / 2 for eye in report["figures"]["eyes"]
    ]
    # Holes that overlap are one, of arcs; those over the edge belong to the edge.
    circles = [radius for layer in CUT for *_, radius in found.circles[layer]]
    all_radii = circles + [radius for layer in CUT for radius in found.arcs[layer]]
    for radius in wanted:
        must(occurs(radius, all_radii), f"{path}: no hole of {radius} mm radius")
    for radius in circles:
        must(occurs(radius, wanted), f"{path}: a hole of {radius} mm radius")
    passages = [radius + FOAM_CLEARANCE - kerf / 2 for radius in cable_holes(report)]
    for radius in passages:
        must(occurs(radius, all_radii), f"{path}: no passage of {radius} mm radius")
    if not passages:
        check_size(path, found, report, kerf)
        return
    # A passage may take a place of the edge, but little of it.
    plate = report["figures"]["plate"]
    for side, key in zip(found.size(), ("plate_width_mm", "plate_height_mm")):
        least, most = plate[key] + kerf - 2 * FOAM_CLEARANCE, plate[key] + kerf + TOLERANCE
        must(least <= side <= most, f"{path}: {side} mm large beside {plate[key]} mm of the plate")


def check_size(path, found, report, kerf):
    plate = report["figures"]["plate"]
    wanted = [plate[side] + kerf for side in ("plate_width_mm", "plate_height_mm")]
    must(close(found.size(), wanted), f"{path}: {found.size()} mm large, not {wanted}")


def distance(point, start, end):
    share = ((point - start) * (end - start).conjugate()).real / abs(end - start) ** 2
    return abs(point - start - min(max(share, 0), 1) * (end - start))


def check_head(path, found, report, kerf):
    must(not any(found.circles.values()), f"{path}: a circle in the head")
    for point in report["project"]["head"]["outline"]:
        off = min(distance(complex(*point), *piece) for piece in found.pieces)
        must(abs(off - kerf / 2) < CHORD, f"{path}: {off} mm from the head's point {point}")


def check_smallest_head(path, found, report, kerf):
    must(not any(found.circles.values()), f"{path}: a circle in the head")
    # It holds the plate with what is wanted to every side; a limit that a project does not name is 2 mm.
    limit = report["project"]["limits"].get("plate_wall") or [0.0, 2.0]
    plate = report["figures"]["plate"]
    least = [plate[side] + 2 * limit[1] + kerf for side in ("plate_width_mm", "plate_height_mm")]
    large = zip(found.size(), least)
    must(all(own >= wanted for own, wanted in large), f"{path}: {found.size()} mm large, at least {least}")


def check_guard(path, found, report, kerf):
    must(not any(found.circles.values()), f"{path}: a circle in the guard")
    # The tool rounds the corners that it goes about.
    for radius in (radius for own in found.arcs.values() for radius in own):
        must(close([radius], [kerf / 2]), f"{path}: an arc of {radius} mm in the guard")
    hand = report["project"]["hand"]
    half, bow = hand["guard_chord"] / 2, hand["guard_bow"]
    radius = (half**2 + bow**2) / (2 * bow)
    # The arc's angle by its sine: no guard is bent beyond a half-circle.
    size = [2 * radius * math.asin(half / radius), hand["guard_length"]]
    wanted = [side + kerf for side in (size if hand["guard_axis"] == "Y" else size[::-1])]
    must(close(found.size(), wanted), f"{path}: {found.size()} mm large, not {wanted}")


def main(folder, kerf):
    log = Log()
    logging.getLogger("ezdxf").addHandler(log)
    logging.getLogger("ezdxf").setLevel(logging.DEBUG)
    names = sorted(Path(folder).glob("*.json"))
    must(names, f"{folder}: nothing to check")
    checks = {"plate": check_plate, "foam": check_foam, "head": check_head, "guard": check_guard}
    checks["smallest-head"] = check_smallest_head
    for name in names:
        report = json.loads(name.read_text(encoding="utf-8"))
        for part in PARTS:
            paths = [name.with_name(f"{name.stem}-{part}.{ending}") for ending in ("dxf", "svg")]
            dxf, svg = read_dxf(paths[0], log), read_svg(paths[1])
            must(close(dxf.size(), svg.size()), f"{paths[0]}: {dxf.size()} mm; SVG: {svg.size()} mm")
            into_frame(svg, dxf)
            for path, found in zip(paths, (dxf, svg)):
                checks[part](path, found, report, kerf)
            circles, arcs = (sum(map(len, kind.values())) for kind in (dxf.circles, dxf.arcs))
            width, height = dxf.size()
            print(f"{name.stem}, {part}: {circles} circles, {arcs} arcs, {width:.3f} x {height:.3f} mm")


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    main(sys.argv[1], float(sys.argv[2]))
