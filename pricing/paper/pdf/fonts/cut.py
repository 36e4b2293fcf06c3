# Makes the embedded fonts: keeps the characters a paper needs, drops hinting and
# layout tables, turns pair kerning into a plain kern table and gives the result
# its own name, as the licences ask of changed fonts.
import sys
from fontTools.ttLib import TTFont, newTable
from fontTools import subset
from fontTools.ttLib.tables._k_e_r_n import KernTable_format_0

TEXT = [(0x20,0x7e),(0xa0,0x17f),(0x192,0x192),(0x218,0x21b),(0x2c6,0x2dd),(0x370,0x3ff),(0x1e9e,0x1e9e),
        (0x2000,0x206f),(0x2070,0x209c),(0x20a0,0x20bf),(0x2100,0x214f),(0x2150,0x215f),(0x2190,0x21ff),
        (0x2200,0x22ff),(0x2300,0x23ff),(0x25a0,0x25ff),(0x2600,0x27bf)]
SYMBOLS = [(0x20,0x20),(0x2070,0x209c),(0x2100,0x214f),(0x2190,0x21ff),(0x2200,0x22ff),(0x2300,0x232b),(0x25a0,0x25ff),(0x2610,0x2612),(0x26a0,0x26a1),(0x2713,0x2718),(0x27e8,0x27e9)]
KERN = set(range(0x20,0x7f))

def class_of(cd, g): return cd.classDefs.get(g,0) if cd else 0

def kerning(font):
    cmap={g:c for c,g in font.getBestCmap().items()}
    wanted={g for g,c in cmap.items() if c in KERN}
    pairs={}
    gpos=font['GPOS'].table
    idx=[]
    for fr in gpos.FeatureList.FeatureRecord:
        if fr.FeatureTag=='kern':
            for i in fr.Feature.LookupListIndex:
                if i not in idx: idx.append(i)
    for i in idx:
        seen=set()
        for st in gpos.LookupList.Lookup[i].SubTable:
            if st.LookupType==9: st=st.ExtSubTable
            if st.LookupType!=2: continue
            cov=[g for g in st.Coverage.glyphs if g in wanted]
            if st.Format==1:
                for g,ps in zip(st.Coverage.glyphs, st.PairSet):
                    if g not in wanted: continue
                    for r in ps.PairValueRecord:
                        if r.SecondGlyph in wanted and (g,r.SecondGlyph) not in pairs:
                            v=r.Value1.XAdvance if r.Value1 and hasattr(r.Value1,'XAdvance') else 0
                            pairs[(g,r.SecondGlyph)]=v
            else:
                for g in cov:
                    c1=class_of(st.ClassDef1,g)
                    for h in wanted:
                        if (g,h) in pairs: continue
                        c2=class_of(st.ClassDef2,h)
                        v=st.Class1Record[c1].Class2Record[c2].Value1
                        v=v.XAdvance if v and hasattr(v,'XAdvance') else 0
                        if v: pairs[(g,h)]=v
    return {k:v for k,v in pairs.items() if abs(v)>=6}

def make(src, dst, family, style, ranges, kern):
    font=TTFont(src, recalcTimestamp=False)
    kp = kerning(font) if kern else {}
    o=subset.Options(); o.layout_features=[]; o.hinting=False; o.notdef_outline=True; o.glyph_names=False; o.name_IDs=['*']; o.drop_tables+=["MATH",'GSUB','GPOS','GDEF','DSIG','STAT','BASE','FFTM','gasp','kern','GlyphOrder']
    o.recalc_timestamp=False
    s=subset.Subsetter(o); s.populate(unicodes=[c for a,b in ranges for c in range(a,b+1)]); 
    s.subset(font)
    order=set(font.getGlyphOrder())
    kp={k:v for k,v in kp.items() if k[0] in order and k[1] in order}
    if kp:
        t=KernTable_format_0(); t.coverage=1; t.version=0; t.apple=False; t.tupleIndex=None; t.kernTable=kp
        k=newTable('kern'); k.version=0; k.kernTables=[t]; font['kern']=k
    n=font['name']
    keep={0:n.getDebugName(0),13:n.getDebugName(13),14:n.getDebugName(14)}
    n.names=[]
    ps=family.replace(' ','')+'-'+style
    for i,v in {1:family,2:style,3:ps+';from '+src.split('/')[-1],4:family+' '+style,5:'Version 1.000',6:ps,**keep}.items():
        if v:
            n.setName(v,i,3,1,0x409)
    font.save(dst)
    print(dst, len(font.getGlyphOrder()), len(kp), sorted(font.keys()))

S='n/source-sans-3.52.0/package/TTF/SourceSans3-'
make(S+'Regular.ttf','out/text-regular.ttf','Tunwright Text','Regular',TEXT,True)
make(S+'Semibold.ttf','out/text-bold.ttf','Tunwright Text','Bold',TEXT,True)
make(S+'It.ttf','out/text-italic.ttf','Tunwright Text','Italic',TEXT,True)
make('x/fonts-dejavu-core/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf','out/symbols.ttf','Tunwright Symbols','Regular',SYMBOLS,False)
