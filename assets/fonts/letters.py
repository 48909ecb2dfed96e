#!/usr/bin/env python3
"""Makes Letters-Regular.ttf and Letters-Bold.ttf: letters of Irish and Welsh,
and fractions, that Atkinson Hyperlegible lacks, put together from its own
letters, marks and figures. The outcome is under the same licence (OFL.txt).

Wants fontTools: python3 letters.py, in this folder.
"""

from fontTools import subset
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

# Letters with the letter of the face whose mark they take.
MARKED = {
    "ḃḋḟṁṗṡṫ": ("bdfmpst", "ż"),
    "ḂḊḞṀṖṠṪ": ("BDFMPST", "Ż"),
    "ŵŷ": ("wy", "â"),
    "ŴŶ": ("WY", "Â"),
    "ẃ": ("w", "á"),
    "Ẃ": ("W", "Á"),
    "ẁỳ": ("wy", "à"),
    "ẀỲ": ("WY", "À"),
    "ẅ": ("w", "ä"),
    "Ẅ": ("W", "Ä"),
}
FRACTIONS = {"⅓": "13", "⅔": "23", "⅛": "18", "⅜": "38", "⅝": "58", "⅞": "78"}
# Figures of fractions, as a share of the others.
SMALL = 0.6


def bounds(glyphs, name):
    pen = BoundsPen(glyphs)
    glyphs[name].draw(pen)
    return pen.bounds


def marked(font, letter, base, like):
    """A letter, its mark over its middle, as high over it as in the other."""
    glyphs, cmap = font.getGlyphSet(), font.getBestCmap()
    base = cmap[ord(base)]
    under, mark = font["glyf"][cmap[ord(like)]].components[:2]
    left, _, right, top = bounds(glyphs, base)
    mark_left, _, mark_right, _ = bounds(glyphs, mark.glyphName)
    over = max(0, top - bounds(glyphs, under.glyphName)[3])
    x = (left + right - mark_left - mark_right) / 2
    pen = TTGlyphPen(glyphs)
    glyphs[base].draw(pen)
    glyphs[mark.glyphName].draw(TransformPen(pen, (1, 0, 0, 1, round(x), mark.y + over)))
    return pen.glyph(), font["hmtx"][base][0]


def fraction(font, figures):
    """One figure over another, with the stroke of the face between them."""
    glyphs, cmap = font.getGlyphSet(), font.getBestCmap()
    top = bounds(glyphs, cmap[ord("½")])[3]
    slash = cmap[ord("⁄")]
    left, _, right, _ = bounds(glyphs, slash)
    pen = TTGlyphPen(None)
    above, below = (cmap[ord(figure)] for figure in figures)
    high = bounds(glyphs, above)[3]
    wide = [SMALL * font["hmtx"][name][0] for name in (above, below)]
    overlap = 0.3 * (right - left)
    put = lambda name, x, y: glyphs[name].draw(
        TransformPen(pen, (SMALL, 0, 0, SMALL, round(x), round(y)))
    )
    put(above, 0, top - SMALL * high)
    x = wide[0] - overlap
    glyphs[slash].draw(TransformPen(pen, (1, 0, 0, 1, round(x - left), 0)))
    x += right - left - overlap
    put(below, x, 0)
    return pen.glyph(), round(x + wide[1])


def make(weight):
    font = TTFont(f"AtkinsonHyperlegible-{weight}.ttf")
    made = {}
    for letters, (bases, like) in MARKED.items():
        for letter, base in zip(letters, bases):
            made[letter] = marked(font, letter, base, like)
    for sign, figures in FRACTIONS.items():
        made[sign] = fraction(font, figures)
    order = font.getGlyphOrder()
    for letter, (glyph, width) in made.items():
        name = f"uni{ord(letter):04X}"
        font["glyf"][name] = glyph
        font["hmtx"][name] = (width, glyph.xMin if hasattr(glyph, "xMin") else 0)
        if name not in order:
            order.append(name)
        for table in font["cmap"].tables:
            if table.isUnicode():
                table.cmap[ord(letter)] = name
    font.setGlyphOrder(order)
    options = subset.Options(
        hinting=False, layout_features=[], drop_tables=["GPOS", "GSUB", "GDEF", "gasp"]
    )
    only = subset.Subsetter(options)
    only.populate(text="".join(made))
    only.subset(font)
    for record in font["name"].names:
        if record.nameID in (1, 3, 4, 6):
            name = f"Hyperlegible Letters {weight}"
            record.string = name.replace(" ", "-") if record.nameID == 6 else name
    font.save(f"Letters-{weight}.ttf")


for weight in ("Regular", "Bold"):
    make(weight)
