package catalog_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
)

// The tests here judge the built-in range as a sales engineer would: is a tank as
// heavy, as tall and as full as tanks are, does a kettle boil, does a chiller lose
// output as chillers do.

// tank gives the one vessel of a tank.
func tank(t *testing.T, c *catalog.Catalogue, code string) (catalog.Body, catalog.Vessel) {
	t.Helper()
	p, err := c.Lookup(code)
	if err != nil {
		t.Fatal(err)
	}
	return p.Bodies[0], *p.Bodies[0].Vessel
}

func within(t *testing.T, what string, got, lo, hi float64, source string) {
	t.Helper()
	if !(got >= lo && got <= hi) {
		t.Errorf("%s: got %.4g, want %.4g to %.4g; source: %s", what, got, lo, hi, source)
	}
}

// TestTankOf650Litres: a 650 L tank carries about 700 kg of wort and itself weighs a
// couple of hundred kg. Common practice, no source.
func TestTankOf650Litres(t *testing.T) {
	body, v := tank(t, load(t), "FV-5")
	within(t, "brim volume of the tank nearest to 650 L, L", v.Gross.L(), 600, 700, "common practice, no source")
	const wort = 1.0484 * 0.9982 // kg/L, 12 °P: SG 1.04838 (ASBC table, from memory), water at 20 °C 0.9982
	within(t, "650 L of 12 °P wort, kg", 650*wort, 665, 735, "common practice, no source: about 700 kg")
	within(t, "empty mass, kg", body.Empty.Kg(), 150, 300, "common practice, no source: a couple of hundred kg")
}

// TestFermenterOf10Hectolitres: about 1.2 m across, 2.9 m high, 400 kg empty.
func TestFermenterOf10Hectolitres(t *testing.T) {
	body, _ := tank(t, load(t), "FV-10")
	const source = "common practice, no source"
	within(t, "diameter, m", body.Length.M(), 1.1, 1.3, source)
	within(t, "height, m", body.Height.M(), 2.75, 3.05, source)
	within(t, "empty mass, kg", body.Empty.Kg(), 340, 460, source)
}

func TestFermenters(t *testing.T) {
	for _, p := range stocked(t, load(t), catalog.ClassFermenter) {
		b, v := p.Bodies[0], p.Bodies[0].Vessel
		free := 1 - v.Nominal.L()/v.Gross.L()
		within(t, p.Code+": share of the vessel left free", free, 0.20, 0.35, "MBAA community: at least 20 %; 25 % for ales, common practice, no source")
		within(t, p.Code+": full angle of the cone, °", v.Cone.Deg(), 59.9, 80.1, "MBAA community: cones of 60 to 80°")
		within(t, p.Code+": rated pressure, bar g", v.Pressure.BarG(), 0.3, 2.0, "common practice, no source")
		jacket := (v.JacketBody + v.JacketCone).M2() / v.SkinArea().M2()
		within(t, p.Code+": jacket over skin", jacket, 0.35, 0.65, "common practice, no source: 50 to 65 % of cylinder and cone")
		operating := b.Empty.Kg() + v.Nominal.L()*1.046
		brim := b.Empty.Kg() + v.Gross.L()
		within(t, p.Code+": brim-full over operating mass", brim/operating, 1.15, 1.30, "derived: 23 to 25 % more for a fermenter with 28 % headspace")
		if !strings.HasSuffix(p.Code, "-LOW") {
			within(t, p.Code+": inside height over diameter", v.WettedHeight().M()/v.Diameter.M(), 2, 3, "MBAA community: H to D of 2 to 3 : 1")
		}
	}
}

// TestLowHeadroomIsLower: a low version stands at least a fifth lower than the
// standard one of the same volume, else nobody would buy it.
func TestLowHeadroomIsLower(t *testing.T) {
	c := load(t)
	var seen int
	for _, p := range c.All() {
		standard, low := strings.CutSuffix(p.Code, "-LOW")
		if !low {
			continue
		}
		seen++
		b, v := tank(t, c, standard)
		if got := p.Bodies[0].Height.M() / b.Height.M(); got > 0.8 {
			t.Errorf("%s stands %.2f of the height of %s", p.Code, got, standard)
		}
		if math.Abs(p.Bodies[0].Vessel.Gross.L()/v.Gross.L()-1) > 0.01 {
			t.Errorf("%s does not hold what %s holds", p.Code, standard)
		}
	}
	if seen < 12 {
		t.Errorf("only %d low-headroom tanks are in the range", seen)
	}
}

