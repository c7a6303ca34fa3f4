"""Makes three sheets as makers nobody knows might draw them, with programs that share nothing with ours.

    python3 -m venv v && v/bin/pip install reportlab==5.1.0 pycairo==1.29.2 && v/bin/python make.py

The tests in ../../recognise/makers.rs hold the same figures, in mm. Shapes and words are our own.
"""
import cairo
from reportlab.lib.units import mm
from reportlab.pdfgen import canvas

PT = 72 / 25.4


def sheet(name, size):
    return canvas.Canvas(name, pagesize=(size[0] * mm, size[1] * mm), invariant=1)


def skirt(c, x, y, grow, dash):
    """Half a skirt on the fold, 150 high: straight on the left, a round hem."""
    w = 90 + grow
    top = 60 + grow
    p = c.beginPath()
    p.moveTo(x * mm, (y + 4) * mm)
    p.curveTo((x + w / 3) * mm, (y + 4) * mm, (x + 2 * w / 3) * mm, (y + 8) * mm, (x + w) * mm, (y + 14) * mm)
    p.lineTo((x + top) * mm, (y + 150 + grow) * mm)
    p.curveTo((x + 2 * top / 3) * mm, (y + 147 + grow) * mm, (x + top / 3) * mm, (y + 146 + grow) * mm, x * mm, (y + 146 + grow) * mm)
    p.close()
    c.setDash([d * mm for d in dash])
    c.drawPath(p)
    c.setDash([])


def pocket(c, x, y, grow, dash):
    w, h = 40 + grow, 50 + grow
    p = c.beginPath()
    p.moveTo(x * mm, (y + 10) * mm)
    p.lineTo((x + w / 2) * mm, y * mm)
    p.lineTo((x + w) * mm, (y + 10) * mm)
    p.lineTo((x + w) * mm, (y + h) * mm)
    p.lineTo(x * mm, (y + h) * mm)
    p.close()
    c.setDash([d * mm for d in dash])
    c.drawPath(p)
    c.setDash([])


def nested():
    """(a) Three sizes on each other, told by their dashes; one grain, no allowance, German words."""
    c = sheet("nested_german.pdf", (297, 210))
    c.setLineWidth(0.35 * mm)
    sizes = [(0, []), (5, [4, 2]), (10, [1, 1])]
    for grow, dash in sizes:
        skirt(c, 30, 30, grow, dash)
        pocket(c, 180, 60, grow, dash)
    # One grain, on the skirt.
    c.line(60 * mm, 60 * mm, 60 * mm, 120 * mm)
    for y, d in ((60, 3), (120, -3)):
        c.line(60 * mm, y * mm, 58.5 * mm, (y + d) * mm)
        c.line(60 * mm, y * mm, 61.5 * mm, (y + d) * mm)
    c.setFont("Helvetica-Bold", 14)
    c.drawString(66 * mm, 110 * mm, "Vorderrock")
    c.setFont("Helvetica", 10)
    c.drawString(66 * mm, 104 * mm, "1x im Stoffbruch zuschneiden")
    c.setFont("Helvetica-Bold", 12)
    c.drawString(184 * mm, 92 * mm, "Tasche")
    c.setFont("Helvetica", 9)
    c.drawString(184 * mm, 87 * mm, "2x zuschneiden")
    c.setFont("Helvetica", 8)
    c.saveState()
    c.translate(34 * mm, 70 * mm)
    c.rotate(90)
    c.drawString(0, 0, "Stoffbruch")
    c.restoreState()
    c.saveState()
    c.translate(59 * mm, 75 * mm)
    c.rotate(90)
    c.drawString(0, 0, "Fadenlauf")
    c.restoreState()
    c.drawString(20 * mm, 14 * mm, "Ohne Nahtzugabe")
    c.drawString(20 * mm, 10 * mm, "Gr\u00f6\u00dfe 34 36 38")
    c.showPage()
    c.save()


