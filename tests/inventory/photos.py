"""Photos and other files for the intake, made in code: none is committed."""

from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

GPS = 0x8825
ORIENTATION, CAMERA = 0x0112, 0x010F
TURNED_RIGHT = 6  # the 0th row is the right-hand side (EXIF 2.32, tag 274)


def a_photo(wide=800, high=600, kind="JPEG", mode="RGB", **options):
    """Give a photo with a madder left half and a weld right half."""
    picture = Image.new(mode, (wide, high), "#a9483c")
    picture.paste(Image.new(mode, (wide // 2, high), "#d8b13f"), (wide - wide // 2, 0))
    made = BytesIO()
    picture.save(made, kind, **options)
    return made.getvalue()


def a_phones_photo(**known):
    """Give a photo as a phone writes it: lying on its side, with a place, a maker and a comment beside it."""
    exif = Image.Exif()
    exif[ORIENTATION], exif[CAMERA] = TURNED_RIGHT, "a phone of somebody's"
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (51.0, 30.0, 0.0)
    return a_photo(exif=exif.tobytes(), comment=b"at home", **known)


def sent(content=None, name="cone.jpg", kind="image/jpeg"):
    """Give a file as a browser sends it."""
    return SimpleUploadedFile(name, a_photo() if content is None else content, kind)
