package prose

import (
	"bytes"
	"fmt"
	"html/template"
	"net/url"
	"path"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"roundelay/pattern/source"
)

// A markdown is the tree of a document.
type markdown struct {
	source []byte
	root   ast.Node
	top    int // the level of its topmost headings; 0 if it has none
}

// idPrefix comes before the name of each heading, so that none is the same as
// a name on the page that the text is put in.
const idPrefix = "prose-"

// parse reads text, the text of d.File, into d.
func (d *Document) parse(src string) {
	d.markdown.source = []byte(src)
	md := goldmark.New(
		goldmark.WithExtensions(extension.Table),
		goldmark.WithParserOptions(parser.WithAutoHeadingID()))
	d.markdown.root = md.Parser().Parse(text.NewReader(d.markdown.source),
		parser.WithContext(parser.NewContext(parser.WithIDs(&headingIDs{used: map[string]bool{}}))))
	d.readWords()
	d.readNodes()
}

// headingIDs gives each heading a name of its own.
type headingIDs struct{ used map[string]bool }

// Generate makes the name of a heading from its words.
func (ids *headingIDs) Generate(words []byte, _ ast.NodeKind) []byte {
	var b strings.Builder
	b.WriteString(idPrefix)
	for _, field := range strings.FieldsFunc(strings.ToLower(string(words)), func(r rune) bool {
		return !('a' <= r && r <= 'z' || '0' <= r && r <= '9')
	}) {
		if b.Len() > len(idPrefix) {
			b.WriteByte('-')
		}
		b.WriteString(field)
	}
	name := strings.TrimSuffix(b.String(), "-")
	for id, n := name, 2; ; n++ {
		if !ids.used[id] {
			ids.used[id] = true
			return []byte(id)
		}
		id = fmt.Sprintf("%s-%d", name, n)
	}
}

// Put marks a name as used.
func (ids *headingIDs) Put(name []byte) { ids.used[string(name)] = true }

// readWords sets d.words.
func (d *Document) readWords() {
	words := bytes.Repeat([]byte{' '}, len(d.File.Text))
	_ = ast.Walk(d.markdown.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		if t, ok := n.(*ast.Text); ok {
			copy(words[t.Segment.Start:t.Segment.Stop], d.markdown.source[t.Segment.Start:t.Segment.Stop])
		} else if n.Type() == ast.TypeBlock && n.Lines().Len() > 0 {
			if before := n.Lines().At(0).Start - 1; before >= 0 {
				words[before] = '\n'
			}
		}
		return ast.WalkContinue, nil
	})
	d.words = string(words)
}

// readNodes finds the directives, headings and images, and replaces what must
// not be shown. Nodes are replaced only after the walk, which replacing ends.
func (d *Document) readNodes() {
	var fences []*ast.FencedCodeBlock
	var images []*ast.Image
	_ = ast.Walk(d.markdown.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.FencedCodeBlock:
			if n.Info != nil {
				fences = append(fences, n)
			}
		case *ast.Heading:
			d.addHeading(n)
			if top := d.markdown.top; top == 0 || n.Level < top {
				d.markdown.top = n.Level
			}
		case *ast.Paragraph:
			if bold, ok := n.FirstChild().(*ast.Emphasis); ok && bold.Level == 2 {
				d.addHeading(bold)
			}
		case *ast.Image:
			images = append(images, n)
		}
		return ast.WalkContinue, nil
	})
	for _, n := range fences {
		d.readFence(n)
	}
	for _, n := range images {
		d.readImage(n)
	}
}

func (d *Document) addHeading(n ast.Node) {
	at := textSpan(n)
	if !at.IsValid() {
		return
	}
	d.headings = append(d.headings, heading{at, strings.Join(strings.Fields(d.words[at.From:at.To]), " ")})
}

// textSpan returns the span of the text below n; the zero Span if it has none.
func textSpan(n ast.Node) source.Span {
	var at source.Span
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := n.(*ast.Text); ok && entering {
			at = at.Join(source.Span{From: t.Segment.Start, To: t.Segment.Stop})
		}
		return ast.WalkContinue, nil
	})
	return at
}

