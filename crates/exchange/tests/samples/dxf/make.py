"""Makes the DXF files of this folder with ezdxf 1.4.5 and writes beside them how large everything in them is.

    pip install ezdxf==1.4.5 && python make.py

Every entity lies on a layer of its own; expected.csv has the bounds of each layer in the units of the file, worked out by
ezdxf, not by us.
"""
import csv
import ezdxf
from ezdxf import bbox
from ezdxf.math import closed_uniform_bspline
from ezdxf.enums import TextEntityAlignment as Align

EXPECTED = []


def points(entity):
    """Points close along an entity: chords at most 1e-6 high."""
    kind = entity.dxftype()
    if kind in ("INSERT", "LWPOLYLINE", "POLYLINE"):
        for part in entity.virtual_entities():
            yield from points(part)
    elif kind in ("ARC", "CIRCLE"):
        yield from entity.flattening(1e-6)
    elif kind == "ELLIPSE":
        yield from entity.construction_tool().vertices(
            entity.params(200_001))
    elif kind == "SPLINE":
        tool = entity.construction_tool()
        knots, degree, count = tool.knots(), tool.degree, tool.count
        low, high = knots[degree], knots[count]
        yield from tool.points(low + (high - low) * i / 20_000 for i in range(20_001))
    else:
        box = bbox.extents([entity])
        yield from (box.extmin, box.extmax)


def bounds(entities):
    all = [point for entity in entities for point in points(entity)]
    xs, ys = [p.x for p in all], [p.y for p in all]
    return [repr(float(v)) for v in (min(xs), min(ys), max(xs), max(ys))]


def add(doc, name, entity):
    entity.dxf.layer = name
    EXPECTED.append([doc.filename, name] + bounds([entity]))


