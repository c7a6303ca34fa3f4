"""Makes the sample PDFs beside it with programs that share nothing with ours.

    python3 -m venv v && v/bin/pip install reportlab==5.1.0 pycairo==1.29.2 pikepdf==10.18.0 && v/bin/python make.py

(pycairo is built against libcairo2-dev.) The tests in ../../sheets_in hold the same figures, in mm.
"""
import io
import math

import cairo
import pikepdf
from reportlab.lib.units import mm
from reportlab.pdfgen import canvas
from PIL import Image

PT = 72 / 25.4


def reportlab_page():
    c = canvas.Canvas("reportlab.pdf", pagesize=(210 * mm, 297 * mm), invariant=1)
    c.setLineWidth(0.5 * mm)
    c.setStrokeColorRGB(1, 0, 0)
    c.line(20 * mm, 30 * mm, 120 * mm, 30 * mm)
    c.setStrokeColorCMYK(0, 0, 0, 1)
    c.bezier(20 * mm, 50 * mm, 40 * mm, 90 * mm, 80 * mm, 90 * mm, 100 * mm, 50 * mm)
    c.setDash(3 * mm, 1.5 * mm)
    c.line(20 * mm, 100 * mm, 120 * mm, 100 * mm)
    c.setDash()
    c.saveState()
    c.translate(50 * mm, 150 * mm)
    c.rotate(30)
    c.scale(2, 2)
    c.rect(0, 0, 20 * mm, 10 * mm, fill=1)
    c.restoreState()
    c.beginForm("cross", -10 * mm, -10 * mm, 10 * mm, 10 * mm)
    c.line(-5 * mm, 0, 5 * mm, 0)
    c.line(0, -5 * mm, 0, 5 * mm)
    c.endForm()
    for x in (20, 100):
        c.saveState()
        c.translate(x * mm, 200 * mm)
        c.doForm("cross")
        c.restoreState()
    c.circle(150 * mm, 50 * mm, 25 * mm)
    c.setFont("Helvetica", 12)
    c.drawString(30 * mm, 250 * mm, "Front, cut 2")
    c.saveState()
    c.translate(180 * mm, 100 * mm)
    c.rotate(90)
    c.setFont("Times-Roman", 10)
    c.drawString(0, 0, "Grain")
    c.restoreState()
    c.showPage()
    c.setPageRotation(90)
    c.line(10 * mm, 10 * mm, 60 * mm, 10 * mm)
    c.showPage()
    c.setPageRotation(0)
    picture = io.BytesIO()
    Image.new("RGB", (30, 20), (200, 40, 40)).save(picture, "PNG")
    picture.seek(0)
    from reportlab.lib.utils import ImageReader

    c.drawImage(ImageReader(picture), 40 * mm, 120 * mm, 30 * mm, 20 * mm)
    c.showPage()
    c.save()


def cairo_page():
    surface = cairo.PDFSurface("cairo.pdf", 200 * PT, 300 * PT)
    surface.set_metadata(cairo.PDF_METADATA_CREATE_DATE, "2020-01-01T00:00:00")
    c = cairo.Context(surface)
    c.scale(PT, PT)  # mm, y down
    c.set_line_width(0.4)
    c.set_source_rgb(0, 0, 1)
    c.move_to(20, 20)
    c.line_to(120, 20)
    c.stroke()
    c.arc(100, 100, 40, 0, 2 * math.pi)
    c.close_path()
    c.stroke()
    c.set_dash([2, 1])
    c.move_to(10, 200)
    c.curve_to(40, 180, 80, 180, 110, 200)
    c.stroke()
    c.set_dash([])
    c.save()
    c.translate(150, 250)
    c.rotate(math.radians(45))
    c.rectangle(-10, -10, 20, 20)
    c.fill_preserve()
    c.set_source_rgb(0, 0, 0)
    c.stroke()
    c.restore()
    c.save()
    c.rectangle(10, 220, 50, 50)
    c.clip()
    c.move_to(0, 245)
    c.line_to(100, 245)  # partly in the window
    c.move_to(70, 225)
    c.line_to(90, 225)  # outside of it
    c.stroke()
    c.restore()
    c.select_font_face("DejaVu Sans")
    c.set_font_size(5)
    c.move_to(20, 150)
    c.show_text("Rückenteil 2 ×")
    c.show_page()
    surface.finish()


