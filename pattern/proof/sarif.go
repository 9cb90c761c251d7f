package proof

import (
	"io"
	"net/url"
	"path/filepath"

	"roundelay/pattern/source"
)

// The parts of a SARIF log that a report needs. Source: OASIS, Static Analysis
// Results Interchange Format (SARIF) Version 2.1.0, sections 3.13 to 3.30.
type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool       sarifTool     `json:"tool"`
		ColumnKind string        `json:"columnKind"`
		Results    []sarifResult `json:"results"`
	}
	sarifTool struct {
		Driver sarifDriver `json:"driver"`
	}
	sarifDriver struct {
		Name  string      `json:"name"`
		Rules []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID    string       `json:"id"`
		Short sarifMessage `json:"shortDescription"`
		Full  sarifMessage `json:"fullDescription"`
	}
	sarifMessage struct {
		Text string `json:"text"`
	}
	sarifResult struct {
		RuleID       string             `json:"ruleId"`
		Level        source.Severity    `json:"level"` // SARIF has the same three words
		Message      sarifMessage       `json:"message"`
		Locations    []sarifLocation    `json:"locations"`
		Suppressions []sarifSuppression `json:"suppressions,omitempty"`
	}
	sarifLocation struct {
		Physical sarifPhysical `json:"physicalLocation"`
	}
	sarifPhysical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
		Region   *sarifRegion  `json:"region,omitempty"`
	}
	sarifArtifact struct {
		URI string `json:"uri"`
	}
	sarifRegion struct {
		StartLine   int `json:"startLine"`
		StartColumn int `json:"startColumn"`
	}
	sarifSuppression struct {
		Kind          string `json:"kind"`
		Justification string `json:"justification"`
	}
)

// WriteSARIF writes the findings as a SARIF 2.1.0 log, which editors and code
// hosts show in place. What the maker allowed is in it as suppressed.
func (r *Report) WriteSARIF(w io.Writer) error {
	run := sarifRun{
		Tool:       sarifTool{sarifDriver{Name: "Roundelay", Rules: []sarifRule{}}},
		ColumnKind: "unicodeCodePoints",
		Results:    []sarifResult{},
	}
	for _, c := range Checklist {
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRule{c.Code, sarifMessage{c.Title()}, sarifMessage{c.Doc}})
	}
	for _, f := range r.Findings {
		run.Results = append(run.Results, result(f))
	}
	for _, a := range r.Allowed {
		res := result(a.Finding)
		res.Suppressions = []sarifSuppression{{"inSource", a.Reason}}
		run.Results = append(run.Results, res)
	}
	return writeJSON(w, sarifLog{
		Schema:  "https://json.schemastore.org/sarif-2.1.0.json",
		Version: "2.1.0",
		Runs:    []sarifRun{run},
	})
}

// result returns a finding as SARIF has it.
func result(f source.Finding) sarifResult {
	p := f.Pos()
	where := sarifPhysical{Artifact: sarifArtifact{(&url.URL{Path: filepath.ToSlash(p.File)}).String()}}
	if p.IsValid() {
		where.Region = &sarifRegion{p.Line, p.Column}
	}
	message := f.Message
	if f.Hint != "" {
		message += "; " + f.Hint
	}
	return sarifResult{RuleID: f.Code, Level: f.Severity, Message: sarifMessage{message}, Locations: []sarifLocation{{where}}}
}
