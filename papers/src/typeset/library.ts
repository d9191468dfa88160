/**
 * What all sheets share: page, frame, title block, type, tables, cautions, formulas. Markup of the typesetter.
 * `data` is what the sheet is about; `formulas` says whether mathematics is set or printed as TeX.
 */
export const library = `
#let data = json(bytes(sys.inputs.data))
#let set-formulas = sys.inputs.formulas == "set"

#let ink = rgb("#14181b")
#let mid = rgb("#4a5156")
#let hair = rgb("#b4b8b6")
#let holds = rgb("#35648c")
#let short = rgb("#c2441b")
#let unknown = tiling(size: (4pt, 4pt), line(start: (0pt, 4pt), end: (4pt, 0pt), stroke: 0.5pt + rgb("#7c848a")))

#let figures(size: 9pt, weight: 400, fill: ink, it) = text(font: "IBM Plex Mono", size: size, weight: weight, fill: fill, it)
#let label(size: 8pt, fill: mid, weight: 500, it) = text(font: "Barlow", stretch: 87.5%, size: size, weight: weight, fill: fill, it)
#let heading-line(it) = block(above: 5.5mm, below: 1.8mm, sticky: true, width: 100%, {
  text(weight: 600, size: 11pt, it)
  v(-2.2mm)
  line(length: 100%, stroke: 0.5pt + ink)
})

// The frame of a drawing sheet, with its title block in the lower right corner.
#let title-block(cells) = box(fill: white, stroke: 0.7pt + ink, grid(
  columns: cells.len() + 1,
  stroke: (x, y) => if x > 0 { (left: 0.4pt + hair) },
  inset: (x: 2.4mm, y: 1.9mm),
  ..cells.map(cell => figures(size: 7.2pt, cell)),
  figures(size: 7.2pt, context [page #counter(page).display() / #counter(page).final().first()]),
))

#let sheet(title: "", cells: (), landscape: false, paper: "a4", every-page: none, body) = {
  set document(title: title, date: none)
  set page(
    paper: paper,
    flipped: landscape,
    margin: (x: 15mm, top: if every-page == none { 14mm } else { 24mm }, bottom: 22mm),
    background: place(top + left, dx: 7mm, dy: 7mm, rect(width: 100% - 14mm, height: 100% - 14mm, stroke: 0.7pt + ink)),
    foreground: context {
      place(bottom + right, dx: -7mm, dy: -7mm, title-block(cells))
      if every-page != none { place(top + left, dx: 15mm, dy: 11mm, box(width: 100% - 30mm, every-page)) }
    },
  )
  set text(font: "Barlow", size: 9.5pt, fill: ink, lang: "en", hyphenate: false, fallback: true)
  set par(leading: 0.55em)
  show math.equation: set text(size: 10pt)
  body
}

// A number split at its point, so that a column aligns on it.
#let split-number(n) = (
  align(right, figures(n.whole)),
  align(left, figures(n.rest)),
)

#let formula(f, size: 10pt) = if f.math != none and set-formulas {
  show math.equation: set text(size: size)
  let made = eval(f.math, mode: "math")
  // In a line, so that a long formula breaks; at full size, so that its fractions are read.
  math.equation(math.display(if made.func() == math.equation { made.body } else { made }))
} else { figures(size: 8pt, f.tex) }

#let working(steps) = for step in steps {
  block(breakable: false, below: 3mm, above: 3mm, {
    block(below: 2.4mm, label(step.finds))
    // The typesetter lets formulas reach into the leading: next to none, so that fractions keep clear of the next line.
    set par(leading: 0.15em)
    block(inset: (left: 4mm), above: 0mm, below: 3mm, formula(step.formula))
    block(inset: (left: 4mm), above: 0mm, below: 1mm, formula(step.filled))
  })
}

// Cautions stand in a heavy frame of their own: no other thing on a sheet looks like them.
#let caution-list(cautions) = if cautions.len() > 0 {
  block(width: 100%, stroke: 1.6pt + ink, breakable: false, above: 3mm, below: 3mm, {
    block(width: 100%, fill: ink, inset: (x: 3mm, y: 1.3mm), below: 0pt, text(fill: white, weight: 600, size: 10.5pt)[Caution])
    grid(
      columns: (46mm, 1fr),
      inset: (x: 3mm, y: 1.7mm),
      stroke: (x, y) => if y > 0 { (top: 0.4pt + hair) },
      ..cautions.map(c => (text(weight: 600, c.title), c.text)).flatten(),
    )
  })
}

#let rows-table(columns: (), head: (), aligns: (), cells) = table(
  columns: columns,
  align: aligns,
  stroke: (x, y) => (bottom: if y == 0 { 0.6pt + ink } else { 0.4pt + hair }),
  inset: (x: 1.2mm, y: 1.5mm),
  table.header(..head.map(h => label(h))),
  ..cells,
)

#let blank-box(width: 30mm) = box(width: width, height: 6mm, stroke: 0.5pt + mid)

#let source-list(sources) = if sources.len() > 0 {
  set text(size: 8pt, fill: mid)
  for s in sources {
    block(above: 1.2mm, below: 1.2mm, { s.citation; if s.place != "" { ", " + s.place }; ". "; text(weight: 600, s.status); "." })
  }
}
`