def bodice(c):
    """A half bodice, cut line only, allowance of 10 mm in it, on the fold at its left; a V of 6 mm in its side."""
    p = c.beginPath()
    p.moveTo(60 * mm, -80 * mm)
    p.lineTo(190 * mm, -80 * mm)
    # The side, with a V that goes in.
    p.lineTo(211.287 * mm, 157 * mm)
    p.lineTo(205.581 * mm, 160.537 * mm)
    p.lineTo(211.826 * mm, 163 * mm)
    p.lineTo(220 * mm, 254 * mm)
    p.curveTo(190 * mm, 262 * mm, 182 * mm, 300 * mm, 186 * mm, 350 * mm)
    p.lineTo(116 * mm, 375 * mm)
    p.curveTo(114 * mm, 340 * mm, 90 * mm, 325 * mm, 60 * mm, 325 * mm)
    p.close()
    c.setLineWidth(0.4 * mm)
    c.drawPath(p)
    # The bracket of the fold, its arrows at the edge.
    c.setLineWidth(0.25 * mm)
    p = c.beginPath()
    p.moveTo(60 * mm, 110 * mm)
    p.lineTo(72 * mm, 110 * mm)
    p.lineTo(72 * mm, 270 * mm)
    p.lineTo(60 * mm, 270 * mm)
    c.drawPath(p)
    for y in (110, 270):
        p = c.beginPath()
        p.moveTo(60 * mm, y * mm)
        p.lineTo(63 * mm, (y + 1.2) * mm)
        p.lineTo(63 * mm, (y - 1.2) * mm)
        p.close()
        c.drawPath(p, fill=1, stroke=0)
    c.setFont("Helvetica-Bold", 16)
    c.drawString(100 * mm, 200 * mm, "Bodice front")
    c.setFont("Helvetica", 11)
    c.drawString(100 * mm, 192 * mm, "cut 1 on fold")
    c.drawString(100 * mm, 130 * mm, "bow is sewn on between the dots")
    c.setFont("Helvetica", 9)
    c.drawString(100 * mm, 120 * mm, "Seam allowance of 1 cm included")


def tiled():
    """(b) Two by three pages of A5 that overlap by 15 mm, each with its letter and figure, in no order."""
    w, h, step = 148.0, 210.0, 15.0
    c = sheet("tiled_labelled.pdf", (w, h))
    for row, column in ((1, 1), (0, 0), (2, 0), (0, 1), (2, 1), (1, 0)):
        x, top = 40 + column * (w - step - 20), 400 - row * (h - step - 20)
        c.saveState()
        p = c.beginPath()
        p.rect(10 * mm, 10 * mm, (w - 20) * mm, (h - 20) * mm)
        c.clipPath(p, stroke=0)
        c.translate((10 - x) * mm, (h - 10 - top) * mm)
        bodice(c)
        c.restoreState()
        c.setLineWidth(0.1 * mm)
        c.rect(10 * mm, 10 * mm, (w - 20) * mm, (h - 20) * mm)
        c.setFont("Helvetica", 10)
        c.drawString(20 * mm, 4 * mm, "ABC"[row] + str(column + 1))
        c.showPage()
    c.save()


def compound():
    """(c) Everything in one path drawn with the thinnest line: two pieces, a notch, a grain, words as outlines."""
    surface = cairo.PDFSurface("one_path.pdf", 210 * PT, 297 * PT)
    surface.set_metadata(cairo.PDF_METADATA_CREATE_DATE, "2026-11-26T12:00:00Z")
    c = cairo.Context(surface)
    # y upwards, as in the other sheets; letters are turned back by their font.
    c.transform(cairo.Matrix(PT, 0, 0, -PT, 0, 297 * PT))
    c.set_font_matrix(cairo.Matrix(5, 0, 0, -5, 0, 0))
    # A sleeve.
    c.move_to(40, 40)
    c.line_to(140, 40)
    c.line_to(150, 110)
    c.curve_to(125, 125, 115, 150, 95, 150)
    c.curve_to(75, 150, 65, 125, 30, 110)
    c.close_path()
    # A notch on the lower edge, the grain and its heads.
    for line in (
        ((90, 40), (90, 45)),
        ((88.5, 63), (90, 60), (91.5, 63)),
        ((90, 60), (90, 120)),
        ((88.5, 117), (90, 120), (91.5, 117)),
    ):
        c.move_to(*line[0])
        for point in line[1:]:
            c.line_to(*point)
    # A cuff.
    c.rectangle(40, 180, 100, 30)
    for words, x, y in (("Sleeve", 100, 80), ("cuff", 60, 190)):
        c.move_to(x, y)
        c.text_path(words)
    c.set_line_width(0.01)
    c.stroke()
    surface.finish()


nested()
tiled()
compound()
