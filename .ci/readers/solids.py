#!/usr/bin/env python3
"""Reads the STL and 3MF files of a folder with trimesh and a strict lib3mf, and fails on any flaw.

Usage: solids.py FOLDER    Needs: trimesh, lib3mf, numpy, networkx
"""

import sys
from pathlib import Path

import lib3mf
import trimesh

# Thinner facets, mm, would be lost in single precision.
THINNEST = 1e-4


def check_mesh(mesh):
    """What is wrong with a mesh, as sentences."""
    if not mesh.is_watertight:
        yield "it is not watertight"
    if not mesh.is_winding_consistent:
        yield "its facets do not all face one way"
    if not mesh.volume > 0:
        yield f"its volume is {mesh.volume} mm³"
    if len(mesh.split(only_watertight=False)) != 1:
        yield "it falls apart"
    if not mesh.nondegenerate_faces(height=THINNEST).all():
        yield "a facet is degenerate"


def check_stl(path):
    data = path.read_bytes()
    facets = int.from_bytes(data[80:84], "little")
    if data.startswith(b"solid"):
        yield "its header begins with solid"
    # Library of Congress, format description fdd000505.
    if len(data) != 84 + 50 * facets:
        yield f"{len(data)} bytes hold {facets} facets"
    mesh = trimesh.load_mesh(path)
    if len(mesh.faces) != facets:
        yield f"{len(mesh.faces)} of {facets} facets are left"
    yield from check_mesh(mesh)
    print(f"{path.name}: {facets} facets, {mesh.volume:.1f} mm³")


def check_3mf(path):
    wrapper = lib3mf.get_wrapper()
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    for index in range(reader.GetWarningCount()):
        yield f"warning {reader.GetWarning(index)}"
    if model.GetUnit() != lib3mf.ModelUnit.MilliMeter:
        yield "its unit is not the millimetre"
    objects = model.GetMeshObjects()
    if objects.Count() == 0:
        yield "it holds no object"
    while objects.MoveNext():
        found = objects.GetCurrentMeshObject()
        name = found.GetName()
        if not name:
            yield "an object has no name"
        if not found.IsValid() or not found.IsManifoldAndOriented():
            yield f"{name} is not manifold and oriented"
        mesh = trimesh.Trimesh(
            vertices=[list(vertex.Coordinates) for vertex in found.GetVertices()],
            faces=[list(triangle.Indices) for triangle in found.GetTriangleIndices()],
            process=False,
        )
        yield from (f"{name}: {flaw}" for flaw in check_mesh(mesh))
        print(f"{path.name}: {name}, {len(mesh.faces)} facets, {mesh.volume:.1f} mm³")
    yield from check_build(model)


def check_build(model):
    """Items must stand on the bed and apart from each other."""
    boxes = []
    items = model.GetBuildItems()
    while items.MoveNext():
        box = items.GetCurrent().GetOutbox()
        low, high = list(box.MinCoordinate), list(box.MaxCoordinate)
        if min(low) < -1e-4:
            yield f"an item stands off the bed at {low}"
        if any(all(low[i] < b[i] and a[i] < high[i] for i in (0, 1)) for a, b in boxes):
            yield f"the item at {low} overlaps another"
        boxes.append((low, high))
    if not boxes:
        yield "it builds nothing"


def main(folder):
    checks = {".stl": check_stl, ".3mf": check_3mf}
    files = sorted(path for path in Path(folder).rglob("*") if path.suffix in checks)
    found = {path.suffix for path in files}
    flaws = [f"there is no {ending} file in {folder}" for ending in checks if ending not in found]
    for path in files:
        try:
            for flaw in checks[path.suffix](path):
                flaws.append(f"{path}: {flaw}")
        except Exception as error:  # whatever a reader cannot take is a flaw of the file
            flaws.append(f"{path}: {error}")
    for flaw in flaws:
        print(flaw, file=sys.stderr)
    print(f"{len(files)} files, {len(flaws)} flaws")
    return 1 if flaws else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1]))