// readFence puts a placeholder in the place of a block that is a directive.
func (d *Document) readFence(n *ast.FencedCodeBlock) {
	info := n.Info.Segment
	at := source.Span{From: info.Start, To: info.Stop}
	var caption []string
	end := info.Stop
	for i := range n.Lines().Len() {
		line := n.Lines().At(i)
		caption = append(caption, strings.Fields(string(line.Value(d.markdown.source)))...)
		end = line.Stop
	}
	dir := d.directive(string(info.Value(d.markdown.source)), at, strings.Join(caption, " "))
	if dir == nil {
		return
	}
	d.Directives = append(d.Directives, dir)
	d.blocks = append(d.blocks, source.Span{From: at.From, To: end})
	n.Parent().ReplaceChild(n.Parent(), n, &placeholder{directive: dir})
}

// readImage notes an image that lies in the folder of the document, and leaves
// only the words of any other.
func (d *Document) readImage(n *ast.Image) {
	at := textSpan(n)
	words := strings.Join(strings.Fields(d.words[at.From:at.To]), " ")
	if !at.IsValid() {
		at = d.placeOf(n)
	}
	file, message := localFile(string(n.Destination))
	if message == "" {
		d.Images = append(d.Images, Image{at, file, words})
		return
	}
	d.report(at, message, "put the picture into the folder of the pattern and name it from there, as in photos/front.jpg")
	left := ast.NewString([]byte(words))
	n.Parent().ReplaceChild(n.Parent(), n, left)
}

// placeOf returns the first line of the block that holds n.
func (d *Document) placeOf(n ast.Node) source.Span {
	for n != nil && n.Type() != ast.TypeBlock {
		n = n.Parent()
	}
	if n == nil || n.Lines() == nil || n.Lines().Len() == 0 {
		return source.Span{}
	}
	line := n.Lines().At(0)
	return source.Span{From: line.Start, To: line.Stop}
}

// localFile returns the file that an address names, or what is wrong with it.
func localFile(address string) (file, message string) {
	u, err := url.Parse(address)
	switch {
	case err != nil || address == "":
		return "", "the address of the picture cannot be read"
	case u.Scheme != "" || u.Host != "":
		return "", "the picture lies elsewhere, and a page must need no network"
	case u.RawQuery != "" || u.Fragment != "":
		return "", "the address of the picture has a ? or #"
	}
	file = path.Clean(u.Path)
	if path.IsAbs(file) || file == ".." || strings.HasPrefix(file, "../") || strings.Contains(file, `\`) {
		return "", "the picture lies outside the folder of the pattern"
	}
	return file, ""
}

// A placeholder is a directive in the tree.
type placeholder struct {
	ast.BaseBlock
	directive *Directive
}

var placeholderKind = ast.NewNodeKind("Directive")

func (*placeholder) Kind() ast.NodeKind { return placeholderKind }

func (p *placeholder) Dump(source []byte, level int) { ast.DumpHelper(p, source, level, nil, nil) }

// HTML returns the document as HTML. Its topmost headings are of the level top,
// 1 to 6; put returns what is put in the place of each directive.
func (d *Document) HTML(top int, put func(*Directive) template.HTML) (template.HTML, error) {
	r := renderer.NewRenderer(renderer.WithNodeRenderers(
		util.Prioritized(&nodes{down: top - d.markdown.top, put: put}, 100),
		util.Prioritized(extension.NewTableHTMLRenderer(), 500),
		util.Prioritized(html.NewRenderer(), 1000)))
	var b bytes.Buffer
	if err := r.Render(&b, d.markdown.source, d.markdown.root); err != nil {
		return "", fmt.Errorf("write %s as HTML: %w", d.File.Name, err)
	}
	return template.HTML(b.String()), nil
}

// nodes writes the nodes that goldmark does not write as a page needs them.
type nodes struct {
	down int // how much lower the headings go
	put  func(*Directive) template.HTML
}

func (r *nodes) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(placeholderKind, r.placeholder)
	reg.Register(ast.KindHeading, r.heading)
}

func (r *nodes) placeholder(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	_, err := w.WriteString(string(r.put(n.(*placeholder).directive)))
	return ast.WalkSkipChildren, err
}

func (r *nodes) heading(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	level := min(6, n.(*ast.Heading).Level+r.down)
	if !entering {
		_, err := fmt.Fprintf(w, "</h%d>\n", level)
		return ast.WalkContinue, err
	}
	id, _ := n.AttributeString("id")
	name, _ := id.([]byte)
	_, err := fmt.Fprintf(w, `<h%d id="%s">`, level, template.HTMLEscaper(string(name)))
	return ast.WalkContinue, err
}
