/** Markup of the margins sheet: the sentence, the ledger on one limit line, then the working of each row. */
export const marginsMarkup = `
#show: sheet.with(title: data.title, cells: data.cells)

#let colour(verdict) = if verdict == "falls-short" { short } else if verdict == "holds" { holds } else { mid }

#text(size: 20pt, weight: 600, data.customer)
#v(-4.5mm)
#text(size: 10.5pt, fill: mid, data.about)
#block(above: 4mm, below: 5mm, text(size: 13pt, {
  text(weight: 600, fill: colour(data.verdict), data.headline + if data.detail != "" { ": " } else { ". " })
  data.detail + " " + data.action
}))

#grid(
  columns: (auto, 1fr),
  align: (left + bottom, right + bottom),
  text(size: 11pt, weight: 600)[Margins, tightest first],
  label(size: 7.6pt, weight: 400)[bar: distance from the limit · whisker: spread · all limits stand on one line · a break, or no end mark: more than shown],
)
#v(-3mm)
#line(length: 100%, stroke: 0.5pt + ink)
#v(-4mm)

// The plot: limits on one vertical line 17 mm from its left; half of a limit is 38 mm.
#let row-height = 8.6mm
#let zero = 17mm
#let unit = 76mm
#let break-mark(x) = {
  place(dx: x - 2.2mm, dy: row-height / 2 - 2.4mm, polygon(fill: white, stroke: none, (0mm, 4.8mm), (1.6mm, 0mm), (2.6mm, 0mm), (1mm, 4.8mm)))
}
#let plot(bar, verdict) = box(width: 56mm, height: row-height, {
  if bar == none {
    place(dx: zero, dy: row-height / 2 - 1.2mm, rect(width: unit * 0.4, height: 2.4mm, fill: unknown, stroke: none))
  } else {
    let (left, right) = (calc.min(bar.share, 0), calc.max(bar.share, 0))
    place(dx: zero + left * unit, dy: row-height / 2 - 1.2mm, rect(width: (right - left) * unit, height: 2.4mm, fill: colour(verdict), stroke: none))
    if bar.cut { break-mark(zero + if bar.share > 0 { bar.share * unit } else { bar.share * unit + 4mm }) }
    if bar.low != none and bar.high != none {
      place(dx: zero + bar.low * unit, dy: row-height / 2, line(length: (bar.high - bar.low) * unit, stroke: 0.6pt + ink))
      // A spread that goes on past the picture has no end mark there.
      for x in (if bar.low-seen { bar.low }, if bar.high-seen { bar.high }).filter(x => x != none) { place(dx: zero + x * unit, dy: row-height / 2 - 1.4mm, line(length: 2.8mm, angle: 90deg, stroke: 0.6pt + ink)) }
    }
  }
  place(dx: zero, dy: 0mm, line(length: row-height, angle: 90deg, stroke: 1pt + ink))
})
#table(
  columns: (6mm, 1fr, 56mm, 25mm, 26mm),
  rows: (row-height,) * data.rows.len(),
  align: (right + horizon, left + horizon, left + horizon, right + horizon, left + horizon),
  inset: (x, y) => if x == 2 { 0mm } else { (x: 1.2mm, y: 0mm) },
  stroke: (x, y) => (bottom: 0.4pt + hair),
  ..data.rows.map(r => (
    figures(size: 7pt, fill: mid, r.number),
    { label(size: 8.8pt, fill: ink, r.title); linebreak(); label(size: 7pt, weight: 400, r.step) },
    plot(r.bar, r.verdict),
    if r.bar == none { label(size: 8.4pt, r.value) } else { figures(size: 8.4pt, weight: if r.verdict == "falls-short" { 600 } else { 400 }, fill: if r.verdict == "falls-short" { short } else { ink }, r.value) },
    figures(size: 8.4pt, fill: mid, r.limit),
  )).flatten(),
)
#for n in data.notices { block(above: 2mm, below: 1mm, n) }

#pagebreak(weak: true)
#text(size: 16pt, weight: 600)[Where the figures come from]
#v(-2mm)
#text(fill: mid)[In the order of the margins. Strength and hardness are estimates that set a process and size a sample: tests decide.]

#for r in data.rows {
  block(above: 6mm, below: 1.6mm, sticky: true, width: 100%, {
    grid(
      columns: (8mm, 1fr, auto),
      figures(size: 9pt, fill: mid, r.number),
      text(weight: 600, size: 11pt, r.title),
      text(weight: 600, fill: colour(r.verdict), r.words),
    )
    v(-2mm)
    line(length: 100%, stroke: 0.5pt + ink)
  })
  block(inset: (left: 8mm), {
    let fact(name, value) = if value != "" { block(above: 1.2mm, below: 1.2mm, grid(columns: (26mm, 1fr), label(name), value)) }
    fact("Asked for", { figures(size: 8.8pt, r.limit); [ by #r.askedBy] })
    fact("Step", r.step)
    if r.bar != none { fact("Expected", { figures(size: 8.8pt, r.value); if r.spread != "" [, spread #figures(size: 8.8pt, r.spread)] }) }
    fact("Not known", r.because)
    if r.verdict == "falls-short" { fact("What it means", r.consequence) }
    fact("Remedy", r.remedy)
    if r.inputs != none {
      fact("Computed by", r.inputs.title)
      if type(r.working) == str { fact("Method", r.working) } else if r.working.len() > 0 { block(above: 2mm, working(r.working)) }
      if r.inputs.rows.len() > 0 {
        block(above: 2mm, below: 1mm, {
          set text(size: 8pt)
          grid(
            columns: (1fr, auto, 1fr, auto),
            column-gutter: (2mm, 6mm, 2mm),
            row-gutter: 1.4mm,
            align: (left, right, left, right),
            ..r.inputs.rows.map(i => (label(size: 7.6pt, weight: 400, i.title), figures(size: 7.6pt, i.value))).flatten(),
          )
        })
      }
      for t in r.inputs.tables {
        block(above: 2mm, below: 1mm, {
          label(size: 7.6pt, t.title)
          v(-1.5mm)
          table(
            columns: t.head.len(),
            stroke: (x, y) => (bottom: if y == 0 { 0.5pt + ink } else { 0.4pt + hair }),
            inset: (x: 0.9mm, y: 0.9mm),
            align: (x, y) => if x == 0 { left + bottom } else { right + bottom },
            table.header(..t.head.map(h => label(size: 6.8pt, h))),
            ..t.rows.flatten().map(c => text(size: 7.4pt, c)),
          )
        })
      }
      if r.shares.len() > 0 { fact("Spread made by", r.shares.map(s => s.name + " " + s.share).join(" · ")) }
      for n in r.notices { fact("Note", n) }
      if r.sources.len() > 0 { source-list(r.sources) }
    }
  })
}
`