// TestMassFollowsFromSteel: the bare shell, at the density of 1.4301, is a third to
// three quarters of an insulated, jacketed tank.
func TestMassFollowsFromSteel(t *testing.T) {
	const density = 7900 // kg/m³, 1.4301: EN 10088-1, table of physical properties
	for _, class := range []catalog.Class{catalog.ClassFermenter, catalog.ClassBrightTank, catalog.ClassLiquorTank} {
		for _, p := range stocked(t, load(t), class) {
			v := p.Bodies[0].Vessel
			shell := density * v.SkinArea().M2() * v.Shell.M()
			within(t, p.Code+": bare shell over empty mass", shell/p.Bodies[0].Empty.Kg(), 0.33, 0.75, "derived; density EN 10088-1")
		}
	}
}

// TestBiggerNeverWeighsLess: within one series a bigger vessel weighs more and has a
// longer lead time or the same.
func TestBiggerNeverWeighsLess(t *testing.T) {
	c := load(t)
	last := map[string]*catalog.Product{}
	for _, class := range []catalog.Class{catalog.ClassBrewhouse, catalog.ClassFermenter, catalog.ClassBrightTank, catalog.ClassLiquorTank, catalog.ClassBuffer, catalog.ClassChiller, catalog.ClassWortCooler} {
		for _, p := range stocked(t, c, class) {
			name := series(p.Code)
			before := last[name]
			last[name] = p
			if before == nil {
				continue
			}
			if mass(p) <= mass(before) || p.LeadTime < before.LeadTime {
				t.Errorf("%s weighs %.0f kg and takes %s, the smaller %s weighs %.0f kg and takes %s", p.Code, mass(p), p.LeadTime, before.Code, mass(before), before.LeadTime)
			}
		}
	}
}

// series is a code without its size.
func series(code string) string {
	var words []string
	for _, w := range strings.Split(code, "-") {
		if strings.Trim(w, "0123456789.") != "" {
			words = append(words, w)
		}
	}
	if strings.HasPrefix(code, "WC-") {
		words = append(words, code[strings.LastIndex(code, "-"):])
	}
	return strings.Join(words, "-")
}

func mass(p *catalog.Product) float64 {
	var sum float64
	for _, b := range p.Bodies {
		sum += b.Empty.Kg()
	}
	return sum
}

// TestPiecesFitALorry: every transport piece goes on a curtain-sided trailer.
func TestPiecesFitALorry(t *testing.T) {
	const source = "curtain-sided trailer 13.6 x 2.45 x 2.65 m; common practice, no source"
	for _, p := range load(t).All() {
		for _, b := range p.Bodies {
			for _, k := range b.Packed {
				at := p.Code + ": " + b.Part + " " + k.Name
				within(t, at+", length", k.Length.M(), 0, 13.6, source)
				within(t, at+", width", k.Width.M(), 0, 2.45, source)
				within(t, at+", height", k.Height.M(), 0, 2.65, source)
			}
		}
	}
}

// TestPackedVesselsAreWholeVessels: packed with legs and top fittings off, a vessel is
// no thinner than its shell with insulation and no shorter than what is left of it.
func TestPackedVesselsAreWholeVessels(t *testing.T) {
	c := load(t)
	for _, class := range []catalog.Class{catalog.ClassBrewhouse, catalog.ClassFermenter, catalog.ClassBrightTank, catalog.ClassLiquorTank} {
		for _, p := range stocked(t, c, class) {
			for _, b := range p.Bodies {
				if b.Vessel != nil {
					checkPackedVessel(t, p.Code+" "+b.Part, b)
				}
			}
		}
	}
}

