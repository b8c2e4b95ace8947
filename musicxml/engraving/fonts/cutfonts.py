#!/usr/bin/python3
"""Cuts the fonts in data/ out of those of Debian's packages fonts-liberation2 and
fonts-noto-core (both SIL Open Font License 1.1, see OFL.txt): only the characters
named here, without hints and layout tables. A changed font may not keep a reserved
name, so the text family is called Desk Serif. Needs Debian's package fonttools.

    ./cutfonts.py
"""
from fontTools import subset
from fontTools.ttLib import TTFont

# Latin with its accents, Greek, Cyrillic, punctuation, arrows, fractions.
LETTERS = [(0x20, 0x7E), (0xA0, 0x24F), (0x259, 0x259), (0x2B9, 0x2BC), (0x2C6, 0x2DD), (0x300, 0x30C), (0x323, 0x331),
           (0x370, 0x3FF), (0x400, 0x52F), (0x1E00, 0x1EFF), (0x1F00, 0x1FFF), (0x2010, 0x2027), (0x2030, 0x203A),
           (0x2044, 0x2044), (0x2070, 0x208E), (0x20AC, 0x20AC), (0x2116, 0x2116), (0x2122, 0x2122), (0x2153, 0x215E),
           (0x2190, 0x2193), (0x2212, 0x2212), (0xFB01, 0xFB02)]
# Notes, accidentals, the block of musical symbols.
SIGNS = [(0x2669, 0x266F), (0x1D100, 0x1D1FF)]

FACES = [("LiberationSerif-%s.ttf" % cut, "DeskSerif-%s.ttf" % cut, LETTERS) for cut in ("Regular", "Italic", "Bold", "BoldItalic")]
FOLDERS = {"Liberation": "/usr/share/fonts/truetype/liberation2/", "NotoMusic-": "/usr/share/fonts/truetype/noto/"}


def cut(source, target, blocks):
    options = subset.Options(hinting=False, layout_features=[], notdef_outline=True, name_IDs=["*"],
                             drop_tables=["GDEF", "GPOS", "GSUB", "DSIG", "gasp", "meta", "STAT", "FFTM", "PfEd", "kern", "VDMX", "hdmx", "LTSH"])
    font = TTFont(FOLDERS[source[:10]] + source, recalcTimestamp=False)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[c for a, b in blocks for c in range(a, b + 1)])
    cutter.subset(font)
    for record in list(font["name"].names):
        text = record.toUnicode()
        if record.nameID in (1, 3, 4, 6, 16, 18, 20, 21):
            record.string = text.replace("Liberation Serif", "Desk Serif").replace("LiberationSerif", "DeskSerif")
        elif record.nameID not in (0, 2, 5, 13, 14, 17):
            font["name"].removeNames(nameID=record.nameID)
    font.save("data/" + target)


for source, target, blocks in FACES + [("NotoMusic-Regular.ttf", "NotoMusic-Regular.ttf", SIGNS)]:
    cut(source, target, blocks)
