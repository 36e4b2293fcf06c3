package web

import (
	"fmt"
	"net/http"
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/strict"
	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/offer"
	"tunwright/web/form"
)

// itemsView is the sheet of the equipment: items by section, each with the products
// of its class to choose from.
type itemsView struct {
	Groups []itemGroup
	Shelf  []shelf
}

type itemGroup struct {
	Title string
	Rows  []itemRow
}

type itemRow struct {
	Tag, Path, Name, Price string
	Why                    string // why it was proposed
	Product, Count         fieldView
}

// shelf is a class of products that can be added.
type shelf struct {
	Title    string
	Products []option
}

var classWords = map[catalog.Class]string{
	catalog.ClassBrewhouse: "Brewhouses", catalog.ClassLiquorTank: "Liquor tanks", catalog.ClassFermenter: "Fermenters", catalog.ClassBrightTank: "Bright tanks",
	catalog.ClassChiller: "Chillers", catalog.ClassBuffer: "Glycol stores", catalog.ClassWortCooler: "Wort coolers", catalog.ClassPump: "Pumps",
	catalog.ClassPanel: "Control panels", catalog.ClassCanopy: "Extraction canopies", catalog.ClassCondenser: "Vapour condensers", catalog.ClassSteam: "Steam generators",
	catalog.ClassMill: "Mills", catalog.ClassCIP: "Cleaning sets", catalog.ClassKegWasher: "Keg washers", catalog.ClassCompressor: "Air compressors",
	catalog.ClassGasAlarm: "Gas alarms", catalog.ClassFan: "Extract fans", catalog.ClassFitting: "Fittings", catalog.ClassPlate: "Spreading plates", catalog.ClassService: "Services",
}

func (s *Server) items(d draft, o offer.Offer, back *returned) (*itemsView, error) {
	groups, err := form.Fields(d.Job, "equipment")
	if err != nil {
		return nil, err
	}
	back.restore(groups)
	prices := map[string]string{}
	for _, l := range o.Quotation.Lines {
		prices[l.Ref] = l.Net.Format(localeOf(d.Job))
	}
	on := pricing.DateOf(d.Job.Date.Time())
	v := &itemsView{Shelf: s.shelves(d.Job, on)}
	for i, item := range d.Job.Chosen.Items {
		path := fmt.Sprintf("equipment.items[%d]", i+1)
		row := itemRow{Tag: item.Tag, Path: path, Price: prices[item.Tag], Why: proposalWords(item)}
		title := "Not in the catalogue"
		if p, ok := s.House.Catalogue.Find(item.Product); ok {
			row.Name, title = p.Name, offer.SectionOf(p.Class)
		}
		row.Product = s.itemField(d, groups, path+".product", item.Tag)
		row.Product.Choices = s.choices(row.Product.Input(), d.Job, on)
		row.Count = s.itemField(d, groups, path+".count", item.Tag)
		v.add(title, row)
	}
	return v, nil
}

// proposalWords tell why an item was proposed, or that another was.
func proposalWords(item enquiry.Item) string {
	switch p := item.Proposed; {
	case p == nil:
		return ""
	case p.Product != item.Product:
		return p.Product + " was proposed: " + p.Why
	default:
		return "proposed: " + p.Why
	}
}

func (v *itemsView) add(title string, row itemRow) {
	for i := range v.Groups {
		if v.Groups[i].Title == title {
			v.Groups[i].Rows = append(v.Groups[i].Rows, row)
			return
		}
	}
	v.Groups = append(v.Groups, itemGroup{Title: title, Rows: []itemRow{row}})
}

func (s *Server) itemField(d draft, groups []form.Group, path, tag string) fieldView {
	for _, g := range groups {
		for _, f := range g.Fields {
			if f.Path == path {
				v := viewField(d.Project.ID, f, g.Title, nil)
				v.Label = tag + " " + strings.ToLower(f.Label)
				return v
			}
		}
	}
	return fieldView{}
}

// choices are the products of the class of the one chosen.
func (s *Server) choices(code string, job offer.Job, on pricing.Date) []option {
	p, ok := s.House.Catalogue.Find(code)
	if !ok {
		return []option{{Value: code, Label: code + ": not in the catalogue", Selected: true}}
	}
	var out []option
	for _, other := range s.House.Catalogue.ByClass(p.Class) {
		out = append(out, option{Value: other.Code, Label: s.productLabel(other, job, on), Selected: other.Code == code})
	}
	return out
}

func (s *Server) productLabel(p *catalog.Product, job offer.Job, on pricing.Date) string {
	label := p.Code + " · " + p.Name
	price, err := s.house(on).Book.Find(p.Code, on)
	if err != nil {
		return label + " · no price"
	}
	return label + " · " + price.List.Format(localeOf(job))
}

func (s *Server) shelves(job offer.Job, on pricing.Date) []shelf {
	var out []shelf
	for _, class := range catalog.Classes() {
		sh := shelf{Title: classWords[class]}
		for _, p := range s.House.Catalogue.ByClass(class) {
			sh.Products = append(sh.Products, option{Value: p.Code, Label: s.productLabel(p, job, on)})
		}
		if len(sh.Products) > 0 {
			out = append(out, sh)
		}
	}
	return out
}

// newItem adds a product under the next free tag of its class.
func (s *Server) newItem(job offer.Job, code string) (Edit, string, error) {
	p, err := s.House.Catalogue.Lookup(code)
	if err != nil {
		return Edit{}, "", &trouble{http.StatusUnprocessableEntity, "That product is not in the catalogue", err.Error()}
	}
	taken := map[string]bool{}
	for _, item := range job.Chosen.Items {
		taken[item.Tag] = true
	}
	n := 1
	for taken[fmt.Sprintf("%s%d", p.TagStem(), n)] {
		n++
	}
	tag := fmt.Sprintf("%s%d", p.TagStem(), n)
	return Edit{Op: strict.Add, Path: "equipment.items", Text: fmt.Sprintf("{tag: %s, product: %q}", tag, p.Code)}, "add " + tag + " " + p.Code, nil
}