def make(version, units, file):
    doc = ezdxf.new(version, setup=False)
    doc.filename = file
    if version != "R12":
        doc.units = units
        doc.header["$MEASUREMENT"] = 0 if units == 1 else 1
    msp = doc.modelspace()
    doc.linetypes.add("FOLD", [4.5, 3.0, -1.5])
    put = lambda name, entity: add(doc, name, entity)
    put("line", msp.add_line((1, 2), (31, 42)))
    put("circle", msp.add_circle((10, 20), 15))
    put("arc", msp.add_arc((0, 0), 25, 200, 30))
    put("mirrored_arc", msp.add_arc((5, 5), 25, 200, 260, dxfattribs={"extrusion": (0, 0, -1)}))
    put("polyline", msp.add_polyline2d([(0, 0, 0.5), (40, 0, 0), (40, 30, -1.3), (0, 30, 0.2)], format="xyb", close=True))
    put("polyline_3d", msp.add_polyline3d([(0, 0, 1), (10, 5, 2), (20, -5, 3)]))
    put("solid", msp.add_solid([(0, 0), (10, 0), (0, 5), (10, 5)]))
    put("dashed", msp.add_line((0, 0), (0, 100), dxfattribs={"linetype": "FOLD", "color": 1, "ltscale": 2.0}))
    cuff = doc.blocks.new("cuff", base_point=(5, 0))
    cuff.add_polyline2d([(5, 0, 0), (45, 0, 0.3), (45, 12, 0), (5, 12, 0)], format="xyb", close=True)
    cuff.add_arc((25, 6), 4, 10, 100)
    sleeve = doc.blocks.new("sleeve")
    sleeve.add_blockref("cuff", (3, 4), dxfattribs={"xscale": 2, "yscale": 0.5, "rotation": 30})
    sleeve.add_line((0, 0), (9, 9))
    put("placed", msp.add_blockref("cuff", (100, 50)))
    put("turned", msp.add_blockref("cuff", (100, 50), dxfattribs={"rotation": 37, "xscale": 1.5, "yscale": 1.5}))
    put("mirrored", msp.add_blockref("cuff", (100, 50), dxfattribs={"rotation": 20, "xscale": -1}))
    put("flipped", msp.add_blockref("cuff", (100, 50), dxfattribs={"rotation": 20, "extrusion": (0, 0, -1)}))
    put("nested", msp.add_blockref("sleeve", (-60, 10), dxfattribs={"rotation": 45, "xscale": 1.2, "yscale": 1.2}))
    # Sheared, which ezdxf itself only approaches: the test works it out by matrices.
    msp.add_blockref("sleeve", (-60, 10), dxfattribs={"rotation": 45, "xscale": 1.2, "yscale": 0.7, "layer": "sheared"})
    grid = msp.add_blockref("cuff", (0, 0), dxfattribs={
        "rotation": 90, "row_count": 3, "row_spacing": 20, "column_count": 2, "column_spacing": 60, "layer": "grid"})
    EXPECTED.append([file, "grid"] + bounds(grid.multi_insert()))
    named = msp.add_blockref("cuff", (0, 200), dxfattribs={"layer": "named"})
    named.add_attrib("PIECE", "Cuff left", (5, 205), dxfattribs={"height": 3})
    msp.add_point((7, 8), dxfattribs={"layer": "point"})
    msp.add_text("Front 50%%d \u00fc", height=5, rotation=30, dxfattribs={"layer": "text"}).set_placement((12, 13))
    msp.add_text("end", height=5, dxfattribs={"layer": "text_right"}).set_placement((50, 0), align=Align.MIDDLE_RIGHT)
    hidden = doc.layers.add("hidden")
    hidden.off()
    msp.add_line((0, 0), (1, 1), dxfattribs={"layer": "hidden"})
    msp.add_line((0, 0), (1, 1), dxfattribs={"layer": "unseen", "invisible": 1} if version != "R12" else {"layer": "hidden"})
    if version != "R12":
        put("ellipse", msp.add_ellipse((3, 4), (20, 10), 0.4))
        put("part_of_ellipse", msp.add_ellipse((3, 4), (20, 10), 0.4, 0.7, 4.1))
        put("lwpolyline", msp.add_lwpolyline([(0, 0, 1.0), (20, 0, 0), (20, 20, 0.1)], format="xyb", close=True))
        put("spline", msp.add_open_spline([(0, 0), (10, 30), (30, -10), (50, 20), (70, 0)], degree=3))
        put("quintic", msp.add_open_spline([(0, 0), (10, 30), (30, -10), (50, 20), (70, 0), (80, 40), (90, 0)], degree=5))
        put("weighted", msp.add_rational_spline([(0, 0), (10, 30), (30, -10), (50, 20)], [1, 5, 0.3, 1], degree=3))
        ring = msp.add_spline()
        ring.apply_construction_tool(closed_uniform_bspline([(0, 0), (40, 0), (40, 40), (0, 40)], order=4))
        put("closed_spline", ring)
        msp.add_spline([(0, 0), (10, 5), (25, 3)], dxfattribs={"layer": "pinned"})
        msp.add_mtext("{\\fArial|b0;Back}\\Pcut 1 \\H2x;on fold", dxfattribs={
            "layer": "mtext", "insert": (20, 30), "char_height": 6, "attachment_point": 1})
        msp.add_hatch(color=2, dxfattribs={"layer": "hatch"}).paths.add_polyline_path([(0, 0), (1, 0), (1, 1)])
        msp.add_mline([(0, 0), (5, 5)], dxfattribs={"layer": "mline"})
        msp.add_lwpolyline([(0, 0), (2, 2)], dxfattribs={"layer": "true_colour", "true_color": 0x123456})
    doc.saveas(file)


make("R12", 0, "r12.dxf")
make("R2000", 4, "r2000_mm.dxf")
make("R2010", 1, "r2010_inches.dxf")
with open("expected.csv", "w", newline="") as out:
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["file", "layer", "x0", "y0", "x1", "y1"])
    writer.writerows(EXPECTED)
