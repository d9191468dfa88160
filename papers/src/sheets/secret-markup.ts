/** What sheets with cuts share: the caution for the head of every page, figures in columns, a box to tick. */
export const secretShared = `
#let warning = box(width: 100%, stroke: 1.6pt + ink, {
  box(fill: ink, inset: (x: 2.5mm, y: 1.6mm), text(fill: white, weight: 600, size: 9.5pt, data.caution.title))
  box(inset: (x: 2.5mm, y: 1.6mm), text(size: 8.2pt, data.caution.text))
})
// Spaces count: figures stand in columns by their equal width.
#let columns-of(size, fill: ink, weight: 600, it) = text(font: "IBM Plex Mono", size: size, weight: weight, fill: fill, it.replace(" ", "\u{a0}"))
#let tick = box(width: 4.6mm, height: 4.6mm, stroke: 0.6pt + ink)
#let striped = (x, y) => (bottom: if y == 0 { 0.6pt + ink } else { 0.4pt + hair })
`

const secretSized = `${secretShared}
// As large as the line of discs allows, and never larger than reads well.
#let figure-size = calc.min(13pt, 92mm / (0.6 * data.discs.len()))
// Widths, and heights where every name is short, are given: a table of hundreds of rows that measures its cells takes twice as long.
#let discs-width = 0.6 * data.discs.len() * figure-size + 2mm
`

/** Markup of the key cutter's sheet. The caution stands on every page. */
export const keySheetMarkup = `${secretSized}
#show: sheet.with(title: data.title, cells: data.cells, every-page: warning)
#label(size: 9pt)[Key cutter, lot]
#v(-2.5mm)
#figures(size: 20pt, weight: 600, data.lot)
#v(-3mm)
#data.total
#v(1mm)
#table(
  columns: (1fr, 26mm, discs-width, 14mm, 12mm),
  rows: if data.short { 7.6mm } else { auto },
  align: (x, y) => if x < 2 { left + horizon } else { center + horizon },
  stroke: striped,
  inset: (x: 1mm, y: 1.6mm),
  table.header(label[Key], label[Blind code], columns-of(figure-size, weight: 400, fill: mid, data.discs), label[Copies], label[Cut]),
  ..data.keys.map(k => (
    { text(weight: 600, k.name); if k.master { h(1.5mm); label[master] } },
    figures(size: 9pt, k.blindCode),
    columns-of(figure-size, k.cuts),
    figures(size: 10pt, k.copies),
    tick,
  )).flatten(),
)
`

/** Markup of the lock builder's sheet. The caution stands on every page. */
export const stackSheetMarkup = `${secretSized}
#show: sheet.with(title: data.title, cells: data.cells, every-page: warning)
#label(size: 9pt)[Lock builder, lot]
#v(-2.5mm)
#figures(size: 20pt, weight: 600, data.lot)
#v(-2mm)
#block(text(weight: 600, data.sealing))
#v(1mm)
#table(
  columns: (1fr, 25mm, discs-width, 9mm, 9mm, 10mm),
  rows: if data.short { (9mm,) + (7.4mm, 5.2mm) * data.locks.len() } else { auto },
  align: (x, y) => if x < 2 { left + horizon } else { center + horizon },
  stroke: (x, y) => if y == 0 { (bottom: 0.6pt + ink) },
  inset: (x: 0.6mm, y: 1.3mm),
  table.header(label[Lock], label[Blind code], columns-of(figure-size, weight: 400, fill: mid, data.discs), label[Built], label[Own key], label[Others]),
  ..data.locks.map(k => (
    text(weight: 600, size: 9pt, k.name),
    figures(size: 8pt, k.blindCode),
    columns-of(figure-size, k.gates),
    tick, tick, tick,
    table.cell(colspan: 6, align: left, stroke: (bottom: 0.4pt + hair), inset: (x: 0.6mm, top: 0mm, bottom: 1.4mm), {
      set text(size: 8pt)
      label(size: 7.6pt)[own: ]
      k.openedBy
      if k.tryKeys != "" { h(4mm); label(size: 7.6pt)[must not open, try before sealing: ]; text(weight: 600, k.tryKeys) }
    }),
  )).flatten(),
)
`
