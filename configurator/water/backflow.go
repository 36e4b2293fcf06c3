package water

import (
	_ "embed"
	"fmt"
	"strings"

	"tunwright/catalog/source"
)

//go:embed tables/uses.csv
var usesCSV string

//go:embed tables/devices.csv
var devicesCSV string

var (
	uses         = source.MustTable("uses", usesCSV)
	devices      = source.MustTable("devices", devicesCSV)
	fittings1999 = source.Doc{ID: "SI 1999/1148", Title: "Water Supply (Water Fittings) Regulations 1999"}
)

// BackflowRow is one outlet with the protection it needs.
type BackflowRow struct {
	Outlet   string
	Use      string
	Category int    // fluid category, 1 wholesome to 5 serious health hazard
	Needs    string // device proposed
	NeedsUS  string // words for the United States
	Has      string // as planned; empty unknown
	HasUpTo  int    // category the planned device protects against
	Why      string
	Basis    string // "read", "memory" or "practice"
	Point    Outlet // with connection, flow and drain for the plumber's schedule
}

// Category gives the fluid category of a use and the device proposed for it.
//
// Source: Water Supply (Water Fittings) Regulations 1999, Sch. 1 and Sch. 2 para 15;
// EN 1717 uses the same five categories.
func Category(use string) (category int, device string, err error) {
	row, ok := uses.Find("use", use)
	if !ok {
		return 0, "", fmt.Errorf("use %q is not in the table of uses: use one of %s", use, strings.Join(texts(uses, "use"), ", "))
	}
	c, _ := uses.Number(row, "category")
	return int(c), uses.Text(row, "device"), nil
}

// Protects gives the highest fluid category a device protects against.
//
// Source: as Category; letters of EN 1717.
func Protects(device string) (int, error) {
	row, ok := devices.Find("device", device)
	if !ok {
		return 0, fmt.Errorf("backflow device %q is not known: use one of %s", device, strings.Join(texts(devices, "device"), ", "))
	}
	c, _ := devices.Number(row, "up_to")
	return int(c), nil
}

func sizeBackflow(in Input) ([]BackflowRow, error) {
	rows := make([]BackflowRow, 0, len(in.Outlets))
	for _, o := range in.Outlets {
		c, dev, err := Category(o.Use)
		if err != nil {
			return nil, fmt.Errorf("outlet %s: %w", o.Name, err)
		}
		at, _ := uses.Find("use", o.Use)
		row := BackflowRow{Outlet: o.Name, Use: o.Use, Category: c, Needs: dev, NeedsUS: usWords(c), Has: o.Device, Why: uses.Text(at, "why"), Point: o, Basis: uses.Text(at, "basis")}
		if o.Device != "" {
			if row.HasUpTo, err = Protects(o.Device); err != nil {
				return nil, fmt.Errorf("outlet %s: %w", o.Name, err)
			}
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// usWords names what a plumber in the United States fits; from memory.
func usWords(category int) string {
	switch {
	case category >= 5:
		return "air gap (ASME A112.1.2), or break tank with air gap"
	case category == 4:
		return "reduced pressure principle assembly (ASSE 1013)"
	case category == 3:
		return "double check assembly (ASSE 1015); carbonators ASSE 1022"
	case category == 2:
		return "dual check (ASSE 1024)"
	}
	return "none"
}

// DeviceName gives the words of a device.
func DeviceName(device string) string {
	row, ok := devices.Find("device", device)
	if !ok {
		return device
	}
	return devices.Text(row, "words")
}