func checkPackedVessel(t *testing.T, name string, b catalog.Body) {
	t.Helper()
	k, v := b.Packed[0], b.Vessel
	bare := b.Height
	for _, part := range b.Parts {
		bare -= part.Height
	}
	if bare < v.WettedHeight() {
		t.Errorf("%s: bare %s high, but its inside is %s", name, bare, v.WettedHeight())
	}
	outside := v.Diameter + 2*(v.Shell+v.Insulation)
	long, high := k.Length, k.Height-k.Crate
	if strings.Contains(k.Name, "standing") {
		long, high = high, k.Length
	}
	if k.Width < outside || high < outside {
		t.Errorf("%s: packed %s by %s, outside %s", name, k.Width, high, outside)
	}
	if long < bare || long > b.Height+unit.Millimetres(250) {
		t.Errorf("%s: packed %s, standing %s, bare %s", name, long, b.Height, bare)
	}
}

// TestRangeIsBroad: what the firm is known to sell is there.
func TestRangeIsBroad(t *testing.T) {
	c := load(t)
	var want []string
	for _, n := range []string{"3", "5", "7.5", "10", "15", "20", "30", "40"} {
		want = append(want, "FV-"+n, "FV-"+n+"-LOW", "FV-"+n+"-LP", "BT-"+n, "ST-"+n)
	}
	for _, n := range []string{"5", "10", "15", "20", "30", "40", "60"} {
		want = append(want, "HLT-E-"+n, "CLT-"+n)
	}
	for _, n := range []string{"3", "5", "8", "12", "18", "25", "35", "45", "60"} {
		want = append(want, "CH-"+n)
	}
	for _, n := range []string{"2.5", "5", "10", "15", "20", "30"} {
		want = append(want, "WC-"+n+"-1", "WC-"+n+"-2")
	}
	for _, code := range want {
		if _, ok := c.Find(code); !ok {
			t.Errorf("%s is missing", code)
		}
	}
	heats := map[string][]float64{}
	for _, p := range stocked(t, c, catalog.ClassBrewhouse) {
		heats[p.Brewhouse.Heat] = append(heats[p.Brewhouse.Heat], p.Brewhouse.Length.HL())
	}
	for heat, sizes := range map[string][]float64{"electric": {2.5, 5, 10, 15, 20, 30}, "gas": {2.5, 5, 10, 15, 20, 30}, "steam": {5, 10, 15, 20, 30}} {
		for _, n := range sizes {
			if !slices.ContainsFunc(heats[heat], func(x float64) bool { return math.Abs(x-n) < 1e-9 }) {
				t.Errorf("no %s brewhouse of %g hL", heat, n)
			}
		}
	}
	if n := len(c.ByClass(catalog.ClassBrewhouse)); n < 18 {
		t.Errorf("got %d brewhouses, want 18 or more", n)
	}
}

// stocked lists the products of a class, of which a test of the range needs at least
// one: a loop over none would pass.
func stocked(t *testing.T, c *catalog.Catalogue, class catalog.Class) []*catalog.Product {
	t.Helper()
	list := c.ByClass(class)
	if len(list) == 0 {
		t.Fatalf("the range has no %s", class)
	}
	return list
}

// Every brewhouse has one panel, one cleaning set and one set of utility fittings that
// the firm usually sells with it, and every product can be given a tag.
func TestUsualWithEveryBrewhouse(t *testing.T) {
	c := load(t)
	count := func(class catalog.Class, prefix string, bh *catalog.Product) int {
		n := 0
		for _, p := range c.ByClass(class) {
			for _, u := range p.Usual {
				fits := bh.Brewhouse.Length >= u.From && (u.To == 0 || bh.Brewhouse.Length <= u.To)
				if fits && strings.HasPrefix(p.Code, prefix) && (len(u.When) == 0 || slices.Contains(u.When, bh.Brewhouse.Heat)) {
					n++
				}
			}
		}
		return n
	}
	brewhouses := c.ByClass(catalog.ClassBrewhouse)
	if len(brewhouses) == 0 {
		t.Fatal("no brewhouse")
	}
	for _, bh := range brewhouses {
		for class, prefix := range map[catalog.Class]string{catalog.ClassPanel: "CP-", catalog.ClassCIP: "CIP-", catalog.ClassFitting: "FT-UTIL-"} {
			if n := count(class, prefix, bh); n != 1 {
				t.Errorf("%s has %d usual %s of %s", bh.Code, n, class, prefix)
			}
		}
	}
	for _, p := range c.All() {
		if p.TagStem() == "" {
			t.Errorf("%s gets no tag", p.Code)
		}
	}
}
