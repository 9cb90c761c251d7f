package main

import (
	"flag"
	"strings"

	"roundelay/pattern"
)

// A choiceOfPiece is what the flags --piece and --size say.
type choiceOfPiece struct{ piece, size string }

func choosePiece(flags *flag.FlagSet) *choiceOfPiece {
	var c choiceOfPiece
	flags.StringVar(&c.piece, "piece", "", "the `name` of the piece, where there are several")
	flags.StringVar(&c.size, "size", "", "the `name` of the size, where there are several")
	return &c
}

// sizes returns the sizes that are meant: all, if none was named.
func (c *choiceOfPiece) sizes(p *pattern.Pattern) ([]*pattern.Size, error) {
	if c.size == "" {
		return p.Sizes, nil
	}
	var names []string
	for _, s := range p.Sizes {
		if strings.EqualFold(s.Name, c.size) {
			return []*pattern.Size{s}, nil
		}
		if s.Name != "" {
			names = append(names, s.Name)
		}
	}
	if len(names) == 0 {
		return nil, usageError(p.Title + " has one size only, without a name")
	}
	return nil, usageError("there is no size " + c.size + didYouMean(c.size, names) + "; the sizes are " + listed(names, "and"))
}

// pieces returns the pieces of a size that are meant: all, if none was named.
func (c *choiceOfPiece) pieces(s *pattern.Size) ([]*pattern.Piece, error) {
	if c.piece == "" {
		return s.Pieces, nil
	}
	var names []string
	for _, piece := range s.Pieces {
		if strings.EqualFold(piece.Name, c.piece) || piece.Key == c.piece {
			return []*pattern.Piece{piece}, nil
		}
		names = append(names, piece.Name)
	}
	return nil, usageError("there is no piece " + c.piece + didYouMean(c.piece, names) + "; the pieces are " + listed(names, "and"))
}

// one returns the piece that is meant: the first in the first size, if none was
// named.
func (c *choiceOfPiece) one(p *pattern.Pattern) (*pattern.Piece, error) {
	sizes, err := c.sizes(p)
	if err != nil {
		return nil, err
	}
	pieces, err := c.pieces(sizes[0])
	if err != nil {
		return nil, err
	}
	return pieces[0], nil
}
