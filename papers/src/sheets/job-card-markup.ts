/** Markup of a job card: what to do, cautions, drawing, settings, sizes, gauges, boxes to fill in, working. */
export const jobCardMarkup = `
#show: sheet.with(title: data.title, cells: data.cells)

#grid(
  columns: (1fr, auto),
  {
    text(size: 24pt, weight: 600, data.step)
    v(-5.5mm)
    text(size: 11pt, data.design)
  },
  align(right, {
    figures(size: 15pt, weight: 600, data.number)
    v(-3.2mm)
    text(size: 11pt, weight: 500, data.workCentre)
  }),
)
#block(above: 4mm, below: 2mm, text(size: 13pt, weight: 500, data.instruction))
#block(above: 2mm, below: 3mm, text(fill: mid, data.time))
#caution-list(data.cautions)
#image(bytes(data.drawing), format: "svg", width: 100%, alt: data.step)

#if data.settings.len() > 0 {
  heading-line[Set]
  table(
    columns: (auto, 22mm, 16mm, 16mm, 1fr),
    align: (left + horizon, right + horizon, left + horizon, left + horizon, left + horizon),
    stroke: (x, y) => (bottom: 0.4pt + hair),
    inset: (x, y) => (left: if x == 2 { 0mm } else { 1.2mm }, right: if x == 1 { 0mm } else { 1.2mm }, y: 1.5mm),
    ..data.settings.map(s => (
      text(weight: 500, s.title),
      ..if s.kind == "unknown" {
        (table.cell(colspan: 3, fill: unknown, align: center, box(fill: white, inset: 0.8mm, label[not known yet])),)
      } else if s.kind == "words" {
        (table.cell(colspan: if s.because == "" { 4 } else { 3 }, align: left + horizon, inset: (left: 8mm, right: 1.2mm, y: 1.5mm), text(size: 10.5pt, weight: 500, s.words + if s.unit != "" { " " + s.unit })),)
      } else {
        (figures(size: 11pt, weight: 600, s.number.whole), figures(size: 11pt, weight: 600, s.number.rest), text(s.unit))
      },
      ..if s.kind != "words" or s.because != "" { (label(weight: 400, s.because),) },
    )).flatten(),
  )
}

#if data.line.line != "" {
  block(breakable: false, {
    heading-line[The line]
    image(bytes(data.line.line), format: "svg", width: 100%, alt: "The line from the side")
    block(above: 1mm, text(fill: mid, data.line.words))
  })
}
#if data.line.path != "" {
  block(breakable: false, {
    heading-line[The carrier over one cycle]
    block(above: 1mm, below: 2mm, label(weight: 400)[Stations across as on the drawing above, time down. Heavy line: the carrier with a rack. Band under a station: the window in which the soak may end; dot: where it ends.])
    image(bytes(data.line.path), format: "svg", width: 100%, alt: data.line.words)
  })
  rows-table(
    columns: if data.line.severalCarriers { (16mm, 16mm, 1fr, 1fr, 20mm, 42mm) } else { (16mm, 1fr, 1fr, 20mm, 42mm) },
    head: ([at min:s], ..if data.line.severalCarriers { ([carrier],) }, [out of], [into], [soak min:s], [soak may be]),
    aligns: (right, ..if data.line.severalCarriers { (center,) }, left, left, right, right),
    data.line.moves.map(m => (
      figures(size: 10pt, weight: 600, m.at), ..if data.line.severalCarriers { (figures(size: 10pt, m.carrier),) }, text(weight: 500, m.from), m.to, figures(size: 10pt, m.soak), text(m.window),
    )).flatten(),
  )
}

#if data.sizes.len() > 0 {
  heading-line[Sizes, mm]
  rows-table(
    columns: (1fr, 44mm, 44mm, 1fr),
    head: ([], [before plating], [finished], []),
    aligns: (left, right, right, left),
    data.sizes.map(s => (
      text(weight: 500, s.feature),
      if s.before == "" { label[not plated] } else { figures(size: 10pt, weight: 600, s.before) },
      figures(size: 10pt, s.finished),
      label(weight: 400, s.because),
    )).flatten(),
  )
}

#if data.gauges.len() > 0 {
  heading-line[Gauges, mm]
  rows-table(
    columns: (1fr, 24mm, 28mm, 28mm, 34mm),
    head: ([], [kind], [go], [no-go], [use it]),
    aligns: (left, left, right, right, left),
    data.gauges.map(g => (
      text(weight: 500, g.feature), g.kind, figures(size: 10pt, weight: 600, g.go), figures(size: 10pt, weight: 600, g.noGo), g.stage,
    )).flatten(),
  )
}

#if data.record.len() > 0 {
  block(breakable: false, {
    heading-line[Write down]
    grid(
      columns: (1fr, 40mm, 26mm, 26mm),
      column-gutter: 2mm,
      row-gutter: 1.6mm,
      align: (left + horizon, left, left, left),
      [], label[measured], label[by], label[date, time],
      ..data.record.map(r => (text(weight: 500, r), blank-box(width: 40mm), blank-box(width: 26mm), blank-box(width: 26mm))).flatten(),
    )
  })
}

#if data.workings.len() > 0 {
  heading-line[Where the figures come from]
  for w in data.workings {
    block(above: 3.2mm, below: 1.6mm, sticky: true, text(weight: 600, w.titles.join(", ")))
    if type(w.working) == str { block(above: 1mm, w.working) } else { working(w.working) }
    for n in w.notices { block(above: 1mm, below: 1mm, label(weight: 400, n)) }
  }
  if data.sources.len() > 0 {
    block(above: 4mm, below: 1mm, sticky: true, label[Sources])
    source-list(data.sources)
  }
}
`
