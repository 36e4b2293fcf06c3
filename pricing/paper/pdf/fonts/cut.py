"""Makes the embedded fonts: python3 cut.py TEXT_DIR SYMBOLS.ttf OUT_DIR

TEXT_DIR holds SourceSans3-Regular.ttf, -Semibold.ttf and -It.ttf. Keeps the
characters a paper needs, drops hinting and layout tables, turns the pair kerning of
ASCII into a plain kern table and gives the result its own name, as the licences ask
of changed fonts. Needs fontTools 4.38 or later.
"""
import sys

from fontTools import subset
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.tables._k_e_r_n import KernTable_format_0

TEXT = [(0x20, 0x7e), (0xa0, 0x17f), (0x192, 0x192), (0x218, 0x21b), (0x2c6, 0x2dd), (0x370, 0x3ff), (0x1e9e, 0x1e9e),
        (0x2000, 0x206f), (0x2070, 0x209c), (0x20a0, 0x20bf), (0x2100, 0x214f), (0x2150, 0x215f), (0x2190, 0x21ff),
        (0x2200, 0x22ff), (0x2300, 0x23ff), (0x25a0, 0x25ff), (0x2600, 0x27bf)]
SYMBOLS = [(0x20, 0x20), (0x2070, 0x209c), (0x2100, 0x214f), (0x2190, 0x21ff), (0x2200, 0x22ff), (0x2300, 0x232b),
           (0x25a0, 0x25ff), (0x2610, 0x2612), (0x26a0, 0x26a1), (0x2713, 0x2718), (0x27e8, 0x27e9)]
KERNED = range(0x20, 0x7f)
LEAST_KERN = 6  # units of a thousandth of the type size; less is not seen
UNWANTED = ['MATH', 'GSUB', 'GPOS', 'GDEF', 'DSIG', 'STAT', 'BASE', 'FFTM', 'gasp', 'kern']


def advance(value):
    return getattr(value, 'XAdvance', 0) if value else 0


def pairs_of(table, wanted, pairs):
    """Adds a subtable's pairs; the first one to name a pair wins."""
    if table.Format == 1:
        for left, others in zip(table.Coverage.glyphs, table.PairSet):
            for record in others.PairValueRecord:
                if left in wanted and record.SecondGlyph in wanted:
                    pairs.setdefault((left, record.SecondGlyph), advance(record.Value1))
        return
    for left in table.Coverage.glyphs:
        if left not in wanted:
            continue
        row = table.Class1Record[table.ClassDef1.classDefs.get(left, 0)].Class2Record
        for right in wanted:
            value = advance(row[table.ClassDef2.classDefs.get(right, 0)].Value1)
            if value:
                pairs.setdefault((left, right), value)


def kerning(font):
    if 'GPOS' not in font:
        return {}
    wanted = {glyph for code, glyph in font.getBestCmap().items() if code in KERNED}
    layout = font['GPOS'].table
    lookups = []
    for record in layout.FeatureList.FeatureRecord:
        if record.FeatureTag == 'kern':
            lookups += [i for i in record.Feature.LookupListIndex if i not in lookups]
    pairs = {}
    for i in lookups:
        for table in layout.LookupList.Lookup[i].SubTable:
            table = table.ExtSubTable if table.LookupType == 9 else table
            if table.LookupType == 2:
                pairs_of(table, wanted, pairs)
    return {pair: value for pair, value in pairs.items() if abs(value) >= LEAST_KERN}


def kern_table(pairs):
    sub = KernTable_format_0()
    sub.coverage, sub.version, sub.apple, sub.tupleIndex, sub.kernTable = 1, 0, False, None, pairs
    table = newTable('kern')
    table.version, table.kernTables = 0, [sub]
    return table


def make(source, target, family, style, ranges, kerned):
    font = TTFont(source, recalcTimestamp=False)
    pairs = kerning(font) if kerned else {}
    options = subset.Options()
    options.layout_features, options.hinting, options.notdef_outline = [], False, True
    options.glyph_names, options.name_IDs, options.recalc_timestamp = False, ['*'], False
    options.drop_tables += UNWANTED
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[code for first, last in ranges for code in range(first, last + 1)])
    cutter.subset(font)
    if pairs:
        font['kern'] = kern_table(pairs)
    names = font['name']
    ps = family.replace(' ', '') + '-' + style
    kept = {i: names.getDebugName(i) for i in (0, 13, 14)}
    names.names = []
    for i, text in {**kept, 1: family, 2: style, 3: ps, 4: family + ' ' + style, 5: 'Version 1.000', 6: ps}.items():
        if text:
            names.setName(text, i, 3, 1, 0x409)
    font.save(target)


def main(text_dir, symbols, out):
    for style, cut in {'regular': 'Regular', 'bold': 'Semibold', 'italic': 'It'}.items():
        make(f'{text_dir}/SourceSans3-{cut}.ttf', f'{out}/text-{style}.ttf', 'Tunwright Text', style.capitalize(), TEXT, True)
    make(symbols, f'{out}/symbols.ttf', 'Tunwright Symbols', 'Regular', SYMBOLS, False)


if __name__ == '__main__':
    main(*sys.argv[1:])
