/** Markup of the traveller: head with scannable code, route with boxes to sign, cautions. */
export const travellerMarkup = `
#show: sheet.with(title: data.title, cells: data.cells)

#grid(
  columns: (1fr, 30mm),
  column-gutter: 6mm,
  {
    label(size: 9pt)[Traveller, lot]
    v(-2mm)
    figures(size: 25pt, weight: 600, data.lot)
    v(-3.5mm)
    text(size: 14pt, weight: 600, data.customer)
    v(-1mm)
    grid(
      columns: (auto, 1fr, auto, 1fr),
      column-gutter: (3mm, 6mm, 3mm),
      row-gutter: 2mm,
      ..data.facts.map(f => (label(f.name), if f.figure { figures(f.value) } else { f.value })).flatten(),
    )
  },
  align(right, {
    image(bytes(data.code), format: "svg", width: 30mm, alt: "Scannable code: " + data.lot)
    v(-2mm)
    label(size: 7pt)[says the lot only]
  }),
)

#let done-columns = (22mm, 22mm, 38mm)
#v(1mm)
#table(
  columns: (7mm, 21mm, 1fr, 16mm, 19mm, ..done-columns),
  align: (right + horizon, center + horizon, left + horizon, right + horizon, right + horizon, left, left, left),
  stroke: (x, y) => (
    bottom: if y == 0 { 0.6pt + ink } else { 0.4pt + hair },
    left: if x >= 5 { 0.4pt + hair },
    right: if x == 7 { 0.4pt + hair },
  ),
  inset: (x: 1mm, y: 0.7mm),
  table.header(..([], [], [Step, work centre], [Loads], [Time], [Done by], [Date], [Measured]).map(h => label(h))),
  ..data.steps.map(s => (
    ..if s.final != "" {
      (table.cell(colspan: 8, stroke: (bottom: 1.6pt + ink), inset: (x: 1mm, y: 1.2mm), align: left, text(weight: 600, size: 9.5pt, [STOP. #s.final])),)
    },
    figures(size: 9pt, s.number),
    if s.picture != "" { image(bytes(s.picture), format: "svg", height: 12.2mm, alt: s.title) },
    {
      text(weight: 600, s.title)
      h(2mm)
      label(s.workCentre)
      if s.cautions.len() > 0 { linebreak(); text(size: 7.6pt, weight: 500, "! " + s.cautions.join(" · ")) }
    },
    figures(size: 8.5pt, s.loads),
    if s.minutes == "not known yet" { label(size: 7.5pt, s.minutes) } else { figures(size: 8.5pt, s.minutes) },
    [], [],
    label(size: 6.6pt, weight: 400, s.record.join(" · ")),
  )).flatten(),
)
// The sample is what the lot is judged by: it stays with the last step of the route or with the cautions, never on a page alone.
#block(breakable: false, {
  if data.sampling != "" { block(above: 3mm, below: 2mm, [#text(weight: 600)[Release.] #data.sampling]) }
  caution-list(data.cautions)
})
`
