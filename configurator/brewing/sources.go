package brewing

import (
	_ "embed"

	"tunwright/catalog/source"
)

//go:embed tables/kinds.csv
var kindsCSV string

//go:embed tables/water.csv
var waterCSV string

//go:embed tables/malt-heat.csv
var maltHeatCSV string

//go:embed tables/duty-factor.csv
var dutyFactorCSV string

//go:embed tables/duty-bands.csv
var dutyBandsCSV string

//go:embed tables/lifting.csv
var liftingCSV string

//go:embed tables/water-use.csv
var waterUseCSV string

//go:embed tables/kegs.csv
var kegsCSV string

var (
	kindsTable      = source.MustTable("brewing/kinds", kindsCSV)
	waterTable      = source.MustTable("brewing/water", waterCSV)
	maltHeatTable   = source.MustTable("brewing/malt-heat", maltHeatCSV)
	dutyFactorTable = source.MustTable("brewing/duty-factor", dutyFactorCSV)
	dutyBandsTable  = source.MustTable("brewing/duty-bands", dutyBandsCSV)
	liftingTable    = source.MustTable("brewing/lifting", liftingCSV)
	waterUseTable   = source.MustTable("brewing/water-use", waterUseCSV)
	kegsTable       = source.MustTable("brewing/kegs", kegsCSV)
)

// The documents that figures of this discipline are cited from.
var (
	docPlato     = source.Doc{ID: "48bottles.com/abv", Title: "Relative density 20/20 from mass per cent extract"}
	docASBC      = source.Doc{ID: "ASBC Methods of Analysis", Title: "Extract in wort and beer, the cubic as quoted by A. J. deLange, Brix and SG"}
	docIAPWS     = source.Doc{ID: "IAPWS R7-97", Title: "Industrial Formulation 1997 for the Thermodynamic Properties of Water and Steam", Edition: "2012"}
	docKunze     = source.Doc{ID: "Kunze", Title: "Technologie Brauer und Mälzer", Edition: "1962"}
	docNarziss   = source.Doc{ID: "Narziss/Back", Title: "Abriss der Bierbrauerei", Edition: "2017"}
	docExcise    = source.Doc{ID: "Zentralblatt für das Deutsche Reich", Title: "Biersteuer-Ausführungsbestimmungen", Edition: "1918"}
	docBYO       = source.Doc{ID: "Brew Your Own", Title: "More Mash Space"}
	docLauter    = source.Doc{ID: "cntekmachinery.com", Title: "How to calculate the diameter of beer lauter tank", Edition: "2023"}
	docPalmer    = source.Doc{ID: "Palmer", Title: "How to Brew"}
	docPauls     = source.Doc{ID: "Pauls & Whites", Title: "Brewing Room Book", Edition: "1984/85"}
	docFarber    = source.Doc{ID: "Farber", Title: "Management of spent grains", Edition: "2019"}
	docBEMP      = source.Doc{ID: "JRC BEMP", Title: "Best environmental management practice for the food and beverage manufacturing sector"}
	docORourke   = source.Doc{ID: "O'Rourke", Title: "Technical Summary 12: Brewhouse efficiency"}
	docSSB       = source.Doc{ID: "Scandinavian School of Brewing", Title: "Balling's formula: scrutiny of a brewing dogma"}
	docMBAA      = source.Doc{ID: "MBAA", Title: "Technical Quarterly and community answers on cylindroconical tanks"}
	docChart     = source.Doc{ID: "homebrewtalk.com, thread 582354", Title: "Fit to the chart of ASBC Beer-13, dissolved carbon dioxide by pressure and temperature"}
	docHenry     = source.Doc{ID: "braukaiser.com, Carbonation Tables", Title: "Solubility of carbon dioxide in beer by pressure and temperature"}
	docHMRC226   = source.Doc{ID: "HMRC Notice 226", Title: "Beer duty"}
	docSPR       = source.Doc{ID: "Finance (No. 2) Act 2023", Title: "Small producer relief"}
	docDraught   = source.Doc{ID: "HMRC CIDER05013", Title: "Draught relief: qualifying products"}
	docIreland   = source.Doc{ID: "Finance Act 2003 (Ireland)", Title: "Relief for small breweries", Edition: "in force from 1.1.2023"}
	docHSE       = source.Doc{ID: "HSE INDG143", Title: "Manual handling at work: a brief guide", Edition: "rev 4"}
	docIncropera = source.Doc{ID: "Incropera", Title: "Fundamentals of Heat and Mass Transfer: heat exchangers"}
	docStorchen  = source.Doc{ID: "Storchenbräu", Title: "Brauberechnungen"}
)