def layers():
    for name, mode in (
        ("layers_plain.pdf", pikepdf.ObjectStreamMode.disable),
        ("layers_packed.pdf", pikepdf.ObjectStreamMode.generate),
    ):
        pdf = pikepdf.new()
        page = pdf.add_blank_page(page_size=(200 * PT, 200 * PT))
        groups = [
            pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=pikepdf.String(name)))
            for name in ("Size 36", "Size 38", "Größe 40")
        ]
        pdf.Root.OCProperties = pikepdf.Dictionary(
            OCGs=pikepdf.Array(groups),
            D=pikepdf.Dictionary(Order=pikepdf.Array(groups), OFF=pikepdf.Array([groups[1]])),
        )
        page.obj.Resources = pikepdf.Dictionary(
            Properties=pikepdf.Dictionary(A=groups[0], B=groups[1], C=groups[2])
        )
        content = ""
        for at, tag in ((10, "A"), (20, "B"), (30, "C")):
            content += f"/OC /{tag} BDC {10 * PT} {at * PT} m {90 * PT} {at * PT} l S EMC\n"
        content += f"{10 * PT} {40 * PT} m {90 * PT} {40 * PT} l S\n"
        page.obj.Contents = pdf.make_stream(content.encode())
        pdf.save(name, object_stream_mode=mode, deterministic_id=True)


