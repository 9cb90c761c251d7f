package prose_test

import (
	"fmt"
	"html/template"

	"roundelay/pattern/prose"
	"roundelay/pattern/source"
)

func ExampleParse() {
	d := prose.Parse(source.NewFile("prose.md", "# The buoy\n\nSee round 7.\n\n```rounds piece=Ball from=2 to=6\nThe lower half.\n```\n"))
	html, err := d.HTML(2, func(d *prose.Directive) template.HTML {
		return template.HTML(fmt.Sprintf("<ol><!-- %s %d to %d of %s --></ol>\n", d.Kind, d.From, d.To, template.HTMLEscapeString(d.Piece)))
	})
	if err != nil {
		fmt.Println(err)
	}
	fmt.Print(html)
	for _, c := range prose.Claims(d.Words()) {
		fmt.Println("round", c.From, "at", d.File.Pos(c.At.From).Line)
	}
	// Output:
	// <h2 id="prose-the-buoy">The buoy</h2>
	// <p>See round 7.</p>
	// <ol><!-- rounds 2 to 6 of Ball --></ol>
	// round 7 at 3
}
