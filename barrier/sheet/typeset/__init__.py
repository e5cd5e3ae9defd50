"""How an equation is set: on one line, in two dimensions, as MathML, LaTeX or Typst; the boxes are laid out once."""
