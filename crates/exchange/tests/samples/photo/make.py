#!/usr/bin/env python3
"""Small pictures written by Pillow 13.0.0 (PyPI), for tests/photo/pictures.rs. Not run by the tests; run it here to write them anew."""
from PIL import Image, ImageOps

upright = Image.new("RGB", (48, 32))
for (x, y), colour in {(0, 0): (220, 30, 30), (24, 0): (30, 200, 30), (0, 16): (30, 30, 220), (24, 16): (240, 240, 240)}.items():
    upright.paste(colour, (x, y, x + 24, y + 16))

# How the camera stores what is to be seen upright: the way back of what each orientation asks for.
back = {1: None, 2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180, 4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE, 8: Image.Transpose.ROTATE_270}
for orientation, how in back.items():
    stored = upright if how is None else upright.transpose(how)
    exif = Image.Exif()
    exif[0x0112] = orientation
    name = f"held-{orientation}.jpg"
    stored.save(name, quality=95, subsampling=0, exif=exif)
    seen = ImageOps.exif_transpose(Image.open(name))
    assert seen.size == (48, 32) and seen.getpixel((5, 5))[0] > 200, name

upright.convert("L").save("grey.jpg", quality=95)
upright.convert("CMYK").save("cmyk.jpg", quality=95, subsampling=0)
upright.save("progressive.jpg", quality=95, progressive=True, dpi=(300, 300))
upright.save("dpi.png", dpi=(600, 600))
Image.new("I;16", (48, 32), 0x8040).save("grey16.png")
seen = upright.convert("RGBA")
seen.putalpha(128)
seen.save("alpha.png")
upright.quantize(8).save("palette.png")
