#!/usr/bin/env python3
"""Makes Scripts-Regular.ttf and Scripts-Bold.ttf: the letters of other scripts,
for words in pupils' home languages, out of DejaVu Sans. The outcome is under the
same licence (DEJAVU.txt).

Wants fontTools, and DejaVu Sans 2.37 (Debian: fonts-dejavu-core) in the folder
named: python3 scripts.py /usr/share/fonts/truetype/dejavu, in this folder.
"""

import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

# More of the Latin letters, Greek, Cyrillic, Armenian, Hebrew, Arabic with the
# letters of Persian and Urdu, Georgian, and Latin letters of Vietnamese.
SCRIPTS = [
    (0x0100, 0x024F), (0x0300, 0x036F), (0x0370, 0x03FF), (0x0400, 0x052F), (0x0531, 0x058A),
    (0x0591, 0x05F4), (0x060C, 0x061B), (0x061F, 0x06FF), (0x10A0, 0x10FF), (0x1E00, 0x1EFF),
]


def make(folder, weight, file):
    font = TTFont(folder / file)
    options = subset.Options(hinting=False, layout_features=["*"], drop_tables=["gasp", "FFTM"])
    only = subset.Subsetter(options)
    only.populate(unicodes=[letter for first, last in SCRIPTS for letter in range(first, last + 1)])
    only.subset(font)
    for record in font["name"].names:
        if record.nameID in (1, 3, 4, 6):
            name = f"Scripts {weight}"
            record.string = name.replace(" ", "-") if record.nameID == 6 else name
    font.save(f"Scripts-{weight}.ttf")


for weight, file in (("Regular", "DejaVuSans.ttf"), ("Bold", "DejaVuSans-Bold.ttf")):
    make(Path(sys.argv[1]), weight, file)
