package cooling

import "tunwright/catalog/source"

var (
	docMelinder = source.Doc{ID: "Melinder 2010", Title: "Properties of Secondary Working Fluids for Indirect Systems", Edition: "IIR"}
	docASHRAE   = source.Doc{ID: "ASHRAE Handbook Fundamentals", Title: "Physical properties of secondary coolants", Edition: "2001"}
	docKern     = source.Doc{ID: "Kern", Title: "Process Heat Transfer", Edition: "1950"}
	docKays     = source.Doc{ID: "Kays and London", Title: "Compact Heat Exchangers"}
	docHooper   = source.Doc{ID: "Hooper", Title: "The two-K method predicts head losses in pipe fittings", Edition: "Chemical Engineering 88, 1981"}
	docColebrk  = source.Doc{ID: "Colebrook", Title: "Turbulent flow in pipes", Edition: "J. Inst. Civ. Eng. 11, 1939"}
	docCIBSE    = source.Doc{ID: "CIBSE Guide B", Title: "Heating, ventilating, air conditioning and refrigeration"}
	docEN378    = source.Doc{ID: "EN 378-1", Title: "Refrigerating systems and heat pumps: safety and environmental requirements"}
	docFGas     = source.Doc{ID: "Regulation (EU) 2024/573", Title: "Fluorinated greenhouse gases"}
	docISO9613  = source.Doc{ID: "ISO 9613-2", Title: "Attenuation of sound during propagation outdoors"}
	docWHO      = source.Doc{ID: "WHO Night Noise Guidelines for Europe", Edition: "2009"}
	docWMO      = source.Doc{ID: "WMO-No. 8", Title: "Guide to Instruments and Methods of Observation"}
	docEN12828  = source.Doc{ID: "EN 12828", Title: "Heating systems in buildings"}
	docEN60534  = source.Doc{ID: "EN 60534-2-1", Title: "Industrial-process control valves: flow capacity"}
	docIncrop   = source.Doc{ID: "Incropera", Title: "Fundamentals of Heat and Mass Transfer"}
	docPED      = source.Doc{ID: "Directive 2014/68/EU", Title: "Pressure equipment", Edition: "2014"}
)