def forms_on_layers():
    """Layers named by forms, as some drawing programs write them; one is off."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(200 * PT, 200 * PT))
    groups = [
        pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=pikepdf.String(name)))
        for name in ("Cutting (front)", "Größe 40")
    ]
    pdf.Root.OCProperties = pikepdf.Dictionary(
        OCGs=pikepdf.Array(groups), D=pikepdf.Dictionary(OFF=pikepdf.Array([groups[1]]))
    )
    forms = {}
    for number, (group, at) in enumerate(zip(groups, (10, 20)), 1):
        form = pdf.make_stream(f"{10 * PT} {at * PT} m {90 * PT} {at * PT} l S".encode())
        form.Type, form.Subtype, form.OC = pikepdf.Name.XObject, pikepdf.Name.Form, group
        form.BBox = pikepdf.Array([0, 0, 600, 600])
        forms[f"/Fm{number}"] = form
    page.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(forms))
    page.obj.Contents = pdf.make_stream(f"q /Fm1 Do Q\n/Fm2\nDo {10 * PT} {30 * PT} m {90 * PT} {30 * PT} l S".encode())
    pdf.save("layers_forms.pdf", deterministic_id=True)


def unit_and_lock():
    pdf = pikepdf.new()
    # Two units to the point; what is seen begins at 100, 50.
    page = pdf.add_blank_page(page_size=(500, 600))
    page.obj.UserUnit = 2
    page.obj.CropBox = pikepdf.Array([100, 50, 400, 550])
    page.obj.Contents = pdf.make_stream(b"110 60 m 210 60 l S 20 20 m 50 20 l S")
    pdf.save("user_unit.pdf", deterministic_id=True)
    pdf.save("locked.pdf", encryption=pikepdf.Encryption(owner="o", user="u", R=4, aes=True, metadata=True), static_id=True)
    pdf.save("locked_without_word.pdf", encryption=pikepdf.Encryption(owner="o", user="", R=4, aes=True, metadata=True), static_id=True)


# A garment piece of 460 by 560 mm, with a dart, a grain arrow and a test square, spread over pages.
OUTLINE = [
    ("M", (10, 10)),
    ("L", (460, 10)),
    ("C", (440, 120), (430, 220), (455, 330)),
    ("C", (380, 340), (360, 420), (390, 520)),
    ("L", (250, 560)),
    ("C", (240, 500), (180, 470), (10, 480)),
    ("Z",),
]
DART = [("M", (150, 10)), ("L", (165, 200)), ("L", (180, 10))]
GRAIN = [("M", (300, 60)), ("L", (300, 430))]
SQUARE = [("M", (30, 30)), ("L", (80, 30)), ("L", (80, 80)), ("L", (30, 80)), ("Z",)]


def pages_of(width, height, overlap):
    columns = math.ceil((470 - overlap) / (width - overlap))
    rows = math.ceil((570 - overlap) / (height - overlap))
    top = rows * (height - overlap) + overlap
    for row in range(rows):
        for column in range(columns):
            x = column * (width - overlap)
            y = top - height - row * (height - overlap)
            yield x, y


def hidden_by_windows():
    """Every page draws every line and hides the rest: A4, margin 10 mm, overlap 12 mm."""
    c = canvas.Canvas("tiled_reportlab.pdf", pagesize=(210 * mm, 297 * mm), invariant=1)
    number = 0
    for x, y in pages_of(190, 277, 12):
        number += 1
        c.saveState()
        window = c.beginPath()
        window.rect(10 * mm, 10 * mm, 190 * mm, 277 * mm)
        c.clipPath(window, stroke=0)
        c.translate((10 - x) * mm, (10 - y) * mm)
        for line, wide in ((OUTLINE, 0.7), (DART, 0.3), (GRAIN, 0.3), (SQUARE, 0.3)):
            path = c.beginPath()
            for step in line:
                points = [v * mm for point in step[1:] for v in point]
                {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo}.get(step[0], path.close)(*points)
            c.setLineWidth(wide * mm)
            c.drawPath(path)
        c.setFont("Helvetica", 10)
        c.drawString(40 * mm, 50 * mm, "5 cm")
        c.drawString(220 * mm, 300 * mm, "Skirt front, cut 1")
        c.restoreState()
        c.setFont("Helvetica", 8)
        c.drawString(20 * mm, 4 * mm, f"page {number}")
        c.showPage()
    c.save()


def hidden_by_cairo():
    """The same by cairo on Letter with an overlap of 15 mm."""
    surface = cairo.PDFSurface("tiled_cairo.pdf", 215.9 * PT, 279.4 * PT)
    surface.set_metadata(cairo.PDF_METADATA_CREATE_DATE, "2020-01-01T00:00:00")
    c = cairo.Context(surface)
    for x, y in pages_of(200, 260, 15):
        c.save()
        c.translate(0, 279.4 * PT)
        c.scale(PT, -PT)
        c.rectangle(7.95, 9.7, 200, 260)
        c.clip()
        c.translate(7.95 - x, 9.7 - y)
        for line, wide in ((OUTLINE, 0.7), (DART, 0.3), (GRAIN, 0.3), (SQUARE, 0.3)):
            for step in line:
                points = [v for point in step[1:] for v in point]
                {"M": c.move_to, "L": c.line_to, "C": c.curve_to}.get(step[0], c.close_path)(*points)
            c.set_line_width(wide)
            c.stroke()
        c.restore()
        c.show_page()
    surface.finish()


def straight(line):
    """A line as many short straight ones."""
    points, start, last = [], None, None
    for step in line:
        if step[0] == "M":
            start = last = step[1]
            points.append(last)
        elif step[0] == "L":
            points.append(step[1])
            last = step[1]
        elif step[0] == "C":
            a, b, c, d = last, *step[1:]
            for i in range(1, 41):
                t = i / 40
                s = 1 - t
                points.append(
                    tuple(s**3 * a[k] + 3 * s * s * t * b[k] + 3 * s * t * t * c[k] + t**3 * d[k] for k in (0, 1))
                )
            last = d
        else:
            points.append(start)
    return points


def cut(points, x0, y0, x1, y1):
    """The stretches of a line inside of a rectangle, really cut at its edges."""
    stretches, open_ = [], None
    for a, b in zip(points, points[1:]):
        enter, leave = 0.0, 1.0
        for p, d, least, most in ((a[0], b[0] - a[0], x0, x1), (a[1], b[1] - a[1], y0, y1)):
            if d == 0:
                if not least <= p <= most:
                    enter, leave = 1, 0
            else:
                s, t = sorted(((least - p) / d, (most - p) / d))
                enter, leave = max(enter, s), min(leave, t)
        if enter > leave:
            open_ = None
            continue
        at = lambda t: (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
        if open_ is None or enter > 0:
            open_ = [at(enter)]
            stretches.append(open_)
        open_.append(at(leave))
        if leave < 1:
            open_ = None
    return [stretch for stretch in stretches if len(stretch) > 1]


def really_cut(name, overlap):
    """Lines cut at the edges of the pages: A4 without margins."""
    c = canvas.Canvas(name, pagesize=(210 * mm, 297 * mm), invariant=1)
    for x, y in pages_of(210, 297, overlap):
        for line, wide in ((OUTLINE, 0.7), (DART, 0.3), (GRAIN, 0.3), (SQUARE, 0.3)):
            c.setLineWidth(wide * mm)
            for stretch in cut(straight(line), x, y, x + 210, y + 297):
                path = c.beginPath()
                path.moveTo((stretch[0][0] - x) * mm, (stretch[0][1] - y) * mm)
                for px, py in stretch[1:]:
                    path.lineTo((px - x) * mm, (py - y) * mm)
                c.drawPath(path)
        c.showPage()
    c.save()


reportlab_page()
cairo_page()
layers()
forms_on_layers()
unit_and_lock()
hidden_by_windows()
hidden_by_cairo()
really_cut("cut_with_overlap.pdf", 8)
really_cut("cut_edge_to_edge.pdf", 0)
